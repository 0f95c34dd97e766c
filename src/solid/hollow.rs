//! The container's members as they are with its hollows cut out: a rail is open where a fork pocket
//! passes.

use super::convex::Spot;
use crate::kit::Member;

/// The upright boxes that are left of a member, as lower and upper corners.
pub(super) fn remains(member: &Member, members: &[Member]) -> Vec<[Spot; 2]> {
    let mut boxes = vec![[member.low, member.high]];
    for hollow in members.iter().filter(|other| other.hollow) {
        boxes = boxes.iter().flat_map(|whole| without(*whole, hollow)).collect();
    }
    boxes
}

/// A box less a hollow: what lies beside it along X, then Y, then Z.
fn without(whole: [Spot; 2], hollow: &Member) -> Vec<[Spot; 2]> {
    let [mut low, mut high] = whole.map(|p| [p.x, p.y, p.z]);
    let (from, to) = (hollow.low, hollow.high);
    let (from, to) = ([from.x, from.y, from.z], [to.x, to.y, to.z]);
    if (0..3).any(|axis| to[axis] <= low[axis] || high[axis] <= from[axis]) {
        return vec![whole];
    }
    let mut left = Vec::new();
    let point = |[x, y, z]: [f64; 3]| Spot::new(x, y, z);
    for axis in 0..3 {
        if low[axis] < from[axis] {
            let mut top = high;
            top[axis] = from[axis];
            left.push([point(low), point(top)]);
            low[axis] = from[axis];
        }
        if to[axis] < high[axis] {
            let mut bottom = low;
            bottom[axis] = to[axis];
            left.push([point(bottom), point(high)]);
            high[axis] = to[axis];
        }
    }
    left
}
