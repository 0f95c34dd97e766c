//! The list of all sheets, and how few there could be.

use super::super::block::{Block, column, figures as figure_column, flow, sentences};
use super::super::figure::{Figures, fixed};
use super::super::leaf::{common, leaf};
use super::super::title_block::TitleBlock;
use super::Subject;
use super::words;
use crate::draw::Sheet;
use crate::nest::Bounds;
use crate::sheets::{CutSheet, Group};

/// Heading of what is missing.
const NOT_LAID: &str = "Caution: not laid out, and not cut from these sheets";

/// No list needs more pages; a guard against a row that can never be set.
const MOST_PAGES: usize = 60;

/// How the bounds are to be read.
const BOUNDS: &str = "Fewest sheets there could be, each by its own argument: by area, the parts with half the gap around them over a sheet; by strips, parts longer than half a sheet that must all cross its middle; by the program, how many sheets a linear program over the layouts found takes at least cost, in fractions, which says how well these layouts are combined, not what others could do; where smaller sheets cost less it may take more of them. The gap is what the sheets used exceed the best of the first two by: at 0 no layout takes fewer. Where several sizes are in stock, the least cost is looked for and not the fewest sheets: the cost gap is what the sheets used cost more than areas and strips allow.";

/// The list's pages.
pub(super) fn pages(subject: &Subject) -> Vec<Sheet> {
    let kit = subject.kit;
    let total: f64 = subject.laid.sheets.iter().map(|s| s.board.mass * f64::from(s.copies)).sum();
    let block = TitleBlock {
        title: kit.title.clone(),
        supplement: kit.template.1.clone(),
        number: kit.number.clone(),
        kind: "Sheet list",
        material: "see list".to_owned(),
        thickness: "see list".to_owned(),
        mass: words::kilograms(total, kit.inches),
        scale: "–".to_owned(),
        ..common(kit)
    };
    let mut rest = blocks(subject);
    let mut pages = Vec::new();
    while !rest.is_empty() && pages.len() < MOST_PAGES {
        let mut page = leaf(kit, &block, None);
        let room = page.place.above();
        rest = flow(&mut page.canvas, rest, &[room]);
        // Beside the title block there is room for sentences, not for wide tables.
        if rest.iter().all(|block| matches!(block, Block::Prose(..))) {
            let left = page.place.left(room.low.y);
            rest = flow(&mut page.canvas, rest, &[left]);
        }
        pages.push(page.finish("Sheet list".to_owned()));
    }
    pages
}

fn blocks(subject: &Subject) -> Vec<Block> {
    let mut blocks: Vec<Block> = not_laid(subject).into_iter().collect();
    blocks.extend([sheets(subject), groups(subject)]);
    if !subject.laid.kits.is_empty() {
        blocks.push(kits(subject));
    }
    blocks.push(parts(subject));
    let mut notes = vec![BOUNDS.to_owned()];
    let heaviest = subject.laid.sheets.iter().max_by(|a, b| a.board.mass.total_cmp(&b.board.mass));
    if let Some(sheet) = heaviest.filter(|sheet| subject.laid.lift < sheet.board.mass) {
        notes.insert(0, words::lifting(subject, sheet));
    }
    if 0 < subject.laid.rack_faults {
        notes.insert(0, format!(
            "Caution: faults of the rack's entries in the shop's file that were passed over: {}; the sheets and remnants they concern are not used.",
            subject.laid.rack_faults
        ));
    }
    let mut bases: Vec<&str> = Vec::new();
    for sheet in &subject.laid.sheets {
        if !bases.contains(&sheet.figures.basis.as_str()) {
            bases.push(&sheet.figures.basis);
        }
    }
    notes.extend(bases.iter().map(|basis| format!("Times are estimates: {basis}.")));
    blocks.push(Block::Prose("Notes", notes));
    blocks
}

/// What is asked for and is on no sheet, where there is such: it stands before everything else.
fn not_laid(subject: &Subject) -> Option<Block> {
    let parts = subject.laid.missing.iter().map(|missing| {
        let wanted = &subject.wanted[missing.wanted];
        vec![
            wanted.part.number.clone(),
            wanted.part.title.clone(),
            wanted.quantity.to_string(),
            missing.quantity.to_string(),
            missing.why.words().to_owned(),
        ]
    });
    let kits = subject.laid.left_out.iter().map(|left| {
        let all = || "all".to_owned();
        vec![left.kit.clone(), "the whole kit".to_owned(), all(), all(), left.why.clone()]
    });
    let rows: Vec<Vec<String>> = parts.chain(kits).collect();
    let columns = vec![
        column("Part or kit", 40.0),
        column("Name", 70.0),
        figure_column("Needed", 18.0),
        figure_column("Not laid out", 22.0),
        sentences("Why", 180.0),
    ];
    (!rows.is_empty()).then_some(Block::Table(NOT_LAID, columns, rows))
}

/// Every sheet.
fn sheets(subject: &Subject) -> Block {
    let columns = vec![
        figure_column("Sheet", 11.0),
        column("File", 25.0),
        column("Material", 97.0),
        column("Thickness", 33.0),
        column(if subject.kit.inches { "Stock, in" } else { "Stock, mm" }, 33.0),
        figure_column("Copies", 13.0),
        figure_column("Parts", 11.0),
        figure_column("Covered", 16.0),
        figure_column("Cut", 18.0),
        figure_column("Pierces", 14.0),
        figure_column("Time each", 22.0),
        figure_column(if subject.kit.inches { "lb each" } else { "kg each" }, 15.0),
        figure_column(if subject.kit.inches { "Remnant, in" } else { "Remnant, mm" }, 29.0),
    ];
    let rows = subject.laid.sheets.iter().map(|sheet| row(subject, sheet)).collect();
    Block::Table("Sheets, in the order in which they are cut", columns, rows)
}

fn row(subject: &Subject, sheet: &CutSheet) -> Vec<String> {
    let figures = Figures { inches: subject.kit.inches };
    let (group, _) = &subject.laid.groups[sheet.group];
    let rest = sheet.remnant.map(|rest| words::size(figures, [rest.width(), rest.height()]));
    let kg = sheet.board.mass;
    let mass = if figures.inches { kg / crate::units::POUND } else { kg };
    vec![
        sheet.number.to_string(),
        sheet.name(),
        group.material.title.clone(),
        words::thickness(figures, group),
        words::stock_short(figures, &sheet.board),
        sheet.copies.to_string(),
        sheet.lying.len().to_string(),
        words::percent(words::used(sheet)),
        words::run(figures, sheet.figures.cut_length),
        sheet.figures.pierces.to_string(),
        words::time(sheet.figures.seconds),
        fixed(mass, 1),
        rest.unwrap_or_else(|| "none".to_owned()),
    ]
}

/// Each material and thickness with its bounds.
fn groups(subject: &Subject) -> Block {
    let columns = vec![
        column("Material", 88.0),
        column("Thickness", 34.0),
        figure_column("Sheets used", 20.0),
        figure_column("Layouts", 16.0),
        figure_column("By area", 18.0),
        figure_column("By strips", 18.0),
        figure_column("By program", 20.0),
        figure_column("Fewest", 16.0),
        figure_column("Gap", 14.0),
        figure_column("Cost gap", 18.0),
        figure_column("Covered", 18.0),
    ];
    let groups = subject.laid.groups.iter().enumerate();
    let rows = groups.map(|(index, (group, bounds))| group_row(subject, index, (group, bounds)));
    Block::Table("How few sheets there could be", columns, rows.collect())
}

fn group_row(subject: &Subject, index: usize, (group, bounds): (&Group, &Bounds)) -> Vec<String> {
    let figures = Figures { inches: subject.kit.inches };
    let own = || subject.laid.sheets.iter().filter(|sheet| sheet.group == index);
    let used: u32 = own().map(|sheet| sheet.copies).sum();
    let area = |sheet: &CutSheet| sheet.board.size[0] * sheet.board.size[1];
    let whole: f64 = own().map(|sheet| area(sheet) * f64::from(sheet.copies)).sum();
    let parts: f64 = own().map(|sheet| sheet.figures.area * f64::from(sheet.copies)).sum();
    let bound = |value: f64| if value > 0.0 { fixed(value, 2) } else { "–".to_owned() };
    let fewest = bounds.sheets();
    vec![
        group.material.title.clone(),
        words::thickness(figures, group),
        used.to_string(),
        own().count().to_string(),
        bound(bounds.area),
        bound(bounds.strips),
        bound(bounds.program),
        fewest.to_string(),
        used.saturating_sub(fewest).to_string(),
        cost_gap(subject, index, (group, bounds)),
        words::percent(if whole > 0.0 { parts / whole } else { 0.0 }),
    ]
}

/// By how much the sheets used cost more than the least that the bounds allow.
fn cost_gap(subject: &Subject, index: usize, (group, bounds): (&Group, &Bounds)) -> String {
    let own = subject.laid.sheets.iter().filter(|sheet| sheet.group == index);
    let cost = |sheet: &CutSheet| {
        let at = group.boards.iter().position(|board| *board == sheet.board);
        at.map_or(0.0, |at| group.job.stock[at].cost) * f64::from(sheet.copies)
    };
    let all: f64 = own.map(cost).sum();
    if bounds.cost > 0.0 {
        words::percent((all / bounds.cost - 1.0).max(0.0))
    } else {
        "–".to_owned()
    }
}

/// The kits that are cut together.
fn kits(subject: &Subject) -> Block {
    let columns = vec![
        column("Kit", 40.0),
        column("Title", 160.0),
        column("Rev.", 20.0),
        figure_column("How many", 20.0),
    ];
    let rows = subject.laid.kits.iter().map(|row| {
        vec![row.kit.clone(), row.title.clone(), row.revision.clone(), row.times.to_string()]
    });
    Block::Table("Kits", columns, rows.collect())
}

/// Every part with the sheets it is on.
fn parts(subject: &Subject) -> Block {
    let columns = vec![
        column("In the pictures", 20.0),
        column("Part", 40.0),
        column("Name", 80.0),
        figure_column("Needed", 16.0),
        figure_column("Laid out", 16.0),
        column("On sheets", 90.0),
    ];
    let rows = subject.wanted.iter().enumerate().map(|(index, wanted)| {
        let sheets = subject.laid.sheets.iter().filter_map(|sheet| {
            let count = sheet.lying.iter().filter(|own| own.wanted == index).count() as u32;
            (0 < count).then_some((sheet, count))
        });
        let sheets: Vec<(&CutSheet, u32)> = sheets.collect();
        let laid: u32 = sheets.iter().map(|(sheet, count)| count * sheet.copies).sum();
        let on = sheets.iter().map(|(sheet, count)| match sheet.copies {
            1 => format!("{}: {count}", sheet.number),
            copies => format!("{}: {copies} × {count}", sheet.number),
        });
        vec![
            subject.short(index),
            wanted.part.number.clone(),
            wanted.part.title.clone(),
            wanted.quantity.to_string(),
            laid.to_string(),
            on.collect::<Vec<_>>().join(", "),
        ]
    });
    Block::Table("Parts", columns, rows.collect())
}
