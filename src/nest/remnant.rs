//! What one straight cut across a sheet sets free.

use super::{Job, Layout, Rect, Stock};

/// The largest rectangle worth keeping that one straight cut across the whole sheet sets free.
/// The cut keeps one gap from every part. Blocked places do not count as free, and the rectangle is
/// at least `job.least_remnant` wide in both directions. None where there is none.
pub fn remnant(job: &Job, stock: &Stock, layout: &Layout) -> Option<Rect> {
    let taken = layout.placed.iter().map(|placed| {
        let Rect { low, high } = placed.extent(&job.items[placed.item].shape);
        Rect { low: low.map(|v| v - job.gap), high: high.map(|v| v + job.gap) }
    });
    let taken: Vec<Rect> = taken.collect();
    let [wide, high] = stock.size;
    let least = |axis: usize| taken.iter().map(|rect| rect.low[axis]).min();
    let most = |axis: usize| taken.iter().map(|rect| rect.high[axis]).max();
    let sides = [
        Rect { low: [most(0).unwrap_or(0), 0], high: [wide, high] },
        Rect { low: [0, most(1).unwrap_or(0)], high: [wide, high] },
        Rect { low: [0, 0], high: [least(0).unwrap_or(wide), high] },
        Rect { low: [0, 0], high: [wide, least(1).unwrap_or(high)] },
    ];
    let least = job.least_remnant.max(1);
    let mut best: Option<Rect> = None;
    for side in sides {
        let Some(free) = free(side, &stock.blocked, least) else { continue };
        if best.is_none_or(|best| best.area() < free.area()) {
            best = Some(free);
        }
    }
    best
}

/// The largest part of a rectangle that holds no blocked place and is wide enough: beside each
/// blocked place, there are four to choose from.
fn free(side: Rect, blocked: &[Rect], least: i64) -> Option<Rect> {
    if side.size().iter().any(|width| *width < least) {
        return None;
    }
    let inside = |place: &Rect| {
        (0..2).all(|axis| place.low[axis] < side.high[axis] && side.low[axis] < place.high[axis])
    };
    let Some(at) = blocked.iter().position(inside) else { return Some(side) };
    let (place, rest) = (blocked[at], &blocked[at + 1..]);
    let beside = (0..2).flat_map(|axis| {
        let (mut before, mut after) = (side, side);
        before.high[axis] = place.low[axis];
        after.low[axis] = place.high[axis];
        [before, after]
    });
    let mut best: Option<Rect> = None;
    for rect in beside.filter_map(|beside| free(beside, rest, least)) {
        if best.is_none_or(|best| best.area() < rect.area()) {
            best = Some(rect);
        }
    }
    best
}
