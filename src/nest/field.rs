//! How far the nearest edge of a no-fit polygon is, from any place inside it: a grid that knows in
//! each of its cells which edges can be nearest, and whether the cell lies inside as a whole.

use crate::nest::edge::Edge;
use crate::nest::model::Rect;

/// Cells along each side.
const CELLS: usize = 16;

/// What double precision may lose, and more, units.
const SLACK: f64 = 1.0;

/// The grid over the rectangle about a polygon.
#[derive(Debug, Clone)]
pub(crate) struct Field {
    low: [f64; 2],
    /// Cells per unit.
    scale: [f64; 2],
    cells: Vec<Cell>,
    near: Vec<u32>,
    /// Per row, where its edges end in `across`.
    rows: Vec<u32>,
    across: Vec<u32>,
}

#[derive(Debug, Clone, Copy)]
struct Cell {
    side: Side,
    /// Its edges in `near`.
    from: u32,
    to: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Inside,
    Outside,
    Both,
}

impl Field {
    /// The grid of a polygon's edges inside their rectangle.
    pub(crate) fn new(edges: &[Edge], bounds: Rect) -> Self {
        let low = bounds.low.map(|c| c as f64);
        let size = bounds.size().map(|c| c as f64 / CELLS as f64);
        let mut field = Self {
            low,
            scale: size.map(|side| 1.0 / side),
            cells: Vec::with_capacity(CELLS * CELLS),
            near: Vec::new(),
            rows: vec![0],
            across: Vec::new(),
        };
        for row in 0..CELLS {
            let [from, to] = [row, row + 1].map(|row| low[1] + size[1] * row as f64);
            let reaches = |edge: &Edge| {
                let [least, most] = edge.span();
                least <= to + SLACK && from - SLACK <= most
            };
            let across = std::iter::zip(0.., edges).filter(|(_, edge)| reaches(edge));
            field.across.extend(across.map(|(at, _)| at));
            field.rows.push(field.across.len() as u32);
            for column in 0..CELLS {
                let x = low[0] + size[0] * (column as f64 + 0.5);
                field.cell(edges, [x, (from + to) / 2.0], size, row);
            }
        }
        field
    }

    fn cell(&mut self, edges: &[Edge], middle: [f64; 2], size: [f64; 2], row: usize) {
        let reach = (size[0] * size[0] + size[1] * size[1]).sqrt() / 2.0 + SLACK;
        let squares: Vec<f64> = edges.iter().map(|edge| edge.square_to(middle)).collect();
        let least = squares.iter().copied().fold(f64::INFINITY, f64::min).sqrt();
        let side = match self.odd(edges, row, middle) {
            _ if least <= reach => Side::Both,
            true => Side::Inside,
            false => Side::Outside,
        };
        let from = self.near.len() as u32;
        if side != Side::Outside {
            let most = (least + 2.0 * reach) * (least + 2.0 * reach);
            let near = std::iter::zip(0.., &squares).filter(|(_, square)| **square <= most);
            self.near.extend(near.map(|(at, _)| at));
        }
        self.cells.push(Cell { side, from, to: self.near.len() as u32 });
    }

    /// Whether a place in a row lies inside, by the edges to its right.
    fn odd(&self, edges: &[Edge], row: usize, p: [f64; 2]) -> bool {
        let [from, to] = [row, row + 1].map(|row| self.rows[row] as usize);
        self.across[from..to].iter().fold(false, |odd, at| odd ^ edges[*at as usize].crosses(p))
    }

    /// How far a place within the rectangle lies from the nearest edge; 0 outside the polygon.
    pub(crate) fn depth(&self, edges: &[Edge], p: [f64; 2]) -> f64 {
        let [column, row] = [0, 1].map(|k| {
            let cell = (p[k] - self.low[k]) * self.scale[k];
            (cell as usize).min(CELLS - 1)
        });
        let cell = self.cells[row * CELLS + column];
        let inside = match cell.side {
            Side::Outside => false,
            Side::Inside => true,
            Side::Both => self.odd(edges, row, p),
        };
        if !inside {
            return 0.0;
        }
        let near = &self.near[cell.from as usize..cell.to as usize];
        near.iter().map(|at| edges[*at as usize].square_to(p)).fold(f64::INFINITY, f64::min).sqrt()
    }
}
