//! Sheets filled in a given order, every part at the best place that is still free.

use crate::nest::bed::{Bed, Rule, Spot};
use crate::nest::core::{Core, Pose};
use crate::nest::model::Placed;

/// One part that is to be placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Candidate {
    /// Index of its item.
    pub item: usize,
    /// Index of the one pose it may have; none for the best of all.
    pub pose: Option<usize>,
}

/// Places on one empty sheet what fits of the given order, one part after the other.
pub fn fill(core: &Core, stock: usize, order: &[Candidate], rule: Rule) -> Vec<Placed> {
    let mut bed = Bed::new(core, stock);
    top_up(core, &mut bed, order, rule).into_iter().flatten().collect()
}

/// Places on a sheet that may hold parts already what fits of the given order: for every one its
/// place, or none.
pub fn top_up(
    core: &Core,
    bed: &mut Bed<'_>,
    order: &[Candidate],
    rule: Rule,
) -> Vec<Option<Placed>> {
    // What fitted nowhere once fits nowhere later.
    let mut hopeless: Vec<Candidate> = Vec::new();
    let mut one = |candidate: &Candidate| {
        if hopeless.contains(candidate) {
            return None;
        }
        let found = place(core, bed, *candidate, rule);
        if found.is_none() {
            hopeless.push(*candidate);
        }
        found
    };
    order.iter().map(&mut one).collect()
}

/// Puts one part at its best free place.
pub fn place(core: &Core, bed: &mut Bed<'_>, part: Candidate, rule: Rule) -> Option<Placed> {
    let poses = &core.poses[part.item];
    let mut best: Option<(Spot, Pose)> = None;
    for (at, pose) in poses.iter().enumerate() {
        // A form that was tried already would give the same place again.
        let again = poses[..at].iter().any(|earlier| earlier.form == pose.form);
        if part.pose.is_some_and(|only| only != at) || (part.pose.is_none() && again) {
            continue;
        }
        if let Some(spot) = bed.best(pose.form, rule)
            && best.is_none_or(|(known, _)| spot < known)
        {
            best = Some((spot, *pose));
        }
    }
    let (spot, pose) = best?;
    bed.put(pose.form, spot.at);
    Some(core.placed(part.item, pose, spot.at))
}
