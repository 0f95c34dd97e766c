//! Closed rings of straight sides in the plane of the picture.

use crate::geom::{Point, ViewFrame};

/// Lines nearer than this to a facet's border count as covered, so that nothing shows through the
/// joint between two facets, mm.
pub(super) const BORDER: f64 = 1e-6;

/// A point of the picture.
pub(super) type Dot = Point<ViewFrame>;

/// Adds where a line meets the sides and the corners of a ring.
pub(super) fn crossings(ring: &[Dot], line: &[Dot; 2], cuts: &mut Vec<f64>) {
    let along = line[1] - line[0];
    let length = along.length();
    if length <= BORDER {
        return;
    }
    let away = |p: Dot| along.cross(p - line[0]) / length;
    let Some(mut before) = ring.last().copied() else { return };
    let mut off = away(before);
    for &p in ring {
        let next = away(p);
        if next.abs() <= BORDER {
            cuts.push(along.dot(p - line[0]) / (length * length));
        } else if off.abs() > BORDER && (off > 0.0) != (next > 0.0) {
            let at = before.toward(p, off / (off - next));
            cuts.push(along.dot(at - line[0]) / (length * length));
        }
        (before, off) = (p, next);
    }
}

/// Calls `weigh` where a line properly crosses the sides of a ring.
pub(super) fn crosses(ring: &[Dot], line: &[Dot; 2], weigh: &mut impl FnMut(Dot)) {
    let along = line[1] - line[0];
    let mut a = ring[ring.len() - 1];
    for &b in ring {
        let side = b - a;
        let turn = along.cross(side);
        let (u, v) = ((a - line[0]).cross(side) / turn, (a - line[0]).cross(along) / turn);
        if 0.0 < u && u < 1.0 && 0.0 < v && v < 1.0 {
            weigh(line[0] + along * u);
        }
        a = b;
    }
}

/// Distance from a point to the stretch from `a` to `b`.
pub(super) fn to_side(p: Dot, a: Dot, b: Dot) -> f64 {
    let side = b - a;
    let share = (p - a).dot(side) / side.dot(side).max(f64::MIN_POSITIVE);
    p.distance(a + side * share.clamp(0.0, 1.0))
}

/// Whether a ring goes round a point an odd number of times; none on the ring itself.
pub(super) fn turns(ring: &[Dot], p: Dot) -> Option<bool> {
    let mut odd = false;
    let mut a = *ring.last()?;
    for &b in ring {
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
