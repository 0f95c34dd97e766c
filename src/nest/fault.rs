//! What is wrong with a job, and what of it can be laid out all the same.

use super::turned::twice_area;
use super::{Fault, Job, Left};

/// What is wrong with a job: items, then stock, then the whole.
pub(super) fn faults(job: &Job) -> Vec<Fault> {
    let mut found = Vec::new();
    for (index, item) in job.items.iter().enumerate() {
        if item.quantity == 0 {
            found.push(Fault::Quantity(index));
        }
        if twice_area(&item.shape.outer) <= 0 {
            found.push(Fault::Outline(index));
        }
    }
    for (index, stock) in job.stock.iter().enumerate() {
        if stock.size.iter().any(|side| *side <= 2 * job.margin.max(0)) {
            found.push(Fault::Size(index));
        }
        if !(0.0 <= stock.cost && stock.cost.is_finite()) {
            found.push(Fault::Cost(index));
        }
    }
    if job.gap < 0 || job.margin < 0 {
        found.push(Fault::Distance);
    }
    if job.stock.is_empty() && !job.items.is_empty() {
        found.push(Fault::NoStock);
    }
    found
}

impl Fault {
    /// What is wrong, in words that name the item or the stock.
    pub fn words(&self, job: &Job) -> String {
        let item = |index: &usize| job.items.get(*index).map_or("", |item| item.name.as_str());
        let stock = |index: &usize| job.stock.get(*index).map_or("", |stock| stock.name.as_str());
        match self {
            Fault::Quantity(index) => format!("`{}` is asked for 0 times", item(index)),
            Fault::Outline(index) => format!("the outline of `{}` encloses no area", item(index)),
            Fault::Size(index) => {
                let size = job.stock.get(*index).map_or([0; 2], |stock| stock.size);
                let [x, y] = size.map(|side| side as f64 / 100.0);
                format!("`{}`, {x} x {y} mm, leaves nothing within its margins", stock(index))
            }
            Fault::Cost(index) => format!("the cost of `{}` is below 0", stock(index)),
            Fault::Distance => "the gap or the margin is below 0".to_string(),
            Fault::NoStock => "there is no stock for these parts".to_string(),
        }
    }
}

impl Left {
    /// What found no place, and why.
    pub fn words(&self, job: &Job) -> String {
        let name = job.items.get(self.item).map_or("", |item| item.name.as_str());
        let why = if self.too_large { "it fits no sheet in stock" } else { "the stock ran out" };
        format!("{} of `{name}` found no place: {why}", self.quantity)
    }
}
