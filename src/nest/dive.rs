//! Whole numbers of layouts: the whole part of every share is cut, and what remains is laid out
//! anew, with layouts cut down to it and others found for it, until nothing remains.

use super::batch::{Batch, Steps};
use super::core::Core;
use super::dice::Dice;
use super::master::Master;
use super::price::Found;

/// One way of cutting everything.
#[derive(Debug, Clone)]
pub(crate) struct Cut {
    /// Layouts and how often each is cut.
    pub sheets: Vec<(Found, u32)>,
    /// What found no place.
    pub rest: Vec<u32>,
}

impl Cut {
    /// Cuts a layout so often.
    pub(crate) fn take(&mut self, found: &Found, copies: u32) {
        std::iter::zip(&mut self.rest, &found.counts).for_each(|(n, own)| *n -= own * copies);
        if 0 < copies {
            self.sheets.push((found.clone(), copies));
        }
    }
}

/// What a dive needs to know.
pub(crate) struct Dive<'a> {
    pub core: &'a Core,
    pub master: &'a Master,
    pub stock: &'a [usize],
    pub columns: &'a [Found],
    /// What is tried for every remainder.
    pub steps: Steps,
}

impl Dive<'_> {
    /// One dive; others come out with other numbers.
    pub(crate) fn run(&self, number: u64) -> Cut {
        let alone = |count: usize, work: &(dyn Fn(usize) + Sync)| (0..count).for_each(work);
        let mut dice = Dice::new(self.core.job.seed ^ 0x6469_7665, number);
        let mut cut = Cut { sheets: Vec::new(), rest: self.master.demand.clone() };
        let mut limit = self.master.limit.clone();
        let mut columns = self.columns.to_vec();
        let mut first = 1_000_000 * (number as usize + 1);
        while cut.rest.iter().any(|n| 0 < *n) {
            let master = self.master.less(cut.rest.clone(), limit.clone());
            let mut batch = Batch::new(self.core, &alone, master, self.stock.to_vec());
            columns.iter().for_each(|found| batch.add(clipped(found, &cut.rest)));
            if !cut.sheets.is_empty() || columns.is_empty() {
                batch.search_from(first, self.steps);
            }
            first += self.steps.rounds;
            let taken = taken(&batch, &mut dice);
            if taken.is_empty() {
                break;
            }
            columns = batch.columns;
            for (index, copies) in taken {
                let found = &columns[index];
                let copies = most(found, &cut.rest).min(copies);
                cut.take(found, copies);
                limit[found.stock].iter_mut().for_each(|n| *n -= copies);
            }
        }
        cut
    }
}

/// Layouts to be cut now, by their index, and how often: all whole shares, or one of the greatest.
fn taken(batch: &Batch, dice: &mut Dice) -> Vec<(usize, u32)> {
    let Some(mix) = batch.master.shares(&batch.columns) else { return Vec::new() };
    let whole = |share: &f64| (share + 1e-6).floor() as u32;
    let all = mix.iter().enumerate();
    let taken: Vec<(usize, u32)> =
        all.map(|(index, share)| (index, whole(share))).filter(|(_, n)| 0 < *n).collect();
    if !taken.is_empty() {
        return taken;
    }
    let area = |index: usize| -> f64 {
        let counts = batch.columns[index].counts.iter().enumerate();
        counts.map(|(item, n)| batch.core.area(item) * f64::from(*n)).sum()
    };
    let mut ranked: Vec<(f64, usize)> = mix
        .iter()
        .enumerate()
        .filter(|(_, share)| 1e-6 < **share)
        .map(|(index, share)| (share * area(index) * dice.near_one(1.5), index))
        .collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    ranked.first().map(|(_, index)| vec![(*index, 1)]).unwrap_or_default()
}

/// How often a layout may be cut before there is too much of something.
fn most(found: &Found, rest: &[u32]) -> u32 {
    let held = std::iter::zip(&found.counts, rest).filter(|(own, _)| 0 < **own);
    held.map(|(own, rest)| rest / own).min().unwrap_or(0)
}

/// A layout without what is not needed; what was placed last goes first.
pub(crate) fn clipped(found: &Found, needed: &[u32]) -> Found {
    let mut out = found.clone();
    for index in (0..found.placed.len()).rev() {
        let item = found.placed[index].item;
        if needed[item] < out.counts[item] {
            out.counts[item] -= 1;
            out.placed.remove(index);
            out.order.remove(index);
        }
    }
    out
}
