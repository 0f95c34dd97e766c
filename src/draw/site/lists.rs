//! The tables and texts of the site's papers.

use super::super::block::{Block, column, figures as figure_column, sentences};
use super::super::figure::{Figures, fixed};
use super::super::shop_drawing::INCHES;
use super::Scene;
use super::fill::List;
use crate::kit::{Foam, Kit, Measure, Meeting, Neighbour};
use crate::site::{
    Amount, BASES, CARTRIDGE_ML, Cut, FOAM_MORE, Foaming, From, Near, PERSON_KG, PREPARE, Setting,
    Tab, Tool,
};
use crate::units::{in_kilograms, mass, number};

/// A US fluid ounce in litres, and a foot in metres.
const FLUID_OUNCE: f64 = 0.029_573_529_562_5;
const FOOT: f64 = 0.3048;

/// All lists; cautions and order of work have places of their own.
pub(super) fn lists(scene: &Scene) -> Vec<List> {
    let Scene { kit, site, figures, .. } = *scene;
    let whole = |block| List { block, splits: false };
    let long = |block| List { block, splits: true };
    let mut lists = Vec::new();
    if let Some(cut) = &site.cut {
        lists.push(whole(lines(cut, figures)));
        lists.push(whole(panel(cut, kit, figures)));
        lists.push(whole(tabs(cut, figures)));
        lists.push(whole(distances(cut, figures)));
        lists.push(whole(Block::Prose("What is taken from the wall", cut.removed.words.clone())));
        lists.push(whole(Block::Prose("What the numbers rest on", bases(scene, cut))));
    }
    if !kit.on_site.measures.is_empty() {
        lists.push(whole(measures(kit)));
    }
    lists.push(whole(tools(scene)));
    if let Some(foaming) = &site.foam {
        lists.push(whole(foam(scene, foaming)));
        lists.push(whole(Block::Prose("Before the foam", PREPARE.map(str::to_owned).to_vec())));
    }
    if !site.settings.is_empty() {
        lists.push(long(schedule(scene)));
    }
    lists
}

fn lines(cut: &Cut, figures: Figures) -> Block {
    let lines = &cut.lines;
    let row = |name: &str, sizes: [f64; 2]| {
        let [one, two] = sizes.map(|mm| figures.length(mm));
        vec![name.to_owned(), one, two, String::new()]
    };
    let mut rows = vec![
        row("left, along both rails", [lines.from_left[0], lines.from_right[0]]),
        row("right, along both rails", [lines.from_left[1], lines.from_right[1]]),
        row("lower, over the bottom rail", [lines.z[0], lines.above_rail[0]]),
        row("upper, below the top rail", [lines.z[1], lines.below_rail[1]]),
        row("width · height between the lines", [lines.width, lines.height]),
        vec![
            "both diagonals".to_owned(),
            figures.length(lines.diagonal),
            String::new(),
            String::new(),
        ],
    ];
    for (row, lip) in rows.iter_mut().zip(cut.lips.iter().flatten()) {
        row[3] = format!("{} · {}", lip.flat[0], lip.flat[1]);
    }
    let columns = vec![
        column("Line", 58.0),
        figure_column("From left post · over the floor", 46.0),
        figure_column("From right post · from the rail", 46.0),
        figure_column("On outer flat, from left · right post", 50.0),
    ];
    Block::Table(if figures.inches { "Cut lines, in" } else { "Cut lines, mm" }, columns, rows)
}

fn panel(cut: &Cut, kit: &Kit, figures: Figures) -> Block {
    let panel = &cut.panel;
    let [width, depth, height] = panel.size.map(|mm| figures.length(mm));
    let x = panel.centre[0] - cut.lines.x[0] + cut.lines.from_left[0];
    let row = |name: &str, value: String| vec![name.to_owned(), value];
    let strips = match panel.strips {
        0 | 1 => "whole".to_owned(),
        n => format!("whole, or in {n} strips by two people"),
    };
    let rows = vec![
        row(
            "Mass, bare and with paint",
            format!("{} · {}", mass(panel.steel_kg, kit.inches), mass(panel.mass_kg, kit.inches)),
        ),
        row("Carried by", panel.carried.words().to_owned()),
        row("Comes out", strips),
        row("Width × depth × height", format!("{width} × {depth} × {height}")),
        row(
            "Centre of mass from left post, over floor",
            format!("{} · {}", figures.length(x), figures.length(panel.centre[2])),
        ),
        row("Centre of mass behind the outer flats", figures.length(panel.centre[1])),
        row(
            "Sheet flattened, area",
            format!("{} · {}", figures.length(panel.developed), figures.area(panel.area)),
        ),
    ];
    let columns = vec![column("Panel", 74.0), column("", 104.0)];
    Block::Table("Cut-out", columns, rows)
}

fn tabs(cut: &Cut, figures: Figures) -> Block {
    let row = |(i, tab): (usize, &Tab)| {
        vec![
            (i + 1).to_string(),
            tab.edge.word().to_owned(),
            figures.length(tab.x - cut.lines.x[0] + cut.lines.from_left[0]),
            figures.length(tab.z),
            figures.length(cut.holding.width),
        ]
    };
    let columns = vec![
        figure_column("Tab", 12.0),
        column("Cut", 24.0),
        figure_column("Middle, from the left post", 54.0),
        figure_column("Over the floor", 50.0),
        figure_column("Width", 38.0),
    ];
    Block::Table(
        match figures.inches {
            true => "Holding tabs, in the order in which they are cut, in",
            false => "Holding tabs, in the order in which they are cut, mm",
        },
        columns,
        cut.holding.tabs.iter().enumerate().map(row).collect(),
    )
}

fn distances(cut: &Cut, figures: Figures) -> Block {
    let row = |near: &Near| {
        let (word, size) = if near.clear < 0.0 {
            ("stands over by", -near.clear)
        } else {
            ("clear by", near.clear)
        };
        let place = if near.inside && near.clear > 0.0 && near.name == "seam" {
            "seam, within the opening"
        } else {
            &near.name
        };
        vec![
            place.to_owned(),
            format!("{} cut", near.edge.word()),
            word.to_owned(),
            figures.length(size),
        ]
    };
    let columns = vec![
        column("From the opening to", 72.0),
        column("Nearest", 30.0),
        column("", 36.0),
        figure_column("Distance", 40.0),
    ];
    let heading = if figures.inches { "Distances, in" } else { "Distances, mm" };
    Block::Table(heading, columns, cut.near.iter().map(row).collect())
}

/// The joints, the two hands of one in one row.
fn schedule(scene: &Scene) -> Block {
    let mut rows: Vec<Vec<&Setting>> = Vec::new();
    for setting in &scene.site.settings {
        let same = |row: &&mut Vec<&Setting>| row.iter().all(|other| alike(other, setting));
        match rows.iter_mut().find(same) {
            Some(row) => row.push(setting),
            None => rows.push(vec![setting]),
        }
    }
    let columns = vec![
        sentences("Joint", 18.0),
        sentences("What", 52.0),
        sentences("Fastener", 43.0),
        figure_column("Count", 15.0),
        sentences("Drill on site", 29.0),
        sentences("Set from", 30.0),
    ];
    let rows = rows.iter().filter_map(|row| schedule_row(scene, row)).collect();
    Block::Table("Fastener schedule", columns, rows)
}

/// Whether two joints are the two hands of one.
fn alike(one: &Setting, two: &Setting) -> bool {
    let plain = |setting: &Setting| Setting {
        joint: String::new(),
        name: unhanded(&setting.name).to_owned(),
        ..setting.clone()
    };
    plain(one) == plain(two)
}

/// A joint's name without its hand.
fn unhanded(name: &str) -> &str {
    name.strip_suffix(", left").or_else(|| name.strip_suffix(", right")).unwrap_or(name)
}

fn schedule_row(scene: &Scene, joints: &[&Setting]) -> Option<Vec<String>> {
    let setting = *joints.first()?;
    let fastener = scene.kit.fasteners.iter().find(|f| f.id == setting.fastener);
    let title = fastener.map_or(setting.fastener.as_str(), |f| &f.title);
    let title = title.split(", ").next().unwrap_or(title);
    let title = match setting.length {
        Some(mm) => format!("{title}, {} mm", number(mm, 1)),
        None => title.to_owned(),
    };
    let drill = match (setting.drill, setting.drills_itself, &setting.into) {
        (Some(mm), ..) => scene.figures.drill(mm),
        (None, true, _) => "drills itself".to_owned(),
        (None, false, Some(_)) => "none".to_owned(),
        (None, false, None) => "holes are cut".to_owned(),
    };
    let (name, count) = match joints.len() {
        1 => (setting.name.as_str(), setting.count.to_string()),
        n => (unhanded(&setting.name), format!("{n} × {}", setting.count)),
    };
    let joints: Vec<&str> = joints.iter().map(|setting| setting.joint.as_str()).collect();
    Some(vec![
        joints.join(", "),
        name.to_owned(),
        title,
        count,
        drill,
        from_words(setting, scene.site.wall.is_none()),
    ])
}

/// Where the fitter stands: `inside, through the hand hole`.
fn from_words(setting: &Setting, gap: bool) -> String {
    let place = match (setting.from, gap) {
        (From::Outside, _) => "outside",
        (From::Inside, _) => "inside",
        (From::Opening, false) => "the opening",
        (From::Opening, true) => "the gap",
        (From::Beside, false) => "beside the opening",
        (From::Beside, true) => "beside the gap",
        (From::Above, _) => "above",
        (From::Below, _) => "below",
    };
    match &setting.through {
        Some(hole) => format!("{place}, through the {hole}"),
        None => place.to_owned(),
    }
}

fn bases(scene: &Scene, cut: &Cut) -> Vec<String> {
    let person = in_kilograms(PERSON_KG, scene.kit.inches);
    let mut bases: Vec<String> = BASES.map(|words| words.replace("{person}", &person)).to_vec();
    let [last, of_last] = cut.holding.hanging;
    let [all, of_all] = cut.holding.standing;
    bases.push(format!(
        "Found here: the last two tabs {last:.0} times ({of_last:.0} asked), all tabs {all:.0} \
         times ({of_all:.0} asked)."
    ));
    if let Some(spread) = scene.site.survey {
        bases.push(format!(
            "The wall is laid out by the survey, whose readings lie within {} mm of it (root mean \
             square).",
            fixed(spread, 1)
        ));
    }
    if scene.kit.inches {
        bases.push(INCHES.to_owned());
    }
    bases
}

/// What to bring.
fn tools(scene: &Scene) -> Block {
    let row = |tool: &Tool| {
        let drill = tool.drill.map(|mm| format!(" {}", scene.figures.drill(mm)));
        let what = format!("{}{}", tool.what, drill.unwrap_or_default());
        let amount = tool.amount.map(|amount| quantity(amount, scene.figures));
        vec![what, amount.unwrap_or_default(), tool.why.clone()]
    };
    let columns =
        vec![sentences("What", 56.0), sentences("How much", 30.0), sentences("For", 98.0)];
    let mut rows: Vec<Vec<String>> = scene.site.tools.iter().map(row).collect();
    rows.extend(bolted(scene.kit));
    Block::Table("Tools and supplies", columns, rows)
}

/// What closes the post to each other opening in the wall.
fn bolted(kit: &Kit) -> Vec<Vec<String>> {
    let bolts = kit.neighbours.iter().flat_map(|it| it.bolts.iter().map(move |bolt| (it, bolt)));
    let row = |(other, bolt): (&Neighbour, &Meeting)| {
        let packed = if bolt.ordered_by == kit.number { "this kit" } else { "that kit" };
        vec![
            "Two spanners, bolts of the closed post".to_owned(),
            bolt.count.to_string(),
            format!("to the frame of {}, {}; they come with {packed}", other.kit, other.title),
        ]
    };
    bolts.map(row).collect()
}

/// A quantity in the reader's units: `3 cartridges`, `16`, `7.9 m`.
fn quantity(amount: Amount, figures: Figures) -> String {
    let Amount { value, unit } = amount;
    let metric = format!("{} {unit}", number(value, 1));
    match (unit, figures.inches) {
        ("pieces", _) => number(value, 0),
        ("l", _) if value < 10.0 => {
            if figures.inches {
                format!("{} fl oz ({metric})", number((value / FLUID_OUNCE).ceil(), 0))
            } else {
                metric
            }
        }
        ("l", _) => figures.volume(value),
        ("m2", _) => figures.area(value),
        ("m", true) => format!("{} ft ({metric})", number((value / FOOT).ceil(), 0)),
        ("cartridges", _) => cartridges(value, figures.inches),
        _ => metric,
    }
}

fn cartridges(count: f64, inches: bool) -> String {
    let word = if count == 1.0 { "cartridge" } else { "cartridges" };
    let size = format!("{} ml", number(CARTRIDGE_ML, 0));
    let ounces = number(CARTRIDGE_ML * 1e-3 / FLUID_OUNCE, 1);
    let size = if inches { format!("{ounces} fl oz ({size})") } else { size };
    format!("{} {word} of {size}", number(count, 0))
}

/// Sizes that are set or checked on site.
fn measures(kit: &Kit) -> Block {
    let row = |it: &Measure| vec![it.name.clone(), it.at.clone(), it.size.clone(), it.how.clone()];
    let columns = vec![
        sentences("What", 34.0),
        sentences("Where", 50.0),
        sentences("Size", 34.0),
        sentences("How", 66.0),
    ];
    Block::Table("Set and check on site", columns, kit.on_site.measures.iter().map(row).collect())
}

/// The places of the foam and their volumes, the sum last.
fn foam(scene: &Scene, foaming: &Foaming) -> Block {
    let figures = scene.figures;
    let worked = foaming.litres.iter().zip(&foaming.lifts);
    let row = |(place, (litres, lifts)): (&Foam, (&f64, &usize))| {
        vec![
            place.name.clone(),
            figures.area(place.area * 1e-6),
            format!("{} {}", figures.length(place.depth), figures.unit()),
            figures.volume(*litres),
            lifts.to_string(),
        ]
    };
    let mut rows: Vec<Vec<String>> = scene.kit.on_site.foam.iter().zip(worked).map(row).collect();
    let sum = |name: String, litres: f64| {
        vec![name, String::new(), String::new(), figures.volume(litres), String::new()]
    };
    rows.push(sum("All together".to_owned(), foaming.net));
    rows.push(sum(format!("With {:.0} % of waste", FOAM_MORE * 100.0), foaming.gross));
    let columns = vec![
        sentences("Foam", 70.0),
        figure_column("Area", 34.0),
        figure_column("Mean depth", 28.0),
        figure_column("Volume", 34.0),
        figure_column("Lifts", 14.0),
    ];
    Block::Table("Foam", columns, rows)
}
