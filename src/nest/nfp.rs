//! A no-fit polygon made ready for questions: is this shift forbidden, and how far to the nearest
//! allowed one.

use crate::nest::model::Rect;
use crate::nest::ring::{Contours, Point, cross, extent, minus};

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
    /// The same rectangle's corners.
    pub low: [f64; 2],
    pub high: [f64; 2],
}

/// Coordinates stay below 2^24, so that every product of two is exact in double precision.
#[derive(Debug, Clone, Copy)]
struct Edge {
    from: [f64; 2],
    along: [f64; 2],
    to_y: f64,
    /// One over the square of the length.
    scale: f64,
}

impl NoFit {
    /// From the contours of the exact polygon and of the slack one.
    pub(crate) fn new(mut exact: Contours, slack: Contours) -> Self {
        exact.retain(|contour| !is_crumb(contour));
        let edges = exact.iter().flat_map(|contour| contour_edges(contour)).collect();
        let bounds = extent(&exact);
        let low = bounds.low.map(|c| c as f64);
        let high = bounds.high.map(|c| c as f64);
        let convex = exact.len() == 1 && exact.iter().all(|contour| is_convex(contour));
        Self { slack, bounds, exact, edges, convex, low, high }
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
            let [x, y] = [p[0] - edge.from[0], p[1] - edge.from[1]];
            let cross = edge.along[0] * y - edge.along[1] * x;
            if cross == 0.0 && edge.spans(x, y) {
                return false;
            }
            if (edge.from[1] <= p[1]) != (edge.to_y <= p[1])
                && (0.0 < cross) == (0.0 < edge.along[1])
            {
                inside = !inside;
            }
        }
        inside
    }

    /// How far a shift lies from the nearest allowed one, units; 0 outside and on the boundary.
    pub(crate) fn depth(&self, p: [f64; 2]) -> f64 {
        if self.misses(p) {
            return 0.0;
        }
        if self.convex { self.depth_of_convex(p) } else { self.depth_of_any(p) }
    }

    /// Inside a convex polygon the nearest boundary is the nearest of the edges' lines.
    fn depth_of_convex(&self, p: [f64; 2]) -> f64 {
        let mut nearest = f64::INFINITY;
        for edge in &self.edges {
            let [x, y] = [p[0] - edge.from[0], p[1] - edge.from[1]];
            let cross = edge.along[0] * y - edge.along[1] * x;
            if cross <= 0.0 {
                return 0.0;
            }
            nearest = nearest.min(cross * cross * edge.scale);
        }
        nearest.sqrt()
    }

    fn depth_of_any(&self, p: [f64; 2]) -> f64 {
        let crossed = |edge: &&Edge| {
            (edge.from[1] <= p[1]) != (edge.to_y <= p[1]) && {
                let [x, y] = [p[0] - edge.from[0], p[1] - edge.from[1]];
                (0.0 < edge.along[0] * y - edge.along[1] * x) == (0.0 < edge.along[1])
            }
        };
        if self.edges.iter().filter(crossed).count() % 2 == 0 {
            return 0.0;
        }
        let mut nearest = f64::INFINITY;
        for edge in &self.edges {
            let [x, y] = [p[0] - edge.from[0], p[1] - edge.from[1]];
            let t = ((edge.along[0] * x + edge.along[1] * y) * edge.scale).clamp(0.0, 1.0);
            let (dx, dy) = (x - t * edge.along[0], y - t * edge.along[1]);
            nearest = nearest.min(dx * dx + dy * dy);
        }
        nearest.sqrt()
    }

    fn misses(&self, p: [f64; 2]) -> bool {
        p[0] <= self.low[0] || self.high[0] <= p[0] || p[1] <= self.low[1] || self.high[1] <= p[1]
    }
}

impl Edge {
    /// Whether a place on the edge's line, relative to its start, lies on the edge.
    fn spans(&self, x: f64, y: f64) -> bool {
        let along = self.along[0] * x + self.along[1] * y;
        0.0 <= along && along * self.scale <= 1.0
    }
}

fn contour_edges(contour: &[Point]) -> Vec<Edge> {
    let ends = contour.iter().skip(1).chain(contour.iter().take(1));
    let edge = |(a, b): (&Point, &Point)| {
        let from = [f64::from(a.x), f64::from(a.y)];
        let along = [f64::from(b.x) - from[0], f64::from(b.y) - from[1]];
        let square = along[0] * along[0] + along[1] * along[1];
        Edge { from, along, to_y: f64::from(b.y), scale: 1.0 / square }
    };
    contour.iter().zip(ends).map(edge).collect()
}

/// Least width of a hole of the exact polygon, units: a smaller one may come of rounding alone.
const CRUMB: f64 = 3.0;

/// Whether a contour is a hole that is too narrow to be believed.
fn is_crumb(contour: &[Point]) -> bool {
    let real = |p: &Point| [f64::from(p.x), f64::from(p.y)];
    let ends = contour.iter().skip(1).chain(contour.iter().take(1));
    let (mut twice_area, mut around) = (0.0, 0.0);
    for (a, b) in contour.iter().zip(ends) {
        let ([ax, ay], [bx, by]) = (real(a), real(b));
        twice_area += ax * by - ay * bx;
        around += ((bx - ax) * (bx - ax) + (by - ay) * (by - ay)).sqrt();
    }
    twice_area <= 0.0 && -twice_area < CRUMB * around
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
