//! A grid over the picture, so that a line is compared only with the facets along it.

use super::model::Spot;
use super::ring::Dot;

/// Which facets touch each cell of a picture.
#[derive(Debug)]
pub(super) struct Grid {
    low: Dot,
    /// Width and height of a cell.
    cell: Dot,
    /// Cells across and up.
    count: [usize; 2],
    cells: Vec<Vec<usize>>,
}

/// Most cells across and up: enough to part the holes of a long sheet.
const MOST: usize = 48;

impl Grid {
    /// A grid over `boxes`, the extents in x and y of numbered things.
    pub(super) fn new(boxes: &[[Dot; 2]]) -> Self {
        let mut low = Dot::new(f64::INFINITY, f64::INFINITY);
        let mut high = -low;
        for [a, b] in boxes {
            low = Dot::new(low.x.min(a.x), low.y.min(a.y));
            high = Dot::new(high.x.max(b.x), high.y.max(b.y));
        }
        let across = ((boxes.len() as f64).sqrt().ceil() as usize).clamp(1, MOST);
        let size = |extent: f64| if extent > 0.0 { extent / across as f64 } else { 1.0 };
        let cell = Dot::new(size(high.x - low.x), size(high.y - low.y));
        let mut grid =
            Self { low, cell, count: [across; 2], cells: vec![Vec::new(); across * across] };
        for (i, [a, b]) in boxes.iter().enumerate() {
            let columns = grid.column(a.x)..=grid.column(b.x);
            let rows = grid.row(a.y)..=grid.row(b.y);
            for cell in columns.flat_map(|c| rows.clone().map(move |r| c * across + r)) {
                grid.cells[cell].push(i);
            }
        }
        grid
    }

    fn column(&self, x: f64) -> usize {
        index((x - self.low.x) / self.cell.x, self.count[0])
    }

    fn row(&self, y: f64) -> usize {
        index((y - self.low.y) / self.cell.y, self.count[1])
    }

    /// Puts into `found` everything whose cells a line passes, in ascending order.
    pub(super) fn along(&self, line: &[Spot; 2], found: &mut Vec<usize>) {
        found.clear();
        let [a, b] = if line[0].x <= line[1].x { *line } else { [line[1], line[0]] };
        let rise = if b.x > a.x { (b.y - a.y) / (b.x - a.x) } else { 0.0 };
        let (first, last) = (self.column(a.x), self.column(b.x));
        for column in first..=last {
            let left = self.low.x + self.cell.x * column as f64;
            let at = |x: f64| a.y + rise * (x.clamp(a.x, b.x) - a.x);
            let (mut low, mut high) = (at(left), at(left + self.cell.x));
            if rise == 0.0 {
                (low, high) = (a.y, b.y);
            }
            let margin = self.cell.y * 1e-6;
            let rows = self.row(low.min(high) - margin)..=self.row(low.max(high) + margin);
            for row in rows {
                found.extend_from_slice(&self.cells[column * self.count[1] + row]);
            }
        }
        found.sort_unstable();
        found.dedup();
    }
}

/// The cell a place lies in; places outside go to the nearest.
fn index(place: f64, count: usize) -> usize {
    (place.floor().max(0.0) as usize).min(count - 1)
}
