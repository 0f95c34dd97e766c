//! Section values and the screen of loads, as they stand on the check sheet.

use crate::draw::{Block, column, figures, sentences};
use crate::kit::Kit;
use crate::section::{ADVICE, Figure, PartSection, Screen, Strength};

/// The tables of sections and screens; none where no part has a section.
pub(super) fn blocks(kit: &Kit, strength: &Strength) -> Vec<Block> {
    let mut blocks = Vec::new();
    let bars: Vec<&PartSection> = strength.sections.iter().filter(|s| s.is_bar()).collect();
    if !bars.is_empty() {
        blocks.push(sections(kit, &bars));
    }
    if !strength.screens.is_empty() {
        blocks.push(screens(&strength.screens));
        blocks.push(Block::Prose("Basis of the load screen", basis(&strength.screens)));
    }
    blocks
}

/// Gross sections: areas in mm2, second moments in cm4, torsion in mm4, warping in cm6.
fn sections(kit: &Kit, bars: &[&PartSection]) -> Block {
    let columns = vec![
        column("Part", 34.0),
        column("Title", 60.0),
        figures("A mm²", 24.0),
        figures("Ix cm⁴", 26.0),
        figures("Iy cm⁴", 26.0),
        figures("Ixy cm⁴", 26.0),
        figures("I1 cm⁴", 26.0),
        figures("I2 cm⁴", 26.0),
        figures("Axis 1", 20.0),
        figures("It mm⁴", 26.0),
        figures("Iw cm⁶", 28.0),
    ];
    let row = |section: &&PartSection| {
        let values = &section.values;
        // Adding 0 makes a plain zero of a negative one.
        let quartic = |mm4: f64| format!("{:.3}", (mm4 / 10.0).round() / 1e3 + 0.0);
        vec![
            section.part.clone(),
            kit.parts[section.index].title.clone(),
            format!("{:.1}", values.area),
            quartic(values.ix),
            quartic(values.iy),
            quartic(values.ixy),
            quartic(values.principal[0]),
            quartic(values.principal[1]),
            format!("{:.1}°", values.angle),
            format!("{:.0}", section.thin.torsion),
            format!("{:.1}", section.thin.warping / 1e6),
        ]
    };
    let title = "Sections, gross, true corners; x along the root face, y out of it; open section";
    Block::Table(title, columns, bars.iter().map(row).collect())
}

/// What was worked out for every screen and load, step by step.
fn screens(screens: &[Screen]) -> Block {
    let columns = vec![
        sentences("Screen", 88.0),
        sentences("Load", 70.0),
        sentences("Figure", 70.0),
        figures("Value", 34.0),
        column("Unit", 18.0),
        sentences("Basis", 110.0),
    ];
    let rows = screens.iter().flat_map(|screen| {
        let name = format!("{} ({})", screen.name, screen.part);
        let own = screen.figures.iter().map(|figure| (String::new(), figure.clone()));
        let loads = screen.loads.iter().flat_map(|load| {
            let share = Figure {
                key: "share",
                label: "taken up",
                value: 100.0 * load.share,
                unit: "%",
                basis: screen.share_of(),
            };
            let all = load.figures.iter().cloned().chain([share]);
            all.map(|figure| (load.name.clone(), figure)).collect::<Vec<_>>()
        });
        let mut before = [String::new(), String::new()];
        let rows: Vec<Vec<String>> = own
            .chain(loads)
            .map(|(load, figure)| row(&name, &load, &figure, &mut before))
            .collect();
        rows
    });
    Block::Table("Load screen", columns, rows.collect())
}

/// A figure's row; names that stand in the row before are left out.
fn row(name: &str, load: &str, figure: &Figure, before: &mut [String; 2]) -> Vec<String> {
    let now = [name.to_string(), load.to_string()];
    let told = |i: usize| if now[i] == before[i] { String::new() } else { now[i].clone() };
    let cells = vec![
        told(0),
        told(1),
        figure.label.to_string(),
        rounded(figure.value),
        figure.unit.to_string(),
        figure.basis.to_string(),
    ];
    *before = now;
    cells
}

/// Four figures, which is more than any of these values is sure of.
fn rounded(value: f64) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let decimals = [1e3, 1e2, 1e1, 1.0].iter().filter(|limit| value.abs() < **limit).count();
    format!("{value:.decimals$}")
}

fn basis(screens: &[Screen]) -> Vec<String> {
    let mut sentences = vec![ADVICE.to_string()];
    let named = screens.iter().flat_map(|screen| {
        let rule = format!("{}: {}; {}.", screen.name, screen.rule, screen.material);
        let loads = screen.loads.iter().map(|load| format!("{}: {}.", load.name, load.basis));
        let outside = screen.outside.iter().map(|wide| format!("{}: {wide}.", screen.name));
        let said = [rule].into_iter().chain(loads).chain(outside);
        said.chain(screen.basis.iter().cloned()).collect::<Vec<_>>()
    });
    for sentence in named {
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    sentences
}
