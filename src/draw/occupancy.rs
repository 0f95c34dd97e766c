//! What of the paper is already inked: a fine grid of cells, so that a text can ask whether its
//! box is free.

use crate::geom::{Bounds, PaperFrame, Point};

/// Side of a cell in mm: half the gap that a text keeps from a line.
const CELL: f64 = 0.5;

/// Marked cells of the paper. Marks are generous: every cell that a line or box touches is marked,
/// so a box reported free meets nothing.
#[derive(Debug, Clone)]
pub(super) struct Occupancy {
    columns: usize,
    rows: usize,
    words_a_row: usize,
    words: Vec<u64>,
}

impl Occupancy {
    /// An empty paper of the given size in mm.
    pub(super) fn new(width: f64, height: f64) -> Self {
        let columns = (width / CELL).ceil().max(1.0) as usize;
        let rows = (height / CELL).ceil().max(1.0) as usize;
        let words_a_row = columns.div_ceil(64);
        Self { columns, rows, words_a_row, words: vec![0; words_a_row * rows] }
    }

    /// Marks every cell that the straight line from `a` to `b` touches; what lies off the paper is
    /// left out.
    pub(super) fn mark_line(&mut self, a: Point<PaperFrame>, b: Point<PaperFrame>) {
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        let slope = if high.y > low.y { (high.x - low.x) / (high.y - low.y) } else { 0.0 };
        let Some((first, last)) = self.span(low.y, high.y, self.rows) else { return };
        for row in first..=last {
            let (from, to) = if first == last {
                (low.x, high.x)
            } else {
                let bottom = (row as f64 * CELL).max(low.y);
                let top = ((row + 1) as f64 * CELL).min(high.y);
                (low.x + slope * (bottom - low.y), low.x + slope * (top - low.y))
            };
            self.mark_row(row, from.min(to), from.max(to));
        }
    }

    /// Marks every cell that the box touches.
    pub(super) fn mark_box(&mut self, area: &Bounds<PaperFrame>) {
        let Some((first, last)) = self.span(area.low.y, area.high.y, self.rows) else { return };
        for row in first..=last {
            self.mark_row(row, area.low.x, area.high.x);
        }
    }

    /// Whether no cell of the box is marked; false when the box reaches off the paper.
    pub(super) fn is_free(&self, area: &Bounds<PaperFrame>) -> bool {
        let width = self.columns as f64 * CELL;
        let height = self.rows as f64 * CELL;
        let inside =
            0.0 <= area.low.x && area.high.x <= width && 0.0 <= area.low.y && area.high.y <= height;
        inside && self.marked(area) == 0
    }

    /// How many cells along the straight line from `a` to `b` are marked; sampled once a cell.
    pub(super) fn crossings(&self, a: Point<PaperFrame>, b: Point<PaperFrame>) -> usize {
        let steps = (a.distance(b) / CELL).ceil().max(1.0);
        (0..=steps as usize).filter(|&i| self.is_marked(a.toward(b, i as f64 / steps))).count()
    }

    fn is_marked(&self, p: Point<PaperFrame>) -> bool {
        if p.x < 0.0 || p.y < 0.0 {
            return false;
        }
        let (column, row) = ((p.x / CELL) as usize, (p.y / CELL) as usize);
        let inside = column < self.columns && row < self.rows;
        inside && self.words[row * self.words_a_row + column / 64] & (1 << (column % 64)) != 0
    }

    fn marked(&self, area: &Bounds<PaperFrame>) -> u32 {
        let Some((first, last)) = self.span(area.low.y, area.high.y, self.rows) else { return 0 };
        let Some((from, to)) = self.span(area.low.x, area.high.x, self.columns) else { return 0 };
        let words = |row: usize| {
            (from / 64..=to / 64)
                .map(move |word| (row * self.words_a_row + word, mask(word, from, to)))
        };
        (first..=last).flat_map(words).map(|(i, mask)| (self.words[i] & mask).count_ones()).sum()
    }

    fn mark_row(&mut self, row: usize, from: f64, to: f64) {
        let Some((from, to)) = self.span(from, to, self.columns) else { return };
        for word in from / 64..=to / 64 {
            self.words[row * self.words_a_row + word] |= mask(word, from, to);
        }
    }

    /// First and last cell that the stretch touches, within the paper.
    fn span(&self, low: f64, high: f64, count: usize) -> Option<(usize, usize)> {
        if high < 0.0 || !low.is_finite() || !high.is_finite() {
            return None;
        }
        // Conversion cuts off decimals, which is the floor of what is not negative.
        let last = ((high / CELL) as usize).min(count - 1);
        let first = (low.max(0.0) / CELL) as usize;
        (first <= last).then_some((first, last))
    }
}

/// The bits of word number `word` that stand for cells `from` to `to`, both included.
fn mask(word: usize, from: usize, to: usize) -> u64 {
    let start = from.saturating_sub(word * 64).min(63);
    let end = (to - word * 64).min(63);
    (u64::MAX << start) & (u64::MAX >> (63 - end))
}
