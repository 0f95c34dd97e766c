//! What every page of a drawing set has at its lower right: title block, tolerances, revisions.

use super::Align;
use super::block::LABEL;
use super::canvas::{At, Canvas, Room, level};
use super::figure::Figures;
use super::paper::Paper;
use super::setting::{fitted, shortened, wrapped};
use super::title_block::{self, TitleBlock, title_block};
use super::tolerance;
use super::{Pen, Sheet};
use crate::geom::Point;
use crate::kit::{Kit, Revision};

/// Free paper inside the frame.
pub(super) const PAD: f64 = 6.0;
/// Most lines of text in the revision table.
const LINES: usize = 8;
/// Most lines of text for one revision; its whole text is in `kit.json`.
const OF_ONE: usize = 4;
/// Height of the first line of a revision.
const ROW: f64 = 4.8;
/// Height of a further line.
const MORE: f64 = 4.0;
/// Where index, date and text of a revision stand in the table, and how wide they are.
const COLUMNS: [(f64, f64); 3] = [(1.8, 13.0), (15.0, 28.0), (44.0, 134.0)];

/// The room of a page beside its lower right corner.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// All of the drawing space inside its padding.
    pub(super) inner: Room,
    /// The upper left corner of what stands at the lower right.
    corner: At,
}

/// A page with its frame and its corner drawn.
#[derive(Debug)]
pub(super) struct Leaf {
    /// The page.
    pub(super) canvas: Canvas,
    /// The room that is left.
    pub(super) place: Place,
}

/// A page with frame, title block, tolerances for sizes up to `largest` mm, and revisions.
pub(super) fn leaf(kit: &Kit, block: &TitleBlock, largest: Option<f64>) -> Leaf {
    page(block, largest, Figures { inches: kit.inches })
}

/// The same for a page that is not about one kit alone.
pub(super) fn page(block: &TitleBlock, largest: Option<f64>, figures: Figures) -> Leaf {
    let paper = Paper::of(figures.inches);
    let mut canvas = paper.canvas();
    title_block(&mut canvas, &paper.frame(), block);
    let [title, tolerances, revised] = stack(block, largest, figures);
    if let Some(largest) = largest {
        let area = Room { low: Point::new(title.low.x, title.high.y), high: tolerances.high };
        tolerance::strip(&mut canvas, &area, &block.tolerance, (largest, figures));
    }
    let area = Room { low: Point::new(title.low.x, tolerances.high.y), high: revised.high };
    revisions(&mut canvas, &area, &shown(block));
    Leaf { canvas, place: place_of(block, largest, figures) }
}

/// The room that `leaf` leaves on a page with the kit's own revisions.
pub(super) fn place(kit: &Kit, largest: Option<f64>) -> Place {
    place_of(&common(kit), largest, Figures { inches: kit.inches })
}

/// The room that `page` leaves.
pub(super) fn place_of(block: &TitleBlock, largest: Option<f64>, figures: Figures) -> Place {
    let frame = Paper::of(figures.inches).frame();
    let pad = Point::new(PAD, PAD);
    let inner = Room { low: frame.low + pad, high: frame.high - pad };
    let [title, _, revised] = stack(block, largest, figures);
    Place { inner, corner: Point::new(title.low.x, revised.high.y) }
}

/// The title block, and it together with the tolerances, and with the revisions too.
fn stack(block: &TitleBlock, largest: Option<f64>, figures: Figures) -> [Room; 3] {
    let title = title_block::place(&Paper::of(figures.inches).frame());
    let strip = if largest.is_some() { tolerance::STRIP } else { 0.0 };
    let tolerances = Room { low: title.low, high: title.high + Point::new(0.0, strip) };
    let rows = shown(block);
    let lines = if rows.is_empty() { 0.0 } else { ROW + rows.iter().map(Row::height).sum::<f64>() };
    let revised = Room { low: title.low, high: tolerances.high + Point::new(0.0, lines) };
    [title, tolerances, revised]
}

/// A line of the revision table, its text broken to the column.
struct Row<'a> {
    revision: &'a Revision,
    lines: Vec<String>,
}

impl Row<'_> {
    fn height(&self) -> f64 {
        ROW + MORE * self.lines.len().saturating_sub(1) as f64
    }
}

/// The newest revisions, as many as have room.
fn shown(block: &TitleBlock) -> Vec<Row<'_>> {
    let mut rows = Vec::new();
    let mut used = 0;
    for revision in block.revisions.iter().rev() {
        let width = COLUMNS[2].1;
        let mut lines = wrapped(&revision.text, 2.5, width);
        if lines.len() > OF_ONE {
            lines.truncate(OF_ONE);
            let last = format!("{} …", lines[OF_ONE - 1]);
            lines[OF_ONE - 1] = shortened(&last, 2.5, false, width);
        }
        used += lines.len().max(1);
        if used > LINES {
            break;
        }
        rows.push(Row { revision, lines });
    }
    rows.reverse();
    rows
}

impl Place {
    /// The column above the corner, up to `top`.
    pub(super) fn column(&self, top: f64) -> Room {
        Room { low: self.corner + Point::new(2.0, PAD), high: Point::new(self.inner.high.x, top) }
    }

    /// All that lies above the corner, over the whole width.
    pub(super) fn above(&self) -> Room {
        let low = Point::new(self.inner.low.x, self.corner.y + PAD);
        Room { low, high: self.inner.high }
    }

    /// What lies left of the corner, up to `top`.
    pub(super) fn left(&self, top: f64) -> Room {
        Room { low: self.inner.low, high: Point::new(self.corner.x - 5.0, top) }
    }
}

impl Leaf {
    /// The finished sheet.
    pub(super) fn finish(self, title: String) -> Sheet {
        self.canvas.finish(title)
    }
}

/// The block's fields that are the same on all pages of a kit.
pub(super) fn common(kit: &Kit) -> TitleBlock {
    TitleBlock {
        owner: kit.owner.clone(),
        revision: kit.revision.clone(),
        date: kit.date.clone(),
        drawn: kit.drawn_by.clone(),
        approved: kit.approved_by.clone(),
        tolerance: kit.tolerance.clone(),
        third_angle: kit.inches,
        revisions: kit.revisions.clone(),
        ..TitleBlock::default()
    }
}

/// The revision table.
fn revisions(canvas: &mut Canvas, area: &Room, shown: &[Row<'_>]) {
    if shown.is_empty() {
        return;
    }
    canvas.rectangle(area, Pen::Narrow);
    let mut top = area.high.y;
    for (text, (x, _)) in ["Rev.", "Date", "Change"].into_iter().zip(COLUMNS) {
        let at = Point::new(area.low.x + x, top - ROW + 1.3);
        canvas.text(level(at, LABEL, Align::Left, text));
    }
    top -= ROW;
    for row in shown {
        canvas.line(Point::new(area.low.x, top), Point::new(area.high.x, top), Pen::Fine);
        let texts = [&row.revision.index, &row.revision.date];
        for (text, (x, width)) in texts.into_iter().zip(COLUMNS) {
            let (text, height) = fitted(text, 2.5, false, width);
            let at = Point::new(area.low.x + x, top - ROW + 1.3);
            canvas.text(level(at, height, Align::Left, text));
        }
        for (index, line) in row.lines.iter().enumerate() {
            let down = ROW - 1.3 + MORE * index as f64;
            let at = Point::new(area.low.x + COLUMNS[2].0, top - down);
            canvas.text(level(at, 2.5, Align::Left, line.clone()));
        }
        top -= row.height();
    }
}
