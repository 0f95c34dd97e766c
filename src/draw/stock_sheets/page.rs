//! The page of one sheet.

use super::super::block::{Block, column, figures as figure_column, flow, height};
use super::super::canvas::Room;
use super::super::figure::{Figures, fixed};
use super::super::folded_view::{caption, under_caption};
use super::super::leaf::{Place, common, leaf, place};
use super::super::scale::{Plot, Scale};
use super::super::shop_drawing::more;
use super::super::title_block::TitleBlock;
use super::Subject;
use super::picture::{self, OUT};
use super::words;
use crate::draw::Sheet;
use crate::geom::{Bounds, Point, ViewFrame};
use crate::sheets::{CutSheet, Group};

/// Paper beside and under the picture for dimensions and balloons, mm.
const BESIDE: f64 = 16.0;
/// Paper between the picture and the tables, mm.
const UNDER: f64 = 8.0;

/// What the grey places are.
const BLOCKED: &str = "Grey: clamps, damage, or beyond the laser's bed; nothing lies there.";

/// The sheet's page, and more where its tables need them.
pub(super) fn pages(subject: &Subject, sheet: &CutSheet) -> Vec<Sheet> {
    let (group, _) = &subject.laid.groups[sheet.group];
    let room = place(subject.kit, None);
    let scale = scale(&room, sheet);
    let block = fields(subject, sheet, (group, scale));
    let mut page = leaf(subject.kit, &block, None);
    let inner = page.place.inner;
    let words = format!(
        "{}   {}, {}; x along the longer side, seen from above",
        scale.name(),
        sheet.name(),
        copies(sheet)
    );
    caption(&mut page.canvas, &inner, &format!("Sheet {}", sheet.number), &words);
    let below = under_caption(&inner);
    let [x, y] = sheet.board.size.map(|side| side * scale.factor());
    let bottom = below.high.y - 2.0 - y;
    let middle = Point::new(inner.centre().x, bottom + y / 2.0);
    let bounds = Bounds::<ViewFrame> {
        low: Point::new(0.0, 0.0),
        high: Point::new(sheet.board.size[0], sheet.board.size[1]),
    };
    let plot = Plot::new(&bounds, scale.factor(), middle);
    let lower = bottom - OUT - 3.0;
    let within = Room {
        low: Point::new((middle.x - x / 2.0 - BESIDE).max(inner.low.x), lower),
        high: Point::new((middle.x + x / 2.0 + BESIDE).min(inner.high.x), below.high.y),
    };
    let unnumbered = picture::draw(&mut page.canvas, subject, sheet, (&plot, &within));
    let top = lower - UNDER + 3.0;
    let (left, right) = (page.place.left(top), page.place.column(top));
    let figures = facts(subject, sheet);
    let under = Point::new(right.high.x, right.high.y - height(&figures, right.width()));
    let after = flow(&mut page.canvas, vec![figures], &[right]);
    let texts = vec![parts(subject, sheet), notes(subject, sheet, unnumbered)];
    let columns = [left, Room { low: right.low, high: under }];
    let mut rest = flow(&mut page.canvas, texts, &columns);
    rest.extend(after);
    let mut pages = vec![page.finish(format!("Sheet {}", sheet.number))];
    more(&mut pages, rest, || leaf(subject.kit, &block, None));
    pages
}

/// The largest scale that leaves room for a table beside the title block.
fn scale(place: &Place, sheet: &CutSheet) -> Scale {
    let (inner, above) = (place.inner, place.above());
    let rows = sheet.counts().len().clamp(3, 12) as f64;
    let table = 16.0 + 4.8 * rows;
    let lower = (above.low.y - inner.low.y).max(table).max(70.0);
    let high = inner.height() - lower - 11.0 - OUT - UNDER;
    Scale::fitting(
        sheet.board.size[0],
        sheet.board.size[1],
        (inner.width() - 2.0 * BESIDE, high.max(40.0)),
    )
}

fn copies(sheet: &CutSheet) -> String {
    if sheet.copies == 1 { "cut once".to_owned() } else { format!("cut {} times", sheet.copies) }
}

fn fields(subject: &Subject, sheet: &CutSheet, (group, scale): (&Group, Scale)) -> TitleBlock {
    let kit = subject.kit;
    let figures = Figures { inches: kit.inches };
    TitleBlock {
        title: kit.title.clone(),
        supplement: format!("{}, {}", sheet.name(), copies(sheet)),
        number: kit.number.clone(),
        kind: "Laser sheet",
        material: group.material.title.clone(),
        thickness: words::thickness(figures, group),
        mass: words::kilograms(sheet.board.mass, kit.inches),
        scale: scale.name(),
        surface: "free of burrs after cutting",
        ..common(kit)
    }
}

/// What lies on the sheet.
fn parts(subject: &Subject, sheet: &CutSheet) -> Block {
    let columns = vec![
        column("In the picture", 14.0),
        column("Part", 32.0),
        column("Name", 52.0),
        figure_column("On it", 11.0),
        figure_column("All copies", 15.0),
        figure_column("Needed", 13.0),
    ];
    let rows = sheet.counts().into_iter().map(|(index, count)| {
        let wanted = &subject.wanted[index];
        vec![
            subject.short(index),
            wanted.part.number.clone(),
            wanted.part.title.clone(),
            count.to_string(),
            (count * sheet.copies).to_string(),
            wanted.quantity.to_string(),
        ]
    });
    Block::Table("Parts on this sheet", columns, rows.collect())
}

/// What the sheet is and takes, in few rows: they stand above the title block.
fn facts(subject: &Subject, sheet: &CutSheet) -> Block {
    let figures = Figures { inches: subject.kit.inches };
    let own = &sheet.figures;
    let row = |what: &str, value: String| vec![what.to_owned(), value];
    let mut time = words::time(own.seconds);
    if sheet.copies > 1 {
        let all = own.seconds * f64::from(sheet.copies);
        time.push_str(&format!(", for all copies {}", words::time(all)));
    }
    let covered = words::percent(words::used(sheet));
    let mut rows = vec![
        row("Stock", format!("{}, {covered} covered", words::stock(figures, &sheet.board))),
        row("Cut", format!("{}, {} pierces", words::run(figures, own.cut_length), own.pierces)),
        row("Time for one, an estimate", time),
    ];
    if let Some(rest) = sheet.remnant {
        let size = words::size(figures, [rest.width(), rest.height()]);
        let area = figures.area(rest.width() * rest.height() * 1e-6);
        rows.push(row("Remnant by one cut", format!("{size} {}, {area}", figures.unit())));
    }
    let columns = vec![column("This sheet", 44.0), column("", 80.0)];
    Block::Table("Figures", columns, rows)
}

fn notes(subject: &Subject, sheet: &CutSheet, unnumbered: usize) -> Block {
    let mut notes = vec![words::lifting(subject, sheet)];
    let mut order =
        "The file has the cuts in their order: inside contours first, a part in an opening before that opening, each outline last.".to_owned();
    if 0.0 < sheet.figures.pauses {
        let pauses = fixed(sheet.figures.pauses, 1);
        order.push_str(&format!(
            " Between small contours close to each other the laser rests, {pauses} s in all."
        ));
    }
    notes.push(order);
    notes.push(format!("The time is an estimate: {}.", sheet.figures.basis));
    if !sheet.board.blocked.is_empty() {
        notes.push(BLOCKED.to_owned());
    }
    notes.extend(extras(sheet));
    if 0 < unnumbered {
        notes.push(format!(
            "{unnumbered} small parts, or groups of them, have no number in the picture for want of room: each has its number etched."
        ));
    }
    Block::Prose("Notes", notes)
}

/// What the layers for lead-ins, tabs and skeleton cuts hold, where the shop wants them.
fn extras(sheet: &CutSheet) -> Vec<String> {
    let own = &sheet.extras;
    let mut notes = Vec::new();
    let without = own.lead_ins.iter().filter(|lead| lead.is_none()).count();
    if !own.lead_ins.is_empty() {
        let mut words =
            format!("The file has {} lead-ins from the waste", own.lead_ins.len() - without);
        match without {
            0 => words.push('.'),
            n => words.push_str(&format!(
                "; {n} contours have none, because the waste beside them is too narrow: pierce on the contour there."
            )),
        }
        notes.push(words);
    }
    if !own.tabs.is_empty() {
        notes.push(format!(
            "Strokes across outlines: {} tabs that hold the parts in the sheet; break them out and grind them off.",
            own.tabs.len()
        ));
    }
    if !own.skeleton.is_empty() {
        notes.push(format!(
            "Dashed: {} cuts that divide what is left, made after all parts.",
            own.skeleton.len()
        ));
    }
    notes
}
