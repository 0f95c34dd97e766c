//! Contours without what rounding alone made: slits and holes too narrow to be believed.

use std::collections::BTreeMap;

use crate::nest::ring::{Contours, Point};

/// Least width of a hole or slit, units: a smaller one may come of rounding alone.
const CRUMB: f64 = 3.0;

/// The contours with loops that touch themselves taken apart, and without holes and slits that are
/// too narrow. What is forbidden only grows.
pub(crate) fn without_slivers(contours: &Contours) -> Contours {
    let loops = contours.iter().flat_map(|contour| loops(contour));
    loops.map(without_slits).filter(|contour| 2 < contour.len() && !is_crumb(contour)).collect()
}

/// A contour taken apart where it comes back to a corner.
fn loops(contour: &[Point]) -> Contours {
    let mut found = Vec::new();
    let mut open: Vec<Point> = Vec::new();
    let mut places: BTreeMap<(i32, i32), usize> = BTreeMap::new();
    for p in contour {
        if let Some(at) = places.get(&(p.x, p.y)).copied() {
            let closed: Vec<Point> = open.drain(at..).collect();
            closed.iter().for_each(|p| {
                places.remove(&(p.x, p.y));
            });
            found.push(closed);
        }
        places.insert((p.x, p.y), open.len());
        open.push(*p);
    }
    found.push(open);
    found
}

/// Without corners at which the contour turns back into what is forbidden.
fn without_slits(mut contour: Vec<Point>) -> Vec<Point> {
    let mut at = 0;
    let mut kept = 0;
    while kept < contour.len() && 2 < contour.len() {
        let n = contour.len();
        let [before, here, after] = [n - 1, 0, 1].map(|step| contour[(at + step) % n]);
        if is_slit(before, here, after) {
            contour.remove(at);
            kept = 0;
            at = (at + n - 1) % n;
        } else {
            kept += 1;
            at += 1;
        }
        at %= contour.len();
    }
    contour
}

/// Whether a contour turns back to the right here, and leaves too little between.
fn is_slit(before: Point, here: Point, after: Point) -> bool {
    let back = [before, after].map(|p| [p.x - here.x, p.y - here.y].map(f64::from));
    let [[ax, ay], [bx, by]] = back;
    let dot = ax * bx + ay * by;
    let cross = ax * by - ay * bx;
    // Seen from the corner, the next corner lies to the right of the one before where it is convex.
    let longer = (ax * ax + ay * ay).max(bx * bx + by * by).sqrt();
    0.0 < dot && 0.0 <= cross && cross < CRUMB * longer
}

/// Whether a contour is a hole that is too narrow.
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
