//! The shop drawing of one part: blank, section, isometric view, tables and notes.

use super::blank_view::BlankView;
use super::block::{Block, flow, height, overflow};
use super::canvas::Room;
use super::figure::Figures;
use super::folded_view::{caption, picture, section, thickness, under_caption};
use super::leaf::{Leaf, Place, common, leaf, place_of};
use super::scale::Scale;
use super::title_block::{TitleBlock, number};
use super::{PartViews, Sheet};
use crate::flat::Blank;
use crate::geom::Point;
use crate::kit::{Amended, Kit, Part};
use crate::units::mass;

/// Paper kept below the blank for section, isometric view and the corner of the page.
const LOWER: f64 = 120.0;
/// Least height of the strip under the pictures that takes tables when the column is full.
const LEAST_STRIP: f64 = 20.0;
/// Least height of the pictures.
const PICTURES: f64 = 80.0;
/// How figures in inches are to be read.
pub(super) const INCHES: &str =
    "Inches. Fractions are the nearest 1/16; the decimal beside them governs.";
/// Stands for the cautions where they find no room.
const SEE_COVER: &str = "Read the cautions on the cover of this drawing set before any work.";
/// No part needs more pages; a guard against a table that can never be set.
const MOST_PAGES: usize = 40;

/// The shop drawing of the part shown by `views`; a second page follows when tables or notes need
/// it. The sheets are numbered among themselves.
pub fn shop_drawing(kit: &Kit, views: &PartViews<'_>, blank: &Blank) -> Vec<Sheet> {
    let mut sheets = pages(kit, views, blank);
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

/// The pages without their numbers.
pub(super) fn pages(kit: &Kit, views: &PartViews<'_>, blank: &Blank) -> Vec<Sheet> {
    let part = views.part();
    let figures = Figures { inches: kit.inches };
    let amended = amended(kit, part);
    let view = BlankView::new(part, blank, figures).ordered(views.plan()).flagged(amended);
    let mut block = fields(kit, part, blank);
    let largest = Some(blank.width.max(blank.height));
    let page = place_of(&block, largest, figures);
    let (layout, scale) = lay_out(&page, &view);
    let view = view.at(scale);
    block.scale = scale.name();
    let mut first = leaf(kit, &block, largest);
    view.draw(&mut first.canvas, &layout.blank, scale);
    let plain = blocks(kit, part, &view);
    let cautions = kit.cautions.clone();
    let (blocks, (pictures, columns)) = with_cautions(&layout, &plain, cautions);
    draw_pictures(&mut first, views, figures, &pictures);
    let rest = flow(&mut first.canvas, blocks, &columns);
    let mut sheets = vec![first.finish(format!("{} {}", part.number, part.title))];
    more(&mut sheets, rest, || leaf(kit, &block, largest));
    sheets
}

/// Adds pages until nothing is left to set.
pub(super) fn more(sheets: &mut Vec<Sheet>, rest: Vec<Block>, page: impl Fn() -> Leaf) {
    let mut rest = rest;
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        let mut next = page();
        let top = next.place.inner.high.y;
        let columns = [next.place.left(top), next.place.column(top)];
        rest = flow(&mut next.canvas, rest, &columns);
        let title = sheets.first().map_or_else(String::new, |s| s.title.clone());
        sheets.push(next.finish(title));
    }
}

/// Where things stand on the first page.
struct Layout {
    blank: Room,
    pictures: Room,
    column: Room,
}

/// A long blank goes across the whole page, another one beside the tables: whichever allows the
/// larger scale.
fn lay_out(page: &Place, view: &BlankView<'_>) -> (Layout, Scale) {
    let inner = page.inner;
    let across = Room { low: Point::new(inner.low.x, inner.low.y + LOWER), high: inner.high };
    let left = page.left(inner.high.y);
    let beside = Room { low: Point::new(left.low.x, left.low.y + PICTURES + 4.0), high: left.high };
    let (wide, narrow) = (view.scale(&across), view.scale(&beside));
    if wide.factor() > narrow.factor() {
        let bottom = inner.high.y - view.height(wide);
        let blank = Room { low: Point::new(inner.low.x, bottom), high: inner.high };
        let below = bottom - 4.0;
        let layout = Layout { blank, pictures: page.left(below), column: page.column(below) };
        return (layout, wide);
    }
    let bottom = (inner.high.y - view.height(narrow)).max(beside.low.y);
    let blank = Room { low: Point::new(left.low.x, bottom), high: left.high };
    let layout =
        Layout { blank, pictures: page.left(bottom - 4.0), column: page.column(inner.high.y) };
    (layout, narrow)
}

/// Adds the cautions in full; a reference to the cover stands for them where they alone would make
/// a second page necessary.
fn with_cautions(
    layout: &Layout,
    plain: &[Block],
    cautions: Vec<String>,
) -> (Vec<Block>, (Room, Vec<Room>)) {
    let fits = |blocks: &[Block]| {
        let (_, columns) = share(layout, blocks);
        overflow(blocks.to_vec(), &columns).is_empty()
    };
    let mut blocks = plain.to_vec();
    if !cautions.is_empty() {
        blocks.push(Block::Prose("Cautions", cautions));
    }
    if !fits(&blocks) {
        let mut short = plain.to_vec();
        short.push(Block::Prose("Cautions", vec![SEE_COVER.to_owned()]));
        if fits(&short) {
            blocks = short;
        }
    }
    let shared = share(layout, &blocks);
    (blocks, shared)
}

/// Gives what finds no room in the column a strip under the pictures.
fn share(layout: &Layout, blocks: &[Block]) -> (Room, Vec<Room>) {
    let rest = overflow(blocks.to_vec(), &[layout.column]);
    let mut pictures = layout.pictures;
    let needed: f64 = rest.iter().map(|b| height(b, pictures.width())).sum();
    let spare = pictures.height() - PICTURES;
    if rest.is_empty() || spare < LEAST_STRIP {
        return (pictures, vec![layout.column]);
    }
    let strip = needed.clamp(LEAST_STRIP, spare);
    let low = pictures.low;
    let under = Room { low, high: Point::new(pictures.high.x, low.y + strip) };
    pictures.low.y += strip + 4.0;
    (pictures, vec![layout.column, under])
}

/// Section and isometric view side by side.
fn draw_pictures(page: &mut Leaf, views: &PartViews<'_>, figures: Figures, room: &Room) {
    let view = views.section();
    let cut = if view.is_some() { room.low.x + room.width() * 0.56 } else { room.low.x };
    if let Some(view) = view {
        let left = Room { low: room.low, high: Point::new(cut - 3.0, room.high.y) };
        section(&mut page.canvas, (view, views.part(), figures), &left);
    }
    let right = Room { low: Point::new(cut, room.low.y), high: room.high };
    caption(&mut page.canvas, &right, "Folded", "isometric, not to scale");
    picture(&mut page.canvas, views.isometric(), &under_caption(&right));
}

fn fields(kit: &Kit, part: &Part, blank: &Blank) -> TitleBlock {
    let figures = Figures { inches: kit.inches };
    TitleBlock {
        title: part.title.clone(),
        supplement: supplement(kit, part),
        number: part.number.clone(),
        kind: "Part drawing",
        material: part.material.title.clone(),
        thickness: thickness(part, figures),
        mass: mass(part_mass(part, blank), kit.inches),
        surface: "As supplied, free of burrs",
        ..issued(kit, part)
    }
}

/// The kit and how many it has; for a drawing that many kits share, where that stands.
pub(super) fn supplement(kit: &Kit, part: &Part) -> String {
    let (title, pieces) = (&kit.title, part.places.len());
    if kit.shared {
        return format!("quantity in each kit: {USES_LIST}; {title}");
    }
    if part.number.starts_with(&kit.number) {
        return format!("{title}, quantity in one kit: {pieces}");
    }
    // A number that kits of a catalogue share does not say which of them the page is of.
    format!("{}, quantity: {pieces}; {title}", kit.number)
}

/// The list of a catalogue that has every part of every kit.
pub(super) const USES_LIST: &str = "uses.csv";

/// The fields that a part has from its own revision, which stays behind the kit's where the part
/// did not change.
pub(super) fn issued(kit: &Kit, part: &Part) -> TitleBlock {
    let common = common(kit);
    let issue = &part.issue;
    if issue.revision.is_empty() {
        return common;
    }
    TitleBlock {
        revision: issue.revision.clone(),
        date: issue.date.clone(),
        revisions: issue.rows.clone(),
        ..common
    }
}

/// What amendments did to a part.
fn amended<'a>(kit: &'a Kit, part: &Part) -> Vec<&'a Amended> {
    let own = |it: &&Amended| kit.parts.get(it.part).is_some_and(|p| p.number == part.number);
    kit.amended.iter().filter(own).collect()
}

/// Mass of one part, kg.
pub(super) fn part_mass(part: &Part, blank: &Blank) -> f64 {
    blank.area * part.thickness * part.material.density * 1e-9
}

/// Tables and texts in the order of their use in the shop, without the cautions.
fn blocks(kit: &Kit, part: &Part, view: &BlankView<'_>) -> Vec<Block> {
    let mut notes = part.remarks.clone();
    if !part.marks.is_empty() {
        let texts: Vec<&str> = part.marks.iter().map(|mark| mark.text.as_str()).collect();
        notes.push(format!("Etched, not cut: {}.", texts.join(" · ")));
    }
    if kit.inches {
        notes.push(INCHES.to_owned());
    }
    notes.extend(kit.notes.iter().cloned());
    let mut changed: Vec<String> = Vec::new();
    for it in amended(kit, part) {
        let text = format!("Mark {}: {}.", it.revision, it.sentence());
        if !changed.contains(&text) {
            changed.push(text);
        }
    }
    let texts = [
        Block::Prose("Amendments", changed),
        Block::Prose("Relations", part.relations.clone()),
        Block::Prose("Notes", notes),
    ];
    let filled = |block: &Block| !matches!(block, Block::Prose(_, items) if items.is_empty());
    view.tables().into_iter().chain(texts.into_iter().filter(filled)).collect()
}
