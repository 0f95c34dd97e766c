//! A no-fit polygon made ready for questions: is this shift forbidden, and how far to the nearest
//! allowed one.

use std::sync::OnceLock;

use crate::nest::edge::Edge;
use crate::nest::field::Field;
use crate::nest::model::Rect;
use crate::nest::ring::{Contours, Point, cross, extent, minus};
use crate::nest::sliver::without_slivers;

/// Edges of a convex polygon that are looked at one by one.
const FEW: usize = 8;

/// Shifts at which two padded shapes overlap; its boundary is allowed.
#[derive(Debug, Clone)]
pub(crate) struct NoFit {
    /// Outer contours counter-clockwise, holes clockwise, a unit smaller all around where edges
    /// lie along the axes: exact fits leave free regions with an area.
    pub slack: Contours,
    /// The smallest rectangle about all edges.
    pub bounds: Rect,
    /// The exact polygon.
    pub exact: Contours,
    edges: Vec<Edge>,
    convex: bool,
    /// Made when the depth is asked for first.
    field: OnceLock<Field>,
    /// The same rectangle's corners.
    pub low: [f64; 2],
    pub high: [f64; 2],
}

impl NoFit {
    /// From the contours of the exact polygon and of the slack one.
    pub(crate) fn new(exact: Contours, slack: Contours) -> Self {
        let exact = without_slivers(&exact);
        let edges = exact.iter().flat_map(|contour| Edge::of(contour)).collect();
        let bounds = extent(&exact);
        let low = bounds.low.map(|c| c as f64);
        let high = bounds.high.map(|c| c as f64);
        let convex = exact.len() == 1 && exact.iter().all(|contour| is_convex(contour));
        Self { slack, bounds, exact, edges, convex, field: OnceLock::new(), low, high }
    }

    /// The same with the two shapes' parts exchanged.
    pub(crate) fn opposite(&self) -> Self {
        Self::new(opposite(&self.exact), opposite(&self.slack))
    }

    /// Whether a shift lies within, not on the boundary.
    pub(crate) fn covers(&self, shift: [i64; 2]) -> bool {
        let p = shift.map(|c| c as f64);
        if self.misses(p) {
            return false;
        }
        let mut inside = false;
        for edge in &self.edges {
            if edge.holds(p) {
                return false;
            }
            inside ^= edge.crosses(p);
        }
        inside
    }

    /// How far a shift lies from the nearest allowed one, units; 0 outside and on the boundary.
    pub(crate) fn depth(&self, p: [f64; 2]) -> f64 {
        if self.misses(p) {
            return 0.0;
        }
        match self.convex && self.edges.len() <= FEW {
            true => self.depth_of_convex(p),
            false => self
                .field
                .get_or_init(|| Field::new(&self.edges, self.bounds))
                .depth(&self.edges, p),
        }
    }

    /// Inside a convex polygon the nearest boundary is the nearest of the edges' lines.
    fn depth_of_convex(&self, p: [f64; 2]) -> f64 {
        let mut nearest = f64::INFINITY;
        for edge in &self.edges {
            let side = edge.side(p);
            if side <= 0.0 {
                return 0.0;
            }
            nearest = nearest.min(edge.square_to_line(side));
        }
        nearest.sqrt()
    }

    fn misses(&self, p: [f64; 2]) -> bool {
        p[0] <= self.low[0] || self.high[0] <= p[0] || p[1] <= self.low[1] || self.high[1] <= p[1]
    }
}

/// Contours turned by half a turn about the origin.
fn opposite(contours: &Contours) -> Contours {
    let one = |contour: &Vec<Point>| contour.iter().map(|p| Point::new(-p.x, -p.y)).collect();
    contours.iter().map(one).collect()
}

/// Whether a counter-clockwise contour never turns right.
fn is_convex(contour: &[Point]) -> bool {
    let n = contour.len();
    (0..n).all(|at| {
        let [a, b, c] =
            [0, 1, 2].map(|k| contour[(at + k) % n]).map(|p| [i64::from(p.x), i64::from(p.y)]);
        0 <= cross(minus(b, a), minus(c, b))
    })
}
