//! Closed rings of straight sides in the plane of the picture.

use super::cover::Sight;
use super::model::Spot;
use crate::geom::{Point, ViewFrame};

/// Lines nearer than this to a facet's border count as covered, so that nothing shows through the
/// joint between two facets, mm.
pub(super) const BORDER: f64 = 1e-6;

/// A point of the picture.
pub(super) type Dot = Point<ViewFrame>;

/// Where a point of space is seen.
pub(super) fn flat(p: Spot) -> Dot {
    Dot::new(p.x, p.y)
}

/// Adds where a line meets the sides and the corners of a ring.
pub(super) fn crossings(ring: &[Spot], sight: &Sight, cuts: &mut Vec<f64>) {
    let (start, along, length) = (sight.start, sight.along, sight.length);
    if length <= BORDER {
        return;
    }
    let away = |p: Dot| along.cross(p - start) / length;
    let Some(mut before) = ring.last().map(|p| flat(*p)) else { return };
    let mut off = away(before);
    for &p in ring {
        let p = flat(p);
        let next = away(p);
        if next.abs() <= BORDER {
            cuts.push(along.dot(p - start) / (length * length));
        } else if off.abs() > BORDER && (off > 0.0) != (next > 0.0) {
            let at = before.toward(p, off / (off - next));
            cuts.push(along.dot(at - start) / (length * length));
        }
        (before, off) = (p, next);
    }
}

/// Whether no corner of a ring turns to the right.
pub(super) fn is_convex(ring: &[Spot]) -> bool {
    let n = ring.len();
    n <= MANY && {
        let corner = |i: usize| flat(ring[i % n]);
        let turn = |i: usize| (corner(i + 1) - corner(i)).cross(corner(i + 2) - corner(i + 1));
        (0..n).all(|i| turn(i) >= 0.0)
    }
}

/// Rings with more corners are not asked whether they are convex.
pub(super) const MANY: usize = 8;

/// What of a stretch of a line lies within a convex ring, its border included.
pub(super) fn clip(ring: &[Spot], sight: &Sight, [from, to]: [f64; 2]) -> Option<[f64; 2]> {
    let (mut from, mut to) = (from, to);
    let mut a = flat(ring[ring.len() - 1]);
    for &b in ring {
        let b = flat(b);
        let side = b - a;
        let border = BORDER * BORDER * side.dot(side);
        let level = |d: f64| if d * d <= border { 0.0 } else { d };
        let start = side.cross(sight.start - a);
        let (u, v) = (level(start), level(start + side.cross(sight.along)));
        if u < 0.0 && v <= 0.0 || u <= 0.0 && v < 0.0 {
            return None;
        }
        if u < 0.0 {
            from = from.max(u / (u - v));
        } else if v < 0.0 {
            to = to.min(u / (u - v));
        }
        a = b;
    }
    (from < to).then_some([from, to])
}

/// Calls `weigh` where a line properly crosses the sides of a ring.
pub(super) fn crosses(ring: &[Spot], line: &[Dot; 2], weigh: &mut impl FnMut(Dot)) {
    let along = line[1] - line[0];
    let away = |p: Dot| along.cross(p - line[0]);
    let mut a = flat(ring[ring.len() - 1]);
    let mut off = away(a);
    for &b in ring {
        let b = flat(b);
        let next = away(b);
        if (off > 0.0) != (next > 0.0) {
            let side = b - a;
            let turn = along.cross(side);
            let (u, v) = ((a - line[0]).cross(side) / turn, (a - line[0]).cross(along) / turn);
            if 0.0 < u && u < 1.0 && 0.0 < v && v < 1.0 {
                weigh(line[0] + along * u);
            }
        }
        (a, off) = (b, next);
    }
}

/// Square of the distance from a point to the stretch from `a` to `b`.
fn square_to_side(p: Dot, a: Dot, b: Dot) -> f64 {
    let side = b - a;
    let share = (p - a).dot(side) / side.dot(side).max(f64::MIN_POSITIVE);
    let off = p - (a + side * share.clamp(0.0, 1.0));
    off.dot(off)
}

/// Distance from a point to the nearest side of a ring.
pub(super) fn to_ring(p: Dot, ring: &[Spot]) -> f64 {
    let mut before = flat(ring[ring.len() - 1]);
    let mut least = f64::INFINITY;
    for &next in ring {
        let next = flat(next);
        least = least.min(square_to_side(p, before, next));
        before = next;
    }
    least.sqrt()
}

/// Whether a ring goes round a point an odd number of times; none on the ring itself.
pub(super) fn turns(ring: &[Spot], p: Dot) -> Option<bool> {
    let mut odd = false;
    let mut a = flat(*ring.last()?);
    for &b in ring {
        let b = flat(b);
        let (side, spot) = (b - a, p - a);
        let cross = side.cross(spot);
        if cross * cross <= BORDER * BORDER * side.dot(side) && at_side(side, spot) {
            return None;
        }
        if (a.y > p.y) != (b.y > p.y) && (cross > 0.0) == (side.y > 0.0) {
            odd = !odd;
        }
        a = b;
    }
    Some(odd)
}

/// Whether a spot on the line through a side lies on the side; both from the side's start.
fn at_side(side: Dot, spot: Dot) -> bool {
    let along = side.dot(spot);
    let off = if along < 0.0 {
        spot
    } else if along > side.dot(side) {
        spot - side
    } else {
        return true;
    };
    off.dot(off) <= BORDER * BORDER
}
