//! What one straight cut across a sheet sets free.

use super::{Job, Layout, Rect, Stock};

/// The largest rectangle worth keeping that one straight cut across the whole sheet sets free. The
/// cut keeps one gap from every part; what it sets free holds no blocked place and is at least
/// `job.least_remnant` wide in both directions. None where there is none.
pub fn remnant(job: &Job, stock: &Stock, layout: &Layout) -> Option<Rect> {
    let parts = layout.placed.iter().map(|placed| {
        let Rect { low, high } = placed.extent(&job.items[placed.item].shape);
        Rect { low: low.map(|v| v - job.gap), high: high.map(|v| v + job.gap) }
    });
    let taken: Vec<Rect> = parts.chain(stock.blocked.iter().copied()).collect();
    let [wide, high] = stock.size;
    let least = |axis: usize| taken.iter().map(|rect| rect.low[axis]).min();
    let most = |axis: usize| taken.iter().map(|rect| rect.high[axis]).max();
    let sides = [
        Rect { low: [most(0).unwrap_or(0), 0], high: [wide, high] },
        Rect { low: [0, most(1).unwrap_or(0)], high: [wide, high] },
        Rect { low: [0, 0], high: [least(0).unwrap_or(wide), high] },
        Rect { low: [0, 0], high: [wide, least(1).unwrap_or(high)] },
    ];
    let worth = |rect: &Rect| rect.size().iter().all(|side| job.least_remnant.max(1) <= *side);
    let mut best: Option<Rect> = None;
    for side in sides.into_iter().filter(worth) {
        if best.is_none_or(|best| best.area() < side.area()) {
            best = Some(side);
        }
    }
    best
}
