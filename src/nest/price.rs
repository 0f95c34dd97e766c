//! Layouts that are worth more than their sheet: orders of parts tried on the exact decoder, ranked
//! by what the linear program says a part is worth, and changed a little at a time.

use super::Placed;
use super::bed::{Bed, Rule};
use super::core::Core;
use super::dice::Dice;
use super::fill::{Candidate, top_up};
use super::master::{Column, Master, Worth};
use super::stack::stacks;

/// By how much more than it is worth a part may count when a sheet is filled at random.
const NOISE: f64 = 1.6;
/// How often a try starts from a layout of the mix, not from scratch.
const FROM_MIX: f64 = 0.5;
/// How often one that starts from scratch starts from stacks.
const STACKED: f64 = 0.7;
/// By how much a change may be worse at first, as a share of a sheet's weight.
const WORSE: f64 = 0.02;
/// What a layout must be worth beyond its sheet, as a share of a sheet's weight.
const GAIN: f64 = 1e-6;

/// A layout that was found, and how.
#[derive(Debug, Clone)]
pub(crate) struct Found {
    /// Index of its stock.
    pub stock: usize,
    /// How many of every item lie on it.
    pub counts: Vec<u32>,
    /// What lies on it, in the order in which it was placed.
    pub placed: Vec<Placed>,
    /// The order that gave it, one for each part placed.
    pub order: Vec<Candidate>,
    /// By which rule it was placed.
    pub rule: Rule,
}

impl Found {
    /// What came of an order: for every part its place, or none.
    pub(crate) fn new(
        stock: usize,
        (order, tried): (Vec<Candidate>, Vec<Option<Placed>>),
        rule: Rule,
        items: usize,
    ) -> Self {
        let laid = std::iter::zip(order, tried).filter_map(|(part, spot)| Some((part, spot?)));
        let (order, placed): (Vec<Candidate>, Vec<Placed>) = laid.unzip();
        let mut counts = vec![0; items];
        placed.iter().for_each(|placed| counts[placed.item] += 1);
        Found { stock, counts, placed, order, rule }
    }
}

impl Column for Found {
    fn stock(&self) -> usize {
        self.stock
    }

    fn counts(&self) -> &[u32] {
        &self.counts
    }
}

/// Parts of one kind, one after the other.
#[derive(Debug, Clone, Copy)]
struct Run {
    part: Candidate,
    count: u32,
}

/// What a try looks for.
pub(crate) struct Pricing<'a> {
    pub core: &'a Core,
    pub master: &'a Master,
    pub worth: &'a Worth,
    /// Layouts of the mix so far.
    pub mix: &'a [&'a Found],
    /// The stock to choose from.
    pub stock: &'a [usize],
}

impl Pricing<'_> {
    /// Layouts worth more than their sheet, in the order found: one start and so many changes of
    /// it, each kept where it is not worse.
    pub(crate) fn tries(&self, dice: &mut Dice, changes: usize) -> Vec<Found> {
        let mut best = self.start(dice);
        let mut value = self.gain(&best);
        let mut found = Vec::new();
        if GAIN < value {
            found.push(best.clone());
        }
        for step in 0..changes {
            let worse = WORSE * (changes - step - 1) as f64 / changes as f64;
            let (order, rule) = self.changed(&best, dice);
            let new = self.laid(best.stock, &order, rule);
            let gain = self.gain(&new);
            if GAIN < gain && new.counts != best.counts {
                found.push(new.clone());
            }
            if value - worse * dice.share() <= gain {
                (best, value) = (new, gain);
            }
        }
        found
    }

    /// What a layout is worth beyond its sheet.
    fn gain(&self, found: &Found) -> f64 {
        let parts = std::iter::zip(&self.worth.items, &found.counts);
        let worth: f64 = parts.map(|(worth, n)| worth * f64::from(*n)).sum();
        worth - self.master.weight[found.stock] - self.worth.stock[found.stock]
    }

    fn start(&self, dice: &mut Dice) -> Found {
        if !self.mix.is_empty() && dice.share() < FROM_MIX {
            return self.mix[dice.below(self.mix.len())].clone();
        }
        let stock = self.stock[dice.below(self.stock.len())];
        let rule = Rule::ALL[dice.below(Rule::ALL.len())];
        if dice.share() < STACKED {
            let axis = dice.below(2);
            let stacks =
                stacks(self.core, self.worth, (stock, axis, self.master.weight[stock]), dice);
            let runs: Vec<Run> =
                stacks.into_iter().map(|(part, count)| Run { part, count }).collect();
            let rule = if axis == 1 { Rule::StartLeft } else { Rule::StartLow };
            return self.laid(stock, &runs, rule);
        }
        self.laid(stock, &self.fresh(stock, dice), rule)
    }

    /// Parts that fill the sheet by area, the worthiest for their area first, then put in order of
    /// their size.
    fn fresh(&self, stock: usize, dice: &mut Dice) -> Vec<Run> {
        let mut ranked: Vec<(f64, usize)> = self.ranked(|| dice.near_one(NOISE));
        let mut rest = self.room(stock);
        let mut runs: Vec<(i64, Run)> = Vec::new();
        ranked.retain(|(_, item)| self.core.fits(*item, stock));
        for (_, item) in ranked {
            let area = self.core.area(item);
            let most = ((rest / area) as u32).min(self.master.demand[item]);
            let count = most.min(1 + dice.below(most as usize + most as usize / 2) as u32);
            if most == 0 {
                continue;
            }
            rest -= f64::from(count) * area;
            let part = Candidate { item, pose: None };
            runs.push((self.length(item), Run { part, count }));
        }
        runs.sort_by_key(|(length, run)| (-*length, run.part));
        let mut runs: Vec<Run> = runs.into_iter().map(|(_, run)| run).collect();
        for _ in 0..dice.below(3) {
            let (a, b) = (dice.below(runs.len()), dice.below(runs.len()));
            if !runs.is_empty() {
                runs.swap(a, b);
            }
        }
        runs
    }

    /// Items by what their area is worth, the worthiest first, each judged by a factor.
    fn ranked(&self, mut factor: impl FnMut() -> f64) -> Vec<(f64, usize)> {
        let needed = (0..self.master.demand.len()).filter(|item| 0 < self.master.demand[*item]);
        let mut ranked: Vec<(f64, usize)> = needed
            .map(|item| (factor() * self.worth.items[item] / self.core.area(item), item))
            .collect();
        ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        ranked
    }

    /// Area within the margins, square hundredths.
    fn room(&self, stock: usize) -> f64 {
        let [wide, high] = self.core.room(stock).size();
        wide as f64 * high as f64
    }

    /// The longer side of an item.
    fn length(&self, item: usize) -> i64 {
        let pose = self.core.poses[item].first();
        pose.map_or(0, |pose| self.core.form_size(pose.form).into_iter().max().unwrap_or(0))
    }

    /// The order of a layout with one change in it.
    fn changed(&self, found: &Found, dice: &mut Dice) -> (Vec<Run>, Rule) {
        let mut runs = runs(&found.order);
        let mut rule = found.rule;
        let at = dice.below(runs.len());
        match dice.below(7) {
            _ if runs.is_empty() => (),
            0 => {
                let other = dice.below(runs.len());
                runs.swap(at, other);
            }
            1 => {
                let run = runs.remove(at);
                runs.insert(dice.below(runs.len() + 1), run);
            }
            2 => runs[at].count = dice.below(runs[at].count as usize) as u32,
            3 => runs[at].count = self.master.demand[runs[at].part.item],
            4 => {
                let poses = self.core.poses[runs[at].part.item].len();
                runs[at].part.pose = Some(dice.below(poses)).filter(|_| 1 < poses);
            }
            5 => {
                let ranked = self.ranked(|| dice.near_one(NOISE));
                if let Some((_, item)) = ranked.first() {
                    let count = 1 + dice.below(3) as u32;
                    let part = Candidate { item: *item, pose: None };
                    runs.insert(dice.below(runs.len() + 1), Run { part, count });
                }
            }
            _ => rule = Rule::ALL[dice.below(Rule::ALL.len())],
        }
        (runs, rule)
    }

    /// A sheet filled in this order, then with all else that is worth something.
    fn laid(&self, stock: usize, runs: &[Run], rule: Rule) -> Found {
        let mut left = self.master.demand.clone();
        let room = self.room(stock);
        let mut order: Vec<Candidate> = Vec::new();
        let mut take = |part: Candidate, count: u32| {
            let most = (room / self.core.area(part.item)) as u32;
            let count = count.min(left[part.item]).min(most);
            left[part.item] -= count;
            order.extend(std::iter::repeat_n(part, count as usize));
        };
        runs.iter().for_each(|run| take(run.part, run.count));
        let rest = self.ranked(|| 1.0).into_iter().filter(|(worth, _)| 0.0 < *worth);
        rest.for_each(|(_, item)| take(Candidate { item, pose: None }, u32::MAX));
        let tried = top_up(self.core, &mut Bed::new(self.core, stock), &order, rule);
        Found::new(stock, (order, tried), rule, self.master.demand.len())
    }
}

/// An order with parts of one kind in a row together.
fn runs(order: &[Candidate]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for part in order {
        match runs.last_mut() {
            Some(run) if run.part == *part => run.count += 1,
            _ => runs.push(Run { part: *part, count: 1 }),
        }
    }
    runs
}
