//! A grid over the picture, so that a line is compared only with the facets along it.

use std::ops::RangeInclusive;

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
    /// Where the things of each cell begin in `things`, and where those of the last end.
    starts: Vec<u32>,
    things: Vec<u32>,
}

/// Which things were met in the present search, so that each is met once.
#[derive(Debug)]
pub(super) struct Met {
    /// For each thing the last search in which it was met.
    last: Vec<u32>,
    search: u32,
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
        let (starts, things) = (vec![0; across * across + 1], Vec::new());
        let mut grid = Self { low, cell, count: [across; 2], starts, things };
        grid.fill(boxes);
        grid
    }

    /// Sorts the boxes into the cells that they touch.
    fn fill(&mut self, boxes: &[[Dot; 2]]) {
        let mut starts = std::mem::take(&mut self.starts);
        for cell in boxes.iter().flat_map(|it| self.touched(it)) {
            starts[cell + 1] += 1;
        }
        for cell in 1..starts.len() {
            starts[cell] += starts[cell - 1];
        }
        let mut things = vec![0; starts[starts.len() - 1] as usize];
        let mut next = starts.clone();
        for (i, it) in boxes.iter().enumerate() {
            for cell in self.touched(it) {
                things[next[cell] as usize] = i as u32;
                next[cell] += 1;
            }
        }
        (self.starts, self.things) = (starts, things);
    }

    fn touched(&self, [a, b]: &[Dot; 2]) -> impl Iterator<Item = usize> + use<> {
        let rows = self.row(a.y)..=self.row(b.y);
        let up = self.count[1];
        (self.column(a.x)..=self.column(b.x))
            .flat_map(move |c| rows.clone().map(move |r| c * up + r))
    }

    /// For searches among a number of things.
    pub(super) fn met(&self, things: usize) -> Met {
        Met { last: vec![0; things], search: 0 }
    }

    fn column(&self, x: f64) -> usize {
        index((x - self.low.x) / self.cell.x, self.count[0])
    }

    fn row(&self, y: f64) -> usize {
        index((y - self.low.y) / self.cell.y, self.count[1])
    }

    /// Visits everything whose cells a line passes, each thing once, until a visit ends the search.
    /// Within a cell the numbers rise, and a visit may end the cell alone.
    pub(super) fn along(
        &self,
        line: &[Spot; 2],
        met: &mut Met,
        visit: &mut impl FnMut(usize) -> Next,
    ) {
        met.search += 1;
        let [a, b] = if line[0].x <= line[1].x { *line } else { [line[1], line[0]] };
        for column in self.column(a.x)..=self.column(b.x) {
            let mut cells = self.rows(column, [a, b]).map(|row| self.things(column, row));
            if cells.any(|things| met.visit(things, visit) == Next::Enough) {
                return;
            }
        }
    }

    /// The rows in which a line, given from left to right, passes a column.
    fn rows(&self, column: usize, [a, b]: [Spot; 2]) -> RangeInclusive<usize> {
        let rise = if b.x > a.x { (b.y - a.y) / (b.x - a.x) } else { 0.0 };
        let left = self.low.x + self.cell.x * column as f64;
        let at = |x: f64| a.y + rise * (x.clamp(a.x, b.x) - a.x);
        let (mut low, mut high) = (at(left), at(left + self.cell.x));
        if rise == 0.0 {
            (low, high) = (a.y, b.y);
        }
        let margin = self.cell.y * 1e-6;
        self.row(low.min(high) - margin)..=self.row(low.max(high) + margin)
    }

    /// What touches a cell.
    fn things(&self, column: usize, row: usize) -> &[u32] {
        let cell = column * self.count[1] + row;
        &self.things[self.starts[cell] as usize..self.starts[cell + 1] as usize]
    }
}

impl Met {
    fn visit(&mut self, things: &[u32], visit: &mut impl FnMut(usize) -> Next) -> Next {
        for &thing in things {
            let last = &mut self.last[thing as usize];
            if *last == self.search {
                continue;
            }
            *last = self.search;
            match visit(thing as usize) {
                Next::On => {}
                Next::Cell => return Next::Cell,
                Next::Enough => return Next::Enough,
            }
        }
        Next::On
    }
}

/// What a search does after a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Next {
    /// Goes on.
    On,
    /// Goes on with the next cell.
    Cell,
    /// Ends.
    Enough,
}

/// The cell a place lies in; places outside go to the nearest.
fn index(place: f64, count: usize) -> usize {
    (place.max(0.0) as usize).min(count - 1)
}
