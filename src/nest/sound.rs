//! The part of a job that can be laid out: without items and stock that something is wrong with.

use super::bed::{Bed, Rule};
use super::core::Core;
use super::fill::{Candidate, place};
use super::master::Master;
use super::{Fault, Job, Layout, Left};

/// A remnant's weight beside a whole sheet's: it costs next to nothing, so that it is used first.
pub(crate) const REMNANT: f64 = 1e-3;
/// What one missing part weighs, in sheets.
const MISSING: f64 = 100.0;

/// What of a job can be laid out, with the indices in the job it was taken from.
#[derive(Debug)]
pub(crate) struct Sound {
    pub core: Core,
    pub items: Vec<usize>,
    pub stock: Vec<usize>,
}

impl Sound {
    /// Leaves out what the faults name.
    pub(crate) fn of(job: &Job, faults: &[Fault]) -> Self {
        let item = |i: &usize| {
            !faults.iter().any(|f| matches!(f, Fault::Quantity(at) | Fault::Outline(at) if at == i))
        };
        let sheet = |i: &usize| {
            let all = faults.contains(&Fault::Distance);
            !all && !faults
                .iter()
                .any(|f| matches!(f, Fault::Size(at) | Fault::Cost(at) if at == i))
        };
        let items: Vec<usize> = (0..job.items.len()).filter(item).collect();
        let stock: Vec<usize> = (0..job.stock.len()).filter(sheet).collect();
        let sound = Job {
            items: items.iter().map(|i| job.items[*i].clone()).collect(),
            stock: stock.iter().map(|i| job.stock[*i].clone()).collect(),
            gap: job.gap.max(0),
            margin: job.margin.max(0),
            ..*job
        };
        Sound { core: Core::new(sound), items, stock }
    }

    /// Whether an item has a place on some empty sheet.
    pub(crate) fn fits(&self, item: usize) -> bool {
        let part = Candidate { item, pose: None };
        (0..self.stock.len()).any(|stock| {
            place(&self.core, &mut Bed::new(&self.core, stock), part, Rule::Low).is_some()
        })
    }

    /// What is asked of the programs; items that fit nowhere are not.
    pub(crate) fn master(&self) -> Master {
        let job = &self.core.job;
        let items = job.items.iter().enumerate();
        let demand = items.map(|(i, item)| if self.fits(i) { item.quantity } else { 0 }).collect();
        let dearest = job.stock.iter().map(|stock| stock.cost).fold(0.0, f64::max);
        let area = |size: [i64; 2]| size[0] as f64 * size[1] as f64;
        let largest = job.stock.iter().map(|stock| area(stock.size)).fold(1.0, f64::max);
        let weight = job.stock.iter().map(|stock| {
            let least = REMNANT * area(stock.size) / largest;
            match stock.remnant {
                true => least,
                false if dearest <= 0.0 => 1.0,
                false => (stock.cost / dearest).max(least),
            }
        });
        Master {
            demand,
            weight: weight.collect(),
            limit: job.stock.iter().map(|stock| stock.count).collect(),
            missing: vec![MISSING; job.items.len()],
        }
    }

    /// Layouts with the indices of the whole job.
    pub(crate) fn told(&self, mut layouts: Vec<Layout>) -> Vec<Layout> {
        for layout in &mut layouts {
            layout.stock = self.stock[layout.stock];
            layout.placed.iter_mut().for_each(|placed| placed.item = self.items[placed.item]);
        }
        layouts
    }

    /// What found no place, in the order of the job's items.
    pub(crate) fn left(&self, job: &Job, layouts: &[Layout]) -> Vec<Left> {
        let mut rest: Vec<u32> = job.items.iter().map(|item| item.quantity).collect();
        for layout in layouts {
            layout.placed.iter().for_each(|placed| rest[placed.item] -= layout.copies);
        }
        let too_large = |index: usize| {
            let own = self.items.iter().position(|item| *item == index);
            own.is_none_or(|own| !self.stock.is_empty() && !self.fits(own))
        };
        let left = rest.into_iter().enumerate().filter(|(_, quantity)| 0 < *quantity);
        left.map(|(item, quantity)| Left { item, quantity, too_large: too_large(item) }).collect()
    }
}
