//! Where one shape must not lie relative to another: exact no-fit polygons.
//!
//! For two outlines the no-fit polygon is what their convolution winds around: for each edge of
//! one and each corner of the other whose turn passes the edge's direction, that edge shifted to
//! that corner, run backwards where the corner is a reflex one. The winding number of a place is
//! the number of pieces in which the two would overlap there. Openings that hold the other shape
//! are then taken out.

use crate::nest::model::{Ring, Shape};
use crate::nest::ring::{
    Contours, Point, bounds, cross, difference, edges, minus, plus, point, union,
};

/// Shifts of `moving` at which it overlaps `fixed`, as shapes of one outer contour and holes.
pub(crate) fn no_fit(fixed: &Shape, moving: &Shape) -> Vec<Contours> {
    let turned: Ring = moving.outer.iter().map(|p| [-p[0], -p[1]]).collect();
    let outer = convolution(&fixed.outer, &turned);
    let mut free: Contours = Vec::new();
    for hole in &fixed.holes {
        free.extend(held(hole, &moving.outer).into_iter().flatten());
    }
    for hole in &moving.holes {
        let places = held(hole, &fixed.outer).into_iter().flatten();
        free.extend(places.map(|c| c.into_iter().map(|p| Point::new(-p.x, -p.y)).collect()));
    }
    if free.is_empty() { union(&outer) } else { difference(&flat(union(&outer)), &free) }
}

fn flat(shapes: Vec<Contours>) -> Contours {
    shapes.into_iter().flatten().collect()
}

/// Shifts of a ring at which it lies inside a hole: the hole drawn at one corner of the ring, less
/// all shifts at which the two boundaries cross.
fn held(hole: &Ring, ring: &Ring) -> Vec<Contours> {
    let (room, need) = (bounds(hole), bounds(ring));
    let too_small = (0..2).any(|k| room.high[k] - room.low[k] < need.high[k] - need.low[k]);
    let Some(&start) = ring.first() else { return Vec::new() };
    if too_small {
        return Vec::new();
    }
    let subject = vec![hole.iter().map(|&p| point(minus(p, start))).collect()];
    let mut crossings: Contours = Vec::new();
    for (a, b) in edges(hole) {
        for (c, d) in edges(ring) {
            crossings.extend(parallelogram((a, b), (c, d)));
        }
    }
    difference(&subject, &crossings)
}

/// Shifts of the edge `c d` at which it crosses the edge `a b`; none for parallel ones.
fn parallelogram((a, b): ([i64; 2], [i64; 2]), (c, d): ([i64; 2], [i64; 2])) -> Option<Vec<Point>> {
    let mut corners = [minus(a, c), minus(b, c), minus(b, d), minus(a, d)];
    let turn = cross(minus(b, a), minus(c, d));
    if turn < 0 {
        corners.reverse();
    }
    (turn != 0).then(|| corners.iter().map(|&p| point(p)).collect())
}

/// The closed cycles of the convolution of two counter-clockwise rings.
fn convolution(a: &Ring, b: &Ring) -> Contours {
    let steps = steps(a, b);
    let columns = b.len();
    // From every pair of corners lead as many steps as end there.
    let mut leading: Vec<Vec<usize>> = vec![Vec::new(); a.len() * columns];
    for (from, to) in &steps {
        leading[from[0] * columns + from[1]].push(to[0] * columns + to[1]);
    }
    let mut cycles = Vec::new();
    for start in 0..leading.len() {
        while !leading[start].is_empty() {
            let cycle = cycle(&mut leading, start);
            let corner = |pair: &usize| point(plus(a[pair / columns], b[pair % columns]));
            cycles.push(cycle.iter().map(corner).collect());
        }
    }
    cycles
}

/// Follows the steps from a pair of corners until it comes back, and uses them up.
fn cycle(leading: &mut [Vec<usize>], start: usize) -> Vec<usize> {
    let mut pairs = vec![start];
    let mut at = start;
    while let Some(next) = leading[at].pop() {
        if next == start {
            break;
        }
        pairs.push(next);
        at = next;
    }
    pairs
}

/// From one pair of corners to another.
type Step = ([usize; 2], [usize; 2]);

/// All edges of the convolution. Parallel edges are told apart as if `b` were turned a hair
/// counter-clockwise.
fn steps(a: &Ring, b: &Ring) -> Vec<Step> {
    let (turns_a, turns_b) = (corners(a), corners(b));
    let mut steps = Vec::new();
    for (i, at_a) in turns_a.iter().enumerate() {
        for (j, at_b) in turns_b.iter().enumerate() {
            let (next_i, next_j) = ((i + 1) % a.len(), (j + 1) % b.len());
            if at_a.passes(at_b.leaving, true) {
                steps.push(directed([i, j], [i, next_j], at_a.reflex));
            }
            if at_b.passes(at_a.leaving, false) {
                steps.push(directed([i, j], [next_i, j], at_b.reflex));
            }
        }
    }
    steps
}

fn directed(from: [usize; 2], to: [usize; 2], backwards: bool) -> Step {
    if backwards { (to, from) } else { (from, to) }
}

/// A corner of a ring: the edges before and after it.
struct Corner {
    arriving: [i64; 2],
    leaving: [i64; 2],
    reflex: bool,
}

fn corners(ring: &Ring) -> Vec<Corner> {
    let n = ring.len();
    let corner = |i: usize| {
        let arriving = minus(ring[i], ring[(i + n - 1) % n]);
        let leaving = minus(ring[(i + 1) % n], ring[i]);
        Corner { arriving, leaving, reflex: cross(arriving, leaving) < 0 }
    };
    (0..n).map(corner).collect()
}

impl Corner {
    /// Whether the turn at this corner, always less than half a turn, passes a direction;
    /// `low_end` says which end of the turn belongs to it.
    fn passes(&self, direction: [i64; 2], low_end: bool) -> bool {
        let (low, high) = match self.reflex {
            true => (self.leaving, self.arriving),
            false => (self.arriving, self.leaving),
        };
        let (after, before) = (cross(low, direction), cross(direction, high));
        let ends = if low_end { is_along(low, direction) } else { is_along(high, direction) };
        (0 < after && 0 < before) || ends
    }
}

fn is_along(u: [i64; 2], v: [i64; 2]) -> bool {
    cross(u, v) == 0 && 0 < u[0] * v[0] + u[1] * v[1]
}
