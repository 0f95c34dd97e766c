//! Overlapping parts driven apart: one part at a time goes where it overlaps least, and overlaps
//! that last weigh more and more.

use crate::nest::core::Pose;
use crate::nest::crowd::{Crowd, Part, View};
use crate::nest::dice::Dice;

/// How hard to try.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Patience {
    /// Rounds without progress before the weights are forgotten.
    pub rounds: usize,
    /// How often that happens before it is given up.
    pub strikes: usize,
    /// Places looked at anywhere in the room, per part and round.
    pub anywhere: usize,
    /// Places looked at near where the part lies.
    pub nearby: usize,
}

/// A sum of overlaps counts as progress when it is below this share of the best so far.
const PROGRESS: f64 = 0.98;

/// How many of the places looked at are improved.
const KEPT: usize = 2;

/// Drives the parts apart until none overlaps (true), patience ends or the counted steps are used
/// up. Afterwards the crowd lies as it overlapped least.
pub(crate) fn separate(
    crowd: &mut Crowd<'_>,
    dice: &mut Dice,
    patience: Patience,
    steps: &mut u64,
) -> bool {
    let mut best = (crowd.total(), crowd.parts.clone());
    let mut strikes = 0;
    while strikes < patience.strikes && 0.0 < best.0 {
        let before = best.0;
        one_run(crowd, dice, patience, steps, &mut best);
        crowd.parts.clone_from(&best.1);
        crowd.refresh();
        if *steps == 0 {
            break;
        }
        strikes = if best.0 < PROGRESS * before { 0 } else { strikes + 1 };
    }
    best.0 == 0.0
}

fn one_run(
    crowd: &mut Crowd<'_>,
    dice: &mut Dice,
    patience: Patience,
    steps: &mut u64,
    best: &mut (f64, Vec<Part>),
) {
    let mut stale = 0;
    let mut mark = best.0;
    while stale < patience.rounds && 0 < *steps {
        one_round(crowd, dice, patience, steps);
        let total = crowd.total();
        if total < best.0 {
            *best = (total, crowd.parts.clone());
        }
        if total == 0.0 {
            return;
        }
        stale += 1;
        if total < PROGRESS * mark {
            mark = total;
            stale = 0;
        }
        crowd.weigh();
    }
}

fn one_round(crowd: &mut Crowd<'_>, dice: &mut Dice, patience: Patience, steps: &mut u64) {
    let mut order = crowd.in_the_way();
    dice.shuffle(&mut order);
    for part in order {
        let load = crowd.load(part);
        if 0.0 < load {
            let mut search = Search { crowd, part, dice, steps, kept: Vec::new() };
            if let Some(found) = search.run(patience, load) {
                crowd.lay(part, found.pose, found.at);
            }
        }
    }
}

/// A place under consideration.
#[derive(Debug, Clone, Copy)]
struct Found {
    load: f64,
    pose: Pose,
    at: [f64; 2],
    view: usize,
}

/// The search for a better place for one part.
struct Search<'a, 'c> {
    crowd: &'a Crowd<'c>,
    part: usize,
    dice: &'a mut Dice,
    steps: &'a mut u64,
    /// The best places so far, best first.
    kept: Vec<Found>,
}

impl Search<'_, '_> {
    fn run(&mut self, patience: Patience, load: f64) -> Option<Found> {
        let part = self.crowd.parts[self.part];
        let poses = self.poses(part);
        let views: Vec<View<'_>> =
            poses.iter().map(|pose| self.crowd.view(self.part, pose.form)).collect();
        self.keep(Found { load, pose: part.pose, at: part.at, view: 0 });
        for k in 0..patience.anywhere + patience.nearby {
            let index = self.dice.below(poses.len());
            let view = &views[index];
            *self.steps = self.steps.saturating_sub(1);
            if !view.fits() {
                continue;
            }
            let at =
                if k < patience.anywhere { self.anywhere(view) } else { self.nearby(view, part) };
            self.look(view, poses[index], at, index);
        }
        let mut best: Option<Found> = None;
        for start in std::mem::take(&mut self.kept) {
            let found = self.improve(&views[start.view], start);
            if best.is_none_or(|best| found.load < best.load) {
                best = Some(found);
            }
        }
        best.filter(|best| best.load < load)
    }

    /// The part's poses that look different, its own first.
    fn poses(&self, part: Part) -> Vec<Pose> {
        let all = part.item.map_or(&[][..], |item| &self.crowd.core.poses[item]);
        let mut poses = vec![part.pose];
        for pose in all {
            if poses.iter().all(|known| known.form != pose.form) {
                poses.push(*pose);
            }
        }
        poses
    }

    fn anywhere(&mut self, view: &View<'_>) -> [f64; 2] {
        [0, 1].map(|k| view.low[k] + self.dice.share() * (view.high[k] - view.low[k]))
    }

    fn nearby(&mut self, view: &View<'_>, part: Part) -> [f64; 2] {
        let size = self.crowd.core.form_size(part.pose.form);
        let reach = size[0].max(size[1]) as f64 / 2.0;
        let at = [0, 1].map(|k| part.at[k] + (self.dice.share() * 2.0 - 1.0) * reach);
        view.inside(at)
    }

    fn look(&mut self, view: &View<'_>, pose: Pose, at: [f64; 2], index: usize) {
        let limit = if self.kept.len() < KEPT { f64::INFINITY } else { self.kept[KEPT - 1].load };
        let at = view.inside(at);
        let load = view.load(at, limit);
        if load < limit {
            self.keep(Found { load, pose, at, view: index });
        }
    }

    fn keep(&mut self, found: Found) {
        let at = self.kept.partition_point(|known| known.load <= found.load);
        self.kept.insert(at, found);
        self.kept.truncate(KEPT);
    }

    /// Steps along the axes and diagonals, shorter where they do not help.
    fn improve(&mut self, view: &View<'_>, start: Found) -> Found {
        let size = self.crowd.core.form_size(start.pose.form);
        let mut step = size[0].min(size[1]) as f64 * 0.1;
        let mut best = start;
        while 1.0 <= step && 0.0 < best.load {
            let [x, y] = [[1.0, 0.0], [0.0, 1.0], [0.7, 0.7], [0.7, -0.7]][self.dice.below(4)];
            let [x, y] = [x * step, y * step];
            let tries = [1.0, -1.0].map(|sign| [best.at[0] + sign * x, best.at[1] + sign * y]);
            let better = tries.into_iter().find_map(|at| self.better(view, best, at));
            step *= if better.is_some() { 1.1 } else { 0.6 };
            best = better.unwrap_or(best);
        }
        best
    }

    /// The place, if it is better than the best so far.
    fn better(&mut self, view: &View<'_>, best: Found, at: [f64; 2]) -> Option<Found> {
        let at = view.inside(at);
        let load = view.load(at, best.load);
        *self.steps = self.steps.saturating_sub(1);
        (load < best.load).then_some(Found { load, at, ..best })
    }
}
