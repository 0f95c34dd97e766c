//! A shape padded by half the gap, so that parts keep the gap where padded shapes only touch.
//!
//! Edges along the axes are padded to the unit. Edges at a slant lie two units further out, which
//! covers every rounding of corners here and in the no-fit polygons.

use crate::nest::model::{Ring, Shape};
use crate::nest::ring::{
    Contours, Point, bounds, contours, cross, difference, edges, minus, point, shape_of,
    twice_area, union,
};

/// By how much further out than asked a slanted edge lies, units.
const SLANT: f64 = 2.0;

/// Cosine between the normals of two edges below which their corner is rounded, not mitred: a
/// right angle keeps its corner, an acute one would spike.
const MITRE: f64 = -0.05;

/// The same for the steps of a rounded corner: at most about 72 degrees each.
const STEP: f64 = 0.3;

/// Sine of the turn at a corner below which its padded edges need no tip between them: the gap
/// there is far less than what a slanted edge is padded by.
const STRAIGHT: f64 = 0.05;

/// The shape padded by `by` units; negative pares it. Its holes shrink. Where padding closes a
/// slot, the rest of the slot becomes a hole. What is pared away in whole leaves an empty outline.
pub(crate) fn pad(shape: &Shape, by: i64) -> Shape {
    let mut added = contours(shape);
    let mut taken: Contours = Vec::new();
    for ring in std::iter::once(&shape.outer).chain(&shape.holes) {
        sides(ring, by as f64, &mut added, &mut taken);
    }
    let mut pieces = union(&added);
    if !taken.is_empty() {
        pieces = difference(&pieces.into_iter().flatten().collect::<Contours>(), &taken);
    }
    // Paring may cut a shape in two; the larger part stands for it.
    pieces.sort_by_key(|piece| std::cmp::Reverse(size(piece)));
    pieces.first().map(|piece| shape_of(piece)).unwrap_or_default()
}

fn size(piece: &Contours) -> i64 {
    let ring = shape_of(piece).outer;
    let rect = bounds(&ring);
    (rect.high[0] - rect.low[0]) * (rect.high[1] - rect.low[1])
}

/// A strip along every edge of the ring, and a wedge at every corner that points outwards.
fn sides(ring: &Ring, by: f64, added: &mut Contours, taken: &mut Contours) {
    let all: Vec<Side> = edges(ring).map(|(from, to)| Side::new(from, to, by)).collect();
    for (at, side) in all.iter().enumerate() {
        let next = &all[(at + 1) % all.len()];
        let strip = vec![point(side.from), side.out(side.from), side.out(side.to), point(side.to)];
        let list = if side.by < 0.0 { &mut *taken } else { &mut *added };
        list.push(wound(strip));
        let convex = 0 < cross(minus(side.to, side.from), minus(next.to, next.from));
        if convex && 0.0 <= side.by && 0.0 <= next.by {
            added.push(wound(wedge(side, next)));
        }
    }
}

/// The contour counter-clockwise: strips must not cancel each other.
fn wound(mut contour: Vec<Point>) -> Vec<Point> {
    let ring: Ring = contour.iter().map(|p| [i64::from(p.x), i64::from(p.y)]).collect();
    if twice_area(&ring) < 0 {
        contour.reverse();
    }
    contour
}

/// One edge with its outward normal and how far out its padded edge lies.
struct Side {
    from: [i64; 2],
    to: [i64; 2],
    normal: [f64; 2],
    by: f64,
}

impl Side {
    fn new(from: [i64; 2], to: [i64; 2], by: f64) -> Self {
        let along = minus(to, from);
        let (x, y) = (along[0] as f64, along[1] as f64);
        let length = (x * x + y * y).sqrt();
        let slanted = along[0] != 0 && along[1] != 0;
        let by = if slanted { by + SLANT } else { by };
        Self { from, to, normal: [y / length, -x / length], by }
    }

    fn out(&self, p: [i64; 2]) -> Point {
        shifted(p, self.normal, self.by)
    }
}

fn shifted(p: [i64; 2], along: [f64; 2], by: f64) -> Point {
    let one = |axis: usize| p[axis] + (along[axis] * by).round() as i64;
    point([one(0), one(1)])
}

/// Corner, end of the padded edge, tip or tips, start of the next padded edge.
fn wedge(side: &Side, next: &Side) -> Vec<Point> {
    let corner = side.to;
    let mut contour = vec![point(corner), side.out(corner)];
    let (u, v) = (side.normal, next.normal);
    if 0.0 < dot(u, v) && u[0] * v[1] - u[1] * v[0] < STRAIGHT {
        contour.push(next.out(corner));
        return contour;
    }
    if MITRE <= dot(u, v) {
        contour.push(tip(corner, (u, side.by), (v, next.by)));
    } else {
        let by = side.by.max(next.by) + SLANT;
        fan(corner, (u, v), by, &mut contour);
    }
    contour.push(next.out(corner));
    contour
}

/// Tips of a polygon about the arc between two normals, halved until its steps are small.
fn fan(corner: [i64; 2], normals: ([f64; 2], [f64; 2]), by: f64, contour: &mut Vec<Point>) {
    let (u, v) = normals;
    if STEP <= dot(u, v) {
        contour.push(tip(corner, (u, by), (v, by)));
        return;
    }
    let (mut x, mut y) = (u[0] + v[0], u[1] + v[1]);
    if x * x + y * y < 1e-6 {
        // A corner of nearly nothing: straight ahead of its first edge.
        (x, y) = (-u[1], u[0]);
    }
    let length = (x * x + y * y).sqrt();
    let middle = [x / length, y / length];
    fan(corner, (u, middle), by, contour);
    fan(corner, (middle, v), by, contour);
}

/// Where two lines meet that lie `by` in front of the corner, each along its normal.
fn tip(corner: [i64; 2], (u, by_u): ([f64; 2], f64), (v, by_v): ([f64; 2], f64)) -> Point {
    let sine = u[0] * v[1] - u[1] * v[0];
    let x = (by_u * v[1] - by_v * u[1]) / sine;
    let y = (by_v * u[0] - by_u * v[0]) / sine;
    point([corner[0] + x.round() as i64, corner[1] + y.round() as i64])
}

fn dot(u: [f64; 2], v: [f64; 2]) -> f64 {
    u[0] * v[0] + u[1] * v[1]
}
