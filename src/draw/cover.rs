//! The cover of a drawing set: the assembled kit, its parts list, fasteners, notes and cautions.

use super::balloon::balloons;
use super::block::{Block, column, figures as figure_column, flow, sentences};
use super::canvas::Room;
use super::figure::{Figures, fixed};
use super::folded_view::{caption, picture, under_caption};
use super::leaf::{common, leaf};
use super::shop_drawing::{issued, more, part_mass};
use super::title_block::{TitleBlock, number};
use super::view::isometric_kit;
use super::{Picture, Sheet};
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::geom::Point;
use crate::kit::{Kit, Part};
use crate::units::{INCH, POUND, mass};

/// Height of the strip for cautions under the picture.
const STRIP: f64 = 66.0;

/// The cover and its continuations, numbered among themselves. `folded` and `blanks` are in the
/// order of the kit's parts.
pub fn cover(kit: &Kit, folded: &[FoldedPart], blanks: &[Blank]) -> Vec<Sheet> {
    let mut sheets = pages(kit, folded, blanks);
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

/// The pages without their numbers.
pub(super) fn pages(kit: &Kit, folded: &[FoldedPart], blanks: &[Blank]) -> Vec<Sheet> {
    let block = fields(kit, blanks);
    let mut first = leaf(kit, &block, None);
    let top = first.place.inner.high.y;
    let mut left = first.place.left(top);
    let mut columns = vec![first.place.column(top)];
    let cautions =
        (!kit.cautions.is_empty()).then(|| Block::Prose("Cautions", kit.cautions.clone()));
    let mut rest = Vec::new();
    if let Some(cautions) = cautions {
        let under = Room { low: left.low, high: Point::new(left.high.x, left.low.y + STRIP) };
        left.low.y += STRIP + 4.0;
        rest = flow(&mut first.canvas, vec![cautions], &[under]);
    }
    let view = isometric_kit(kit, folded);
    caption(&mut first.canvas, &left, &kit.title, &reading(kit, &view));
    let within = under_caption(&left);
    let inside = super::canvas::grown(&within, -12.0);
    if let Some(plot) = picture(&mut first.canvas, &view, &inside) {
        balloons(&mut first.canvas, &view, &plot, &within);
    }
    let mut after = flow(&mut first.canvas, lists(kit, blanks), &std::mem::take(&mut columns));
    after.extend(rest);
    let mut sheets = vec![first.finish(format!("{} {}", kit.number, kit.title))];
    more(&mut sheets, after, || leaf(kit, &block, None));
    sheets
}

/// How the picture is to be read.
fn reading(kit: &Kit, view: &Picture) -> String {
    let cut = if kit.container.members.is_empty() { "" } else { ", container cut away" };
    let hidden = view.labels.iter().any(|label| label.hidden);
    let dashed = if hidden { "; dashed: hidden" } else { "" };
    format!("assembled{cut}, isometric, not to scale{dashed}")
}

fn fields(kit: &Kit, blanks: &[Blank]) -> TitleBlock {
    let whole: f64 = kit
        .parts
        .iter()
        .zip(blanks)
        .map(|(part, blank)| part_mass(part, blank) * part.places.len() as f64)
        .sum();
    TitleBlock {
        title: kit.title.clone(),
        supplement: [kit.template.1.as_str(), &kit.container.title]
            .into_iter()
            .filter(|words| !words.is_empty() && *words != kit.title)
            .collect::<Vec<_>>()
            .join(", "),
        number: kit.number.clone(),
        kind: "Parts list",
        scale: "–".to_owned(),
        material: "see parts list".to_owned(),
        thickness: "see parts list".to_owned(),
        mass: mass(whole, kit.inches),
        surface: "see part drawings",
        ..common(kit)
    }
}

/// Parts list (fields of ISO 7573), fasteners, notes.
fn lists(kit: &Kit, blanks: &[Blank]) -> Vec<Block> {
    let parts = Block::Table(
        "Parts list",
        vec![
            figure_column("Item", 9.0),
            column("Number", 30.0),
            column("Rev", 7.0),
            figure_column("Qty", 9.0),
            column("Name", 36.0),
            column("Material", 34.0),
            column("Sheet", 13.0),
            figure_column("Blank", 27.0),
            figure_column(if kit.inches { "lb each" } else { "kg each" }, 14.0),
        ],
        kit.parts.iter().zip(blanks).enumerate().map(|(i, it)| part_row(kit, i, it)).collect(),
    );
    let fasteners = Block::Table(
        "Fasteners",
        vec![
            sentences("Fastener", 94.0),
            figure_column("Count", 16.0),
            figure_column("Spare", 16.0),
            figure_column("Hole", 20.0),
            figure_column("Grip", 32.0),
        ],
        kit.fasteners.iter().map(|f| fastener_row(kit, f)).collect(),
    );
    let mut blocks = vec![parts];
    if !kit.fasteners.is_empty() {
        blocks.push(fasteners);
    }
    let mut notes = kit.notes.clone();
    if !kit.site.is_empty() {
        notes.insert(0, format!("Site: {}.", kit.site));
    }
    if !notes.is_empty() {
        blocks.push(Block::Prose("Notes", notes));
    }
    blocks
}

fn part_row(kit: &Kit, index: usize, (part, blank): (&Part, &Blank)) -> Vec<String> {
    let figures = Figures { inches: kit.inches };
    // The list names the blank's size to find the sheet for it; the drawing has it exactly.
    let size = |mm: f64| if kit.inches { fixed(mm / INCH, 1) } else { fixed(mm, 0) };
    let thickness =
        if part.gauge.is_empty() { figures.small(part.thickness) } else { part.gauge.clone() };
    let kg = part_mass(part, blank);
    let mass = if kit.inches { kg / POUND } else { kg };
    vec![
        (index + 1).to_string(),
        part.number.clone(),
        issued(kit, part).revision,
        part.places.len().to_string(),
        part.title.clone(),
        part.material.id.clone(),
        thickness,
        format!("{} × {}", size(blank.width), size(blank.height)),
        fixed(mass, 2),
    ]
}

fn fastener_row(kit: &Kit, fastener: &crate::kit::Fastener) -> Vec<String> {
    let figures = Figures { inches: kit.inches };
    let [low, high] = fastener.grip.map(|g| figures.small(g));
    vec![
        fastener.title.clone(),
        fastener.count.to_string(),
        fastener.spare.to_string(),
        format!("⌀{}", figures.small(fastener.hole)),
        format!("{low}–{high}"),
    ]
}
