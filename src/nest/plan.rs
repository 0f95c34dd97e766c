//! The whole of a job: sheets taken one after the other until all lies somewhere.

use super::fault::faults;
use super::rects::fill;
use super::remnant::remnant;
use super::{Bounds, Fault, Job, Layout, Left, Nest};

/// Calls a piece of work with every number from 0 up to the first argument, in any order and on any
/// number of threads, and returns when all are done.
pub type Share<'a> = dyn Fn(usize, &(dyn Fn(usize) + Sync)) + Sync + 'a;

/// Lays a job out. What is wrong with it is told in `faults`, what found no place in `left`; the
/// rest is laid out all the same. The same job gives the same sheets, however the work is shared.
pub fn nest(job: &Job, _share: &Share) -> Nest {
    let faults = faults(job);
    let wrong = |index: usize| {
        faults.iter().any(|fault| matches!(fault, Fault::Size(i) | Fault::Cost(i) if *i == index))
    };
    let mut stock: Vec<usize> = (0..job.stock.len()).filter(|index| !wrong(*index)).collect();
    stock.sort_by(|a, b| {
        let (a, b) = (&job.stock[*a], &job.stock[*b]);
        b.remnant.cmp(&a.remnant).then(a.cost.total_cmp(&b.cost))
    });
    if faults.contains(&Fault::Distance) {
        stock.clear();
    }
    let mut rest: Vec<u32> = job.items.iter().map(|item| item.quantity).collect();
    for fault in &faults {
        if let Fault::Outline(index) = fault {
            rest[*index] = 0;
        }
    }
    let layouts = sheets(job, &stock, &mut rest);
    let left = left(job, &stock, &rest);
    Nest { layouts, left, bounds: Bounds::default(), faults }
}

/// Sheets filled one after the other with the largest parts first.
fn sheets(job: &Job, stock: &[usize], rest: &mut [u32]) -> Vec<Layout> {
    let mut order: Vec<usize> = (0..job.items.len()).collect();
    let area = |index: usize| job.items[index].shape.area();
    order.sort_by(|a, b| area(*b).total_cmp(&area(*a)));
    let mut layouts: Vec<Layout> = Vec::new();
    for index in stock {
        let sheet = &job.stock[*index];
        for _ in 0..sheet.count.unwrap_or(u32::MAX) {
            let order: Vec<(usize, u32)> = order.iter().map(|i| (*i, rest[*i])).collect();
            let placed = fill(job, sheet, &order);
            if placed.is_empty() {
                break;
            }
            placed.iter().for_each(|placed| rest[placed.item] -= 1);
            let mut layout = Layout { stock: *index, copies: 1, placed, remnant: None };
            layout.remnant = remnant(job, sheet, &layout);
            match layouts.last_mut() {
                Some(last) if last.stock == *index && last.placed == layout.placed => {
                    last.copies += 1;
                }
                _ => layouts.push(layout),
            }
        }
    }
    layouts
}

/// What found no place.
fn left(job: &Job, stock: &[usize], rest: &[u32]) -> Vec<Left> {
    let fits = |item: usize| {
        stock.iter().any(|index| !fill(job, &job.stock[*index], &[(item, 1)]).is_empty())
    };
    let left = rest.iter().enumerate().filter(|(_, quantity)| 0 < **quantity);
    left.map(|(item, quantity)| Left { item, quantity: *quantity, too_large: !fits(item) })
        .collect()
}
