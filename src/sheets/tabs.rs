//! Where an outline stays whole to hold its part in the sheet: on straight sides, away from holes
//! and bends, because what is left of a tab is ground off and must not lie in either.

use super::rings::Ring;
use super::{Lying, Segment, Wanted};
use crate::geom::{BedFrame, Point, side_distance};

type P = Point<BedFrame>;

/// What a tab keeps from holes, and from the zones of bends, mm. Common practice, no source.
const AROUND: f64 = 5.0;
/// A side shorter than so many tabs has none.
const SIDE: f64 = 8.0;
/// Places tried for a tab, from the one meant to either side.
const TRIED: i32 = 12;

/// The tabs of one blank, by its contours, its outline last: on sides as long as `every` one for
/// each such length, on others one in the middle of the two longest that have room.
pub(super) fn tabs(
    wanted: &[Wanted],
    (own, rings): (&Lying, &[Ring]),
    (width, every): (f64, f64),
) -> Vec<Segment> {
    let Some((outline, holes)) = rings.split_last() else { return Vec::new() };
    let map = own.map();
    let bends = wanted[own.wanted].blank.bends.iter();
    let bends: Vec<([P; 2], f64)> =
        bends.map(|bend| (bend.line.map(|p| map.point(p)), bend.allowance / 2.0)).collect();
    let clear = |at: P| {
        let off = |[a, b]: &[P; 2]| side_distance(at, *a, *b, 0.0) - width / 2.0;
        bends.iter().all(|(line, half)| half + AROUND <= off(line))
            && holes
                .iter()
                .all(|ring| ring.straight.sides().all(|(a, b, _)| AROUND <= off(&[a, b])))
    };
    let mut sides: Vec<(P, P)> = outline
        .path
        .sides()
        .filter(|(a, b, bulge)| *bulge == 0.0 && SIDE * width < a.distance(*b))
        .map(|(a, b, _)| (a, b))
        .collect();
    sides.sort_by(|a, b| b.0.distance(b.1).total_cmp(&a.0.distance(a.1)));
    let (mut tabs, mut held) = (Vec::new(), 0);
    for (a, b) in sides {
        if 2 <= held && a.distance(b) < every {
            break;
        }
        let own = on_side((a, b), (width, every), &clear);
        held += usize::from(!own.is_empty());
        tabs.extend(own);
    }
    tabs
}

/// The tabs of one side: one in every equal share of it, as near its middle as there is room.
fn on_side((a, b): (P, P), (width, every): (f64, f64), clear: &impl Fn(P) -> bool) -> Vec<Segment> {
    let length = a.distance(b);
    let count = (length / every).round().max(1.0);
    let half = (b - a).unit() * (width / 2.0);
    let share = length / count;
    // Twice its own width from the ends of its share.
    let reach = (share / 2.0 - 2.0 * width).max(0.0);
    let steps = (0..=TRIED).flat_map(|i| [i, -i]);
    let place = |share_of: f64| {
        let meant = share * (share_of + 0.5);
        let mut tried = steps.clone().map(|i| meant + reach * f64::from(i) / f64::from(TRIED));
        tried.find_map(|s| Some(a.toward(b, s / length)).filter(|at| clear(*at)))
    };
    let places = (0..count as usize).filter_map(|i| place(i as f64));
    places.map(|middle| [middle - half, middle + half]).collect()
}
