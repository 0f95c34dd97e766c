//! Bounding rectangles laid bottom-left: quick, and right for any shape, though never tight.

use super::{Job, Placed, Rect, Stock};

/// The free part of a sheet as largest rectangles, which may overlap. A part takes up its bounding
/// rectangle and one gap to the right of it and above it.
struct Free(Vec<Rect>);

impl Free {
    fn of(job: &Job, stock: &Stock) -> Self {
        let far = |axis: usize| stock.size[axis] - job.margin + job.gap;
        let mut free = Free(vec![Rect { low: [job.margin; 2], high: [far(0), far(1)] }]);
        for rect in &stock.blocked {
            free.take(Rect { low: rect.low, high: rect.high.map(|v| v + job.gap) });
        }
        free
    }

    /// Cuts a rectangle out of all that is free.
    fn take(&mut self, taken: Rect) {
        let apart =
            |r: &Rect| (0..2).any(|k| r.high[k] <= taken.low[k] || taken.high[k] <= r.low[k]);
        let (mut kept, cut): (Vec<Rect>, Vec<Rect>) = self.0.iter().partition(|r| apart(r));
        for rect in cut {
            for axis in 0..2 {
                let (mut below, mut above) = (rect, rect);
                below.high[axis] = taken.low[axis];
                above.low[axis] = taken.high[axis];
                let new = [below, above].into_iter().filter(|r| r.low[axis] < r.high[axis]);
                kept.extend(new);
            }
        }
        kept.sort();
        kept.dedup();
        let within = |a: &Rect, b: &Rect| {
            a != b && (0..2).all(|k| b.low[k] <= a.low[k] && a.high[k] <= b.high[k])
        };
        self.0 = kept.iter().filter(|a| !kept.iter().any(|b| within(a, b))).copied().collect();
    }
}

/// Lays parts on a sheet in the order given, up to the numbers given, each where it comes lowest,
/// then leftmost.
pub(super) fn fill(job: &Job, stock: &Stock, order: &[(usize, u32)]) -> Vec<Placed> {
    let mut free = Free::of(job, stock);
    let mut placed = Vec::new();
    for (item, most) in order {
        for _ in 0..*most {
            let Some((found, rect)) = place(job, &free, *item) else { break };
            free.take(Rect { low: rect.low, high: rect.high.map(|v| v + job.gap) });
            placed.push(found);
        }
    }
    placed
}

/// Where a part comes lowest, then leftmost, and the rectangle it lies in.
fn place(job: &Job, free: &Free, item: usize) -> Option<(Placed, Rect)> {
    let mut best: Option<([i64; 3], Placed, Rect)> = None;
    let part = &job.items[item];
    for (turn, mirrored) in part.poses() {
        let pose = Placed { item, at: [0, 0], turn, mirrored };
        let own = pose.extent(&part.shape);
        let size = own.size();
        for space in &free.0 {
            let [wide, high] = space.size();
            if wide < size[0] + job.gap || high < size[1] + job.gap {
                continue;
            }
            let key = [space.low[1] + size[1], space.low[1], space.low[0]];
            if best.as_ref().is_none_or(|best| key < best.0) {
                let at = [space.low[0] - own.low[0], space.low[1] - own.low[1]];
                let far = [space.low[0] + size[0], space.low[1] + size[1]];
                best = Some((key, Placed { at, ..pose }, Rect { low: space.low, high: far }));
            }
        }
    }
    best.map(|(_, placed, rect)| (placed, rect))
}
