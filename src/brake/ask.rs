//! Single strokes asked about: whether they can be made in a state of the part.

use super::bench::Bench;
use super::job::Job;
use super::search::{Search, Stroke, Tool};
use super::shape::Done;
use crate::kit::Part;
use crate::shelf::{Material, Shop};

/// Whether some bends can be made in one stroke with the shop's tools when `done` are made, with
/// the parent's side at the gauge and with the child's: none where it cannot be, else whether
/// something of that side lies against the gauge. Bends are indices into the part's bends.
pub fn can_bend(
    part: &Part,
    (shop, material): (&Shop, &Material),
    done: &[usize],
    stroke: &[usize],
) -> [Option<bool>; 2] {
    let bench = Bench::new(&shop.brake);
    let job = Job::new(part, &bench, shop, material);
    let bits = |of: &[usize]| of.iter().fold(0, |bits: Done, bend| bits | 1 << bend);
    let (done, mask) = (bits(done), bits(stroke));
    let Some(unit) = job.units.iter().position(|unit| unit.mask & mask != 0) else {
        return [None, None];
    };
    let mut search = Search::new(&job);
    let beside = search.beside(done, mask, unit);
    [0, 1].map(|gauge| {
        let stroke = Stroke { mask, unit, gauge };
        let unit = &job.units[unit];
        let mut serves = |tool| search.fit(done, stroke, tool).is_ok();
        let punch = unit.punches.iter().any(|punch| serves(Tool::Punch(*punch)));
        let die = unit.dies.iter().any(|die| serves(Tool::Die(*die)));
        (punch && die).then(|| beside.stops[gauge].is_some())
    })
}
