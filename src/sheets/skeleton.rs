//! Cuts that divide what is left of a sheet, so that it can be carried off in pieces. They keep out
//! of parts, blocked places and the remnant.

use super::rings::Rings;
use super::{CutSheet, Segment};
use crate::geom::{BedFrame, Bounds, Path, Point};

/// Upright cuts through what is left, `every` so far one, `clear` away from every blank and from
/// blocked places.
pub(super) fn skeleton(
    sheet: &CutSheet,
    rings: &Rings,
    (clear, every): (f64, f64),
) -> Vec<Segment> {
    let mut lines = Vec::new();
    for step in 1.. {
        let x = every * f64::from(step);
        if sheet.board.size[0] - clear < x {
            break;
        }
        lines.extend(upright(sheet, rings, (x, clear)));
    }
    lines
}

/// The free stretches of one upright line.
fn upright(sheet: &CutSheet, rings: &Rings, (x, clear): (f64, f64)) -> Vec<Segment> {
    let near = [x - clear, x + clear];
    let outlines = rings.all.iter().filter(|ring| ring.hole.is_none());
    let parts = outlines.filter_map(|ring| band(&ring.straight, near));
    let held = |place: &Bounds<BedFrame>, by: f64| {
        let meets = near[0] < place.high.x && place.low.x < near[1];
        meets.then_some([place.low.y - by, place.high.y + by])
    };
    let blocked = sheet.board.blocked.iter().filter_map(|place| held(place, 0.0));
    // The remnant is cut up to its edge, and not into.
    let rest = sheet.remnant.iter().filter_map(|rest| held(rest, -clear));
    let mut taken: Vec<[f64; 2]> = parts.chain(blocked).chain(rest).collect();
    taken.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut from, mut free) = (0.0, Vec::new());
    let high = sheet.board.size[1];
    for [low, most] in taken.into_iter().chain([[high + clear, f64::INFINITY]]) {
        let to = (low - clear).min(high);
        if from + clear < to {
            free.push([Point::new(x, from), Point::new(x, to)]);
        }
        from = from.max(most + clear);
    }
    free
}

/// What of a ring lies between two uprights: its least and greatest y.
fn band(ring: &Path<BedFrame>, [low, high]: [f64; 2]) -> Option<[f64; 2]> {
    let mut found: Option<[f64; 2]> = None;
    for (a, b, _) in ring.sides() {
        let (left, right) = if a.x <= b.x { (a, b) } else { (b, a) };
        if high < left.x || right.x < low {
            continue;
        }
        let at = |x: f64| {
            let run = right.x - left.x;
            let share = if run > 0.0 { ((x - left.x) / run).clamp(0.0, 1.0) } else { 0.0 };
            left.y + (right.y - left.y) * share
        };
        let upright = right.x - left.x <= 0.0;
        let ends = if upright { [left.y, right.y] } else { [at(low), at(high)] };
        for y in ends {
            let [least, most] = found.unwrap_or([y, y]);
            found = Some([least.min(y), most.max(y)]);
        }
    }
    found
}
