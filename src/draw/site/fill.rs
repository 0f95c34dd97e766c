//! Lists set into what rooms are left beside the views: each where it fits whole, so that only
//! tables longer than a room are split.

use super::super::block::{Block, flow, height};
use super::super::canvas::{Canvas, Room};
use crate::geom::Point;

/// Least height of a room in which a long table is begun, mm.
const BEGIN: f64 = 40.0;
/// Room between two lists, mm.
const BETWEEN: f64 = 5.0;

/// A block, and whether it may be split where it fits nowhere whole.
#[derive(Debug, Clone)]
pub(super) struct List {
    /// What is set.
    pub(super) block: Block,
    /// Whether it may go on in the next room.
    pub(super) splits: bool,
}

/// Sets the lists into the rooms, first fit; what found no room comes back in order.
pub(super) fn fill(canvas: &mut Canvas, lists: Vec<List>, rooms: &[Room]) -> Vec<List> {
    let mut waiting = lists;
    for room in rooms {
        let mut top = room.high.y;
        let mut later = Vec::new();
        for list in waiting {
            let space = Room { low: room.low, high: Point::new(room.high.x, top) };
            let high = height(&list.block, space.width()) - BETWEEN;
            let fits = high <= space.height();
            // What waits keeps its order: a long table begins only when nothing waits before it.
            let begins = list.splits && later.is_empty() && BEGIN <= space.height();
            if !fits && !begins {
                later.push(list);
                continue;
            }
            let rest = flow(canvas, vec![list.block], &[space]);
            top = if rest.is_empty() { top - high - BETWEEN } else { room.low.y };
            later.extend(rest.into_iter().map(|block| List { block, splits: list.splits }));
        }
        waiting = later;
    }
    waiting
}
