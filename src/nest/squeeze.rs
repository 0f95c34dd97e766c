//! Parts packed into as short a strip as can be found.

use crate::nest::bed::Rule;
use crate::nest::core::Core;
use crate::nest::crowd::{Crowd, Part};
use crate::nest::dice::Dice;
use crate::nest::fill::{Candidate, fill};
use crate::nest::model::{Placed, Rect};
use crate::nest::separate::{Patience, separate};

/// While exploring.
const EXPLORE: Patience = Patience { rounds: 100, strikes: 3, anywhere: 10, nearby: 10 };

/// While squeezing the last out of the best strip.
const COMPRESS: Patience = Patience { rounds: 50, strikes: 2, anywhere: 10, nearby: 10 };

/// Share of the steps that exploring may use.
const SHARE: f64 = 0.8;

/// By how much the strip shrinks at once while exploring.
const SHRINK: f64 = 0.005;

/// The same while compressing, at the start and at the end.
const SQUEEZE: [f64; 2] = [0.0005, 0.00001];

/// Pushes parts that lie soundly in a room into a shorter one, along x (axis 0) or y (axis 1), by
/// counted steps. The parts as they then lie and the room's far edge along the axis.
pub fn squeeze(
    core: &Core,
    (stock, room): (usize, Rect),
    axis: usize,
    placed: &[Placed],
    (dice, steps): (&mut Dice, u64),
) -> (Vec<Placed>, i64) {
    let mut crowd = Crowd::new(core, stock, room, placed);
    let mut strip = Strip { axis, least: 0, end: 0, best: crowd.parts.clone() };
    strip.least = strip.longest(&crowd).max(strip.filled(&crowd));
    strip.note(&crowd);
    let mut left = (steps as f64 * SHARE) as u64;
    let rest = steps - left;
    strip.explore(&mut crowd, dice, &mut left);
    strip.compress(&mut crowd, dice, rest + left);
    crowd.parts = strip.best;
    (crowd.placed(), strip.end)
}

/// Packs all parts of a job on one sheet of a stock, which is long enough, as far to the left as
/// can be found by counted steps. The parts, and where the last of them ends.
pub fn pack_strip(core: &Core, stock: usize, dice: &mut Dice, steps: u64) -> (Vec<Placed>, i64) {
    let height = |item: usize| core.form_size(core.poses[item][0].form)[1] as f64;
    let width = |item: usize| core.form_size(core.poses[item][0].form)[0] as f64;
    let keys: [&dyn Fn(usize) -> f64; 3] = [&|item| core.area(item), &height, &width];
    let mut best: Option<(i64, Vec<Placed>)> = None;
    for key in keys {
        let placed = fill(core, stock, &largest_first(core, key), Rule::Left);
        let ends = placed.iter().filter_map(|placed| {
            let (form, at) = core.form_of(placed)?;
            Some(at[0] + core.form_size(form)[0])
        });
        let end = ends.max().unwrap_or(0);
        if best.as_ref().is_none_or(|(known, _)| end < *known) {
            best = Some((end, placed));
        }
    }
    let (_, placed) = best.unwrap_or_default();
    squeeze(core, (stock, core.room(stock)), 0, &placed, (dice, steps))
}

/// All parts of a job in any pose, those with the largest key first.
fn largest_first(core: &Core, key: &dyn Fn(usize) -> f64) -> Vec<Candidate> {
    let mut items: Vec<usize> = (0..core.job.items.len()).collect();
    items.sort_by(|&a, &b| key(b).total_cmp(&key(a)));
    let all = |&item: &usize| {
        vec![Candidate { item, pose: None }; core.job.items[item].quantity as usize]
    };
    items.iter().flat_map(all).collect()
}

struct Strip {
    axis: usize,
    /// No strip is shorter: the longest part needs it, or the area of all.
    least: i64,
    /// Where the best strip ends, and how its parts lie.
    end: i64,
    best: Vec<Part>,
}

impl Strip {
    /// The end of the strip at which every part just fits in some pose.
    fn longest(&self, crowd: &Crowd<'_>) -> i64 {
        let across = crowd.room.size()[1 - self.axis];
        let needs = |part: &Part| {
            let poses = &crowd.core.poses[part.item?];
            let sizes = poses.iter().map(|pose| crowd.core.form_size(pose.form));
            let fitting = sizes.filter(|size| size[1 - self.axis] <= across);
            fitting.map(|size| size[self.axis]).min()
        };
        crowd.room.low[self.axis] + crowd.parts.iter().filter_map(needs).max().unwrap_or(0)
    }

    /// The end of a strip that the parts fill to the last corner.
    fn filled(&self, crowd: &Crowd<'_>) -> i64 {
        let items = crowd.parts.iter().filter_map(|part| part.item);
        let area: f64 = items.map(|item| crowd.core.area(item)).sum();
        let across = crowd.room.size()[1 - self.axis];
        crowd.room.low[self.axis] + (area / across as f64) as i64
    }

    /// The parts lie soundly: the strip ends with the last of them.
    fn note(&mut self, crowd: &Crowd<'_>) {
        let end = |part: &Part| {
            part.at[self.axis] as i64 + crowd.core.form_size(part.pose.form)[self.axis]
        };
        let movable = crowd.parts.iter().filter(|part| part.item.is_some());
        self.end = movable.map(end).max().unwrap_or(0);
        self.best.clone_from(&crowd.parts);
    }

    fn shrink(&self, crowd: &mut Crowd<'_>, share: f64) -> bool {
        let length = self.end - crowd.room.low[self.axis];
        let by = ((length as f64 * share) as i64).max(1);
        crowd.room.high[self.axis] = self.end - by;
        self.least <= self.end - by
    }

    fn explore(&mut self, crowd: &mut Crowd<'_>, dice: &mut Dice, steps: &mut u64) {
        let mut failed: Vec<(f64, Vec<Part>)> = Vec::new();
        let mut going = self.shrink(crowd, SHRINK);
        crowd.herd();
        while 0 < *steps && going {
            crowd.forget();
            // What comes of it without an overlap costs steps all the same.
            *steps = steps.saturating_sub(crowd.parts.len() as u64);
            if separate(crowd, dice, EXPLORE, steps) {
                self.note(crowd);
                failed.clear();
                going = self.shrink(crowd, SHRINK);
                crowd.herd();
                continue;
            }
            let total = crowd.total();
            let at = failed.partition_point(|(known, _)| *known <= total);
            failed.insert(at, (total, crowd.parts.clone()));
            // Mostly one of the best, seldom one of the worst.
            let pick = (dice.share() * dice.share() * failed.len() as f64) as usize;
            crowd.parts.clone_from(&failed[pick].1);
            disturb(crowd, dice);
        }
    }

    fn compress(&mut self, crowd: &mut Crowd<'_>, dice: &mut Dice, steps: u64) {
        let mut left = steps;
        while 0 < left {
            crowd.parts.clone_from(&self.best);
            let done = 1.0 - left as f64 / steps as f64;
            let share = SQUEEZE[0] + (SQUEEZE[1] - SQUEEZE[0]) * done;
            if !self.shrink(crowd, share) {
                return;
            }
            left = left.saturating_sub(crowd.parts.len() as u64);
            self.close(crowd, dice);
            crowd.forget();
            if separate(crowd, dice, COMPRESS, &mut left) {
                self.note(crowd);
            }
        }
    }

    /// Moves everything beyond a random place back by what the strip lost.
    fn close(&self, crowd: &mut Crowd<'_>, dice: &mut Dice) {
        let (low, high) = (crowd.room.low[self.axis], crowd.room.high[self.axis]);
        let from = dice.between(low, high) as f64;
        let by = (self.end - high) as f64;
        for part in crowd.parts.iter_mut().filter(|part| part.item.is_some()) {
            let size = crowd.core.form_size(part.pose.form)[self.axis] as f64;
            if from < part.at[self.axis] + size / 2.0 {
                part.at[self.axis] -= by;
            }
        }
        crowd.herd();
    }
}

/// Exchanges two of the larger parts, unlike ones where there are any.
fn disturb(crowd: &mut Crowd<'_>, dice: &mut Dice) {
    let area = |part: &Part| {
        let [w, h] = crowd.core.form_size(part.pose.form);
        w * h
    };
    let mut movable: Vec<usize> =
        (0..crowd.parts.len()).filter(|&at| crowd.parts[at].item.is_some()).collect();
    movable.sort_by_key(|&at| std::cmp::Reverse(area(&crowd.parts[at])));
    let large = &movable[..movable.len().div_ceil(2)];
    if large.is_empty() {
        return;
    }
    let one = large[dice.below(large.len())];
    let unlike = |at: &&usize| crowd.parts[**at].item != crowd.parts[one].item;
    let others: Vec<usize> = large.iter().filter(unlike).copied().collect();
    if !others.is_empty() {
        let other = others[dice.below(others.len())];
        let there = crowd.parts[one].at;
        crowd.parts[one].at = crowd.parts[other].at;
        crowd.parts[other].at = there;
    }
    crowd.herd();
}
