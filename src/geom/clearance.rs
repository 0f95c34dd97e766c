//! How far a point lies inside an outline, and whether outlines cross.

use super::{Path, Point};
use crate::units;

impl<F> Path<F> {
    /// Distance from a point to the outline: positive inside, negative outside. The sense of the
    /// outline does not matter.
    pub fn clearance(&self, p: Point<F>) -> f64 {
        let mut nearest = f64::INFINITY;
        let mut winding = 0;
        for (a, b, bulge) in self.sides() {
            nearest = nearest.min(side_distance(p, a, b, bulge));
            winding += crossing(p, a, b) + bow(p, a, b, bulge);
        }
        if winding == 0 { -nearest } else { nearest }
    }
}

/// 1 when the ray from `p` to the right crosses the segment upwards, -1 downwards, else 0.
fn crossing<F>(p: Point<F>, a: Point<F>, b: Point<F>) -> i32 {
    let left = (b - a).cross(p - a);
    if a.y <= p.y && p.y < b.y && left > 0.0 {
        1
    } else if b.y <= p.y && p.y < a.y && left < 0.0 {
        -1
    } else {
        0
    }
}

/// What an arc adds to the winding of its chord: 1 (or -1, clockwise) between chord and arc.
fn bow<F>(p: Point<F>, a: Point<F>, b: Point<F>, bulge: f64) -> i32 {
    if bulge == 0.0 {
        return 0;
    }
    let (centre, radius) = super::path::arc_centre(a, b, bulge);
    // The arc runs to the right of its chord when it turns left.
    let beside = (b - a).cross(p - a) * bulge < 0.0;
    let inside = centre.distance(p) < radius;
    if beside && inside { if bulge > 0.0 { 1 } else { -1 } } else { 0 }
}

/// Distance from a point to a side, straight (bulge 0) or an arc.
pub fn side_distance<F>(p: Point<F>, a: Point<F>, b: Point<F>, bulge: f64) -> f64 {
    if bulge == 0.0 {
        return segment_distance(p, a, b);
    }
    let (centre, radius) = super::path::arc_centre(a, b, bulge);
    let within = wedge(centre, a, b, p, bulge);
    let from_centre = centre.distance(p);
    if within { (from_centre - radius).abs() } else { p.distance(a).min(p.distance(b)) }
}

/// Whether the direction to `p` from the centre lies on the arc from `a` to `b`.
fn wedge<F>(centre: Point<F>, a: Point<F>, b: Point<F>, p: Point<F>, bulge: f64) -> bool {
    let direction = |q: Point<F>| units::atan2_deg(q.y - centre.y, q.x - centre.x);
    let turn = |q: Point<F>| ((direction(q) - direction(a)) * bulge.signum()).rem_euclid(360.0);
    turn(p) <= turn(b)
}

/// Distance from a point to a segment.
fn segment_distance<F>(p: Point<F>, a: Point<F>, b: Point<F>) -> f64 {
    let side = b - a;
    let share = if side.dot(side) == 0.0 { 0.0 } else { (p - a).dot(side) / side.dot(side) };
    p.distance(a.toward(b, share.clamp(0.0, 1.0)))
}
