//! Convex polygons in a plane: hull, clipping, distance, and cutting a polygon into convex ones.

use crate::geom::Point;

/// Distance within which two points are one and three lie on a line.
const FLAT: f64 = 1e-9;

/// The convex hull, counter-clockwise.
pub(super) fn hull<F>(mut points: Vec<Point<F>>) -> Vec<Point<F>> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut ring: Vec<Point<F>> = Vec::with_capacity(points.len() + 1);
    for pass in 0..2 {
        let start = ring.len();
        for &p in &points {
            while start + 2 <= ring.len()
                && turn(ring[ring.len() - 2], ring[ring.len() - 1], p) <= FLAT
            {
                ring.pop();
            }
            ring.push(p);
        }
        ring.pop();
        if pass == 0 {
            points.reverse();
        }
    }
    ring
}

/// Twice the area of the triangle: positive when it runs counter-clockwise.
fn turn<F>(a: Point<F>, b: Point<F>, c: Point<F>) -> f64 {
    (b - a).cross(c - b)
}

/// What of a convex polygon lies where `(p - at) . normal >= 0`.
pub(super) fn clip<F>(polygon: &[Point<F>], at: Point<F>, normal: Point<F>) -> Vec<Point<F>> {
    let height = |p: Point<F>| (p - at).dot(normal);
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for (i, &p) in polygon.iter().enumerate() {
        let q = polygon[(i + 1) % polygon.len()];
        let (a, b) = (height(p), height(q));
        if a >= 0.0 {
            kept.push(p);
        }
        if (a < 0.0) != (b < 0.0) {
            kept.push(p.toward(q, a / (a - b)));
        }
    }
    kept
}

/// Distance of a point to a convex polygon: 0 inside.
pub(super) fn point_distance<F>(p: Point<F>, polygon: &[Point<F>]) -> f64 {
    let n = polygon.len();
    let sides = (0..n).map(|i| (polygon[i], polygon[(i + 1) % n]));
    if 3 <= n && sides.clone().all(|(a, b)| turn(a, b, p) >= 0.0) {
        return 0.0;
    }
    sides.map(|(a, b)| to_side(p, a, b)).fold(f64::INFINITY, f64::min)
}

fn to_side<F>(p: Point<F>, a: Point<F>, b: Point<F>) -> f64 {
    let along = b - a;
    let square = along.dot(along);
    let share = if square == 0.0 { 0.0 } else { ((p - a).dot(along) / square).clamp(0.0, 1.0) };
    let off = a.toward(b, share) - p;
    off.dot(off).sqrt()
}

/// The unit vectors out of a polygon's sides, each from its corner to the next.
pub(super) fn normals<F>(polygon: &[Point<F>]) -> Vec<Point<F>> {
    let side = |i: usize| polygon[(i + 1) % polygon.len()] - polygon[i];
    (0..polygon.len()).map(|i| side(i).right().unit()).collect()
}

/// A convex polygon with the unit vectors out of its sides.
pub(super) type Sided<'a, F> = (&'a [Point<F>], &'a [Point<F>]);

/// Distance between two convex polygons as far as it is asked for: exact below `enough`, at least
/// `enough` otherwise and never more than it is; 0 or less when they share points.
pub(super) fn distance<F>(a: Sided<'_, F>, b: Sided<'_, F>, enough: f64) -> f64 {
    let apart = separation(a, b.0, enough);
    if enough <= apart {
        return apart;
    }
    let apart = apart.max(separation(b, a.0, enough));
    if apart <= 0.0 || enough <= apart {
        return apart;
    }
    let corners = |of: &[Point<F>], to: &[Point<F>]| {
        of.iter().map(|&p| point_distance(p, to)).fold(f64::INFINITY, f64::min)
    };
    corners(a.0, b.0).min(corners(b.0, a.0))
}

/// The widest gap between the polygons across a side of the first, or the first one found that is
/// wide enough; negative when every side's line has points of the second on its inner side.
fn separation<F>(a: Sided<'_, F>, b: &[Point<F>], enough: f64) -> f64 {
    let mut widest = f64::NEG_INFINITY;
    for (&p, &out) in a.0.iter().zip(a.1) {
        let nearest = b.iter().map(|&q| (q - p).dot(out)).fold(f64::INFINITY, f64::min);
        widest = widest.max(nearest);
        if enough <= widest {
            break;
        }
    }
    widest
}

/// Cuts a simple polygon, counter-clockwise, into convex ones: ears, joined again where what comes
/// of it is convex.
pub(super) fn convex_parts<F>(polygon: &[Point<F>]) -> Vec<Vec<Point<F>>> {
    let mut left: Vec<Point<F>> = polygon.to_vec();
    let mut parts: Vec<Vec<Point<F>>> = Vec::new();
    while 3 < left.len() && !is_convex(&left) {
        let n = left.len();
        let corner = |i: usize| [left[(i + n - 1) % n], left[i], left[(i + 1) % n]];
        let ear = (0..n).find(|&i| is_ear(&left, i)).unwrap_or(0);
        let triangle = corner(ear).to_vec();
        left.remove(ear);
        if turn(triangle[0], triangle[1], triangle[2]) > FLAT {
            join(&mut parts, triangle);
        }
    }
    if 3 <= left.len() {
        join(&mut parts, left);
    }
    parts
}

fn is_convex<F>(polygon: &[Point<F>]) -> bool {
    let n = polygon.len();
    (0..n).all(|i| turn(polygon[i], polygon[(i + 1) % n], polygon[(i + 2) % n]) >= -FLAT)
}

fn is_ear<F>(polygon: &[Point<F>], i: usize) -> bool {
    let n = polygon.len();
    let (before, after) = ((i + n - 1) % n, (i + 1) % n);
    let (a, b, c) = (polygon[before], polygon[i], polygon[after]);
    let inside =
        |p: Point<F>| turn(a, b, p) > -FLAT && turn(b, c, p) > -FLAT && turn(c, a, p) > -FLAT;
    let other = |j: &usize| *j != before && *j != i && *j != after;
    let same = |p: Point<F>| [a, b, c].iter().any(|q| q.distance(p) < FLAT);
    turn(a, b, c) >= -FLAT && !(0..n).filter(other).any(|j| inside(polygon[j]) && !same(polygon[j]))
}

/// Adds a convex polygon, as a part of the one before where the two are convex together.
fn join<F>(parts: &mut Vec<Vec<Point<F>>>, next: Vec<Point<F>>) {
    if let Some(last) = parts.last_mut() {
        let joined = hull(last.iter().chain(&next).copied().collect());
        let sum = area(last) + area(&next);
        if (area(&joined) - sum).abs() <= FLAT * sum.max(1.0) {
            *last = joined;
            return;
        }
    }
    parts.push(next);
}

fn area<F>(polygon: &[Point<F>]) -> f64 {
    let n = polygon.len();
    (1..n.max(1) - usize::from(n > 0))
        .map(|i| turn(polygon[0], polygon[i], polygon[i + 1]) / 2.0)
        .sum()
}
