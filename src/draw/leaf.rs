//! What every page of a drawing set has at its lower right: title block, tolerances, revisions.

use super::Align;
use super::block::LABEL;
use super::canvas::{Canvas, Room, level, room};
use super::figure::Figures;
use super::paper::Paper;
use super::setting::fitted;
use super::title_block::{self, TitleBlock, title_block};
use super::tolerance;
use super::{Pen, Sheet};
use crate::geom::Point;
use crate::kit::{Kit, Revision};

/// Free paper inside the frame.
pub(super) const PAD: f64 = 6.0;
/// Most lines of the revision table.
const REVISIONS: usize = 6;
/// Height of a line of the revision table.
const ROW: f64 = 4.8;

/// A page with its frame and its corner drawn, and the room that is left.
#[derive(Debug)]
pub(super) struct Leaf {
    /// The page.
    pub(super) canvas: Canvas,
    /// All of the drawing space inside its padding.
    pub(super) inner: Room,
    /// The upper left corner of what stands at the lower right.
    pub(super) corner: Point<crate::geom::PaperFrame>,
}

/// A blank page with frame, title block, tolerances for sizes up to `largest` mm, and revisions.
pub(super) fn leaf(kit: &Kit, block: &TitleBlock, largest: Option<f64>) -> Leaf {
    let paper = Paper::of(kit.inches);
    let mut canvas = paper.canvas();
    let frame = paper.frame();
    title_block(&mut canvas, &frame, block);
    let mut top = title_block::place(&frame);
    if let Some(largest) = largest {
        let strip = room(top.low.x, top.high.y, top.width(), tolerance::STRIP);
        let figures = Figures { inches: kit.inches };
        tolerance::strip(&mut canvas, &strip, &kit.tolerance, (largest, figures));
        top.high.y = strip.high.y;
    }
    top.high.y = revisions(&mut canvas, &top, &kit.revisions);
    let pad = Point::new(PAD, PAD);
    let inner = Room { low: frame.low + pad, high: frame.high - pad };
    Leaf { canvas, inner, corner: Point::new(top.low.x, top.high.y) }
}

impl Leaf {
    /// The column above the corner, up to `top`.
    pub(super) fn column(&self, top: f64) -> Room {
        Room { low: self.corner + Point::new(2.0, PAD), high: Point::new(self.inner.high.x, top) }
    }

    /// What lies left of the corner, up to `top`.
    pub(super) fn left(&self, top: f64) -> Room {
        Room { low: self.inner.low, high: Point::new(self.corner.x - 5.0, top) }
    }

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
        ..TitleBlock::default()
    }
}

/// The newest revisions above what stands there already; gives the table's upper end.
fn revisions(canvas: &mut Canvas, below: &Room, revisions: &[Revision]) -> f64 {
    if revisions.is_empty() {
        return below.high.y;
    }
    let shown = &revisions[revisions.len().saturating_sub(REVISIONS)..];
    let height = ROW * (shown.len() + 1) as f64;
    let area = room(below.low.x, below.high.y, below.width(), height);
    canvas.rectangle(&area, Pen::Narrow);
    line(canvas, &area, 0, ["Rev.", "Date", "Change"], LABEL);
    for (i, revision) in shown.iter().enumerate() {
        line(canvas, &area, i + 1, [&revision.index, &revision.date, &revision.text], 2.5);
    }
    area.high.y
}

fn line(canvas: &mut Canvas, area: &Room, index: usize, texts: [&str; 3], height: f64) {
    let bottom = area.high.y - ROW * (index + 1) as f64;
    if index > 0 {
        let y = bottom + ROW;
        canvas.line(Point::new(area.low.x, y), Point::new(area.high.x, y), Pen::Fine);
    }
    for (text, (x, width)) in texts.into_iter().zip([(1.8, 13.0), (15.0, 28.0), (44.0, 134.0)]) {
        let (text, height) = fitted(text, height, false, width);
        let at = Point::new(area.low.x + x, bottom + 1.3);
        canvas.text(level(at, height, Align::Left, text));
    }
}
