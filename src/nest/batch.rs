//! Many of everything: layouts are found one after the other by what the linear program over those
//! known says parts are worth, until the steps are used up; then whole numbers of each.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::core::Core;
use super::dice::Dice;
use super::master::{Master, Worth};
use super::plan::Share;
use super::price::{Found, Pricing};

/// How much is tried.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Steps {
    /// How often the linear program is solved and new layouts are looked for.
    pub rounds: usize,
    /// Pieces of work in a round, each on its own dice.
    pub tasks: usize,
    /// Changes tried by each.
    pub changes: usize,
}

/// The search for layouts.
pub(crate) struct Batch<'a> {
    pub core: &'a Core,
    pub share: &'a Share<'a>,
    pub master: Master,
    pub stock: Vec<usize>,
    pub columns: Vec<Found>,
    known: BTreeSet<(usize, Vec<u32>)>,
}

impl<'a> Batch<'a> {
    pub(crate) fn new(
        core: &'a Core,
        share: &'a Share<'a>,
        master: Master,
        stock: Vec<usize>,
    ) -> Self {
        Batch { core, share, master, stock, columns: Vec::new(), known: BTreeSet::new() }
    }

    /// Looks for layouts, with rounds numbered from `first`.
    pub(crate) fn search_from(&mut self, first: usize, steps: Steps) -> Option<Worth> {
        let mut worth = match self.columns.is_empty() {
            true => self.by_area(),
            false => self.master.worth(&self.columns)?,
        };
        for round in first..first + steps.rounds {
            let mix = self.master.shares(&self.columns);
            let found = self.round(&worth, mix.as_deref(), (round, steps));
            found.into_iter().for_each(|found| self.add(found));
            worth = self.master.worth(&self.columns)?;
        }
        Some(worth)
    }

    /// Adds a layout unless the same parts are known on such a sheet.
    pub(crate) fn add(&mut self, found: Found) {
        let empty = found.placed.is_empty();
        if !empty && self.known.insert((found.stock, found.counts.clone())) {
            self.columns.push(found);
        }
    }

    /// Parts worth their area, for the first round.
    fn by_area(&self) -> Worth {
        let least = |item: &usize| self.core.area(*item);
        let all: f64 = (0..self.master.demand.len()).map(|item| least(&item)).sum();
        let items = (0..self.master.demand.len()).map(|item| least(&item) / all.max(1.0) * 1e3);
        Worth { items: items.collect(), stock: vec![0.0; self.master.limit.len()] }
    }

    fn round(
        &self,
        worth: &Worth,
        mix: Option<&[f64]>,
        (round, steps): (usize, Steps),
    ) -> Vec<Found> {
        let used: Vec<&Found> = std::iter::zip(&self.columns, mix.unwrap_or_default())
            .filter(|(_, copies)| 1e-9 < **copies)
            .map(|(found, _)| found)
            .collect();
        let (core, master, stock) = (self.core, &self.master, &self.stock[..]);
        let pricing = Pricing { core, master, worth, mix: &used, stock };
        let done: Vec<OnceLock<Vec<Found>>> = (0..steps.tasks).map(|_| OnceLock::new()).collect();
        (self.share)(steps.tasks, &|task| {
            let mut dice = Dice::new(core.job.seed, (round * steps.tasks + task) as u64);
            done[task].get_or_init(|| pricing.tries(&mut dice, steps.changes));
        });
        done.into_iter().filter_map(OnceLock::into_inner).flatten().collect()
    }
}
