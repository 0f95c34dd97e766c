//! One kit's sheets: the order of parts is searched over the filling of sheets, then parts of the
//! emptiest sheet are pressed into the others.

use std::sync::Mutex;

use crate::nest::bed::{Bed, Rule};
use crate::nest::core::Core;
use crate::nest::crowd::Crowd;
use crate::nest::dice::Dice;
use crate::nest::fill::{Candidate, top_up};
use crate::nest::model::{Effort, Layout, Placed};
use crate::nest::plan::Share;
use crate::nest::remnant::remnant;
use crate::nest::separate::{Patience, separate};
use crate::nest::squeeze::squeeze;

/// While pressing a part into a sheet.
const PRESS: Patience = Patience { rounds: 40, strikes: 2, anywhere: 25, nearby: 15 };

/// Counted steps by effort.
struct Steps {
    /// Independent searches.
    tasks: usize,
    /// Orders tried in each.
    orders: usize,
    /// Places looked at while parts are pressed into sheets.
    press: u64,
    /// Places looked at while the last sheet is squeezed, per axis.
    squeeze: u64,
}

impl Steps {
    fn of(effort: Effort) -> Self {
        match effort {
            Effort::Quick => Self { tasks: 4, orders: 2, press: 200_000, squeeze: 100_000 },
            Effort::Normal => Self { tasks: 8, orders: 12, press: 4_000_000, squeeze: 2_000_000 },
            Effort::Long => Self { tasks: 16, orders: 60, press: 40_000_000, squeeze: 30_000_000 },
        }
    }
}

/// Sheets of one search and how good they are: the smaller, the better.
#[derive(Debug, Clone)]
struct Plan {
    /// Parts left, then cost, then the largest remnant taken from nothing.
    score: (usize, f64, f64),
    sheets: Vec<(usize, Vec<Placed>)>,
}

impl Plan {
    fn new(core: &Core, left: usize, sheets: Vec<(usize, Vec<Placed>)>) -> Self {
        let cost = sheets.iter().map(|(stock, _)| core.job.stock[*stock].cost).sum();
        let free = sheets.iter().map(|(stock, placed)| free(core, *stock, placed));
        Self { score: (left, cost, -free.fold(0.0, f64::max)), sheets }
    }

    fn beats(&self, other: &Self) -> bool {
        let (a, b) = (self.score, other.score);
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2)).is_lt()
    }
}

/// Area of the largest remnant of a sheet, mm².
fn free(core: &Core, stock: usize, placed: &[Placed]) -> f64 {
    let layout = Layout { stock, copies: 1, placed: placed.to_vec(), remnant: None };
    remnant(&core.job, &core.job.stock[stock], &layout).map_or(0.0, |rect| rect.area())
}

/// Lays so many of every item on sheets, stock in the order given: parts per sheet. What found no
/// place is on none. The same on any number of threads.
pub fn pack(
    core: &Core,
    stock: &[usize],
    need: &[u32],
    share: &Share<'_>,
) -> Vec<(usize, Vec<Placed>)> {
    let steps = Steps::of(core.job.effort);
    let slots: Vec<Mutex<Option<Plan>>> = (0..steps.tasks).map(|_| Mutex::new(None)).collect();
    let work = |task: usize| {
        let plan = search(core, stock, need, task, steps.orders);
        if let Ok(mut slot) = slots[task].lock() {
            *slot = Some(plan);
        }
    };
    share(steps.tasks, &work);
    let plans = slots.into_iter().filter_map(|slot| slot.into_inner().ok().flatten());
    let best = plans.reduce(|best, plan| if plan.beats(&best) { plan } else { best });
    let Some(mut plan) = best else { return Vec::new() };
    let mut dice = Dice::new(core.job.seed, steps.tasks as u64);
    plan = press(core, plan, &mut dice, steps.press);
    plan = shorten(core, plan, &mut dice, steps.squeeze);
    plan.sheets
}

/// Tries orders, each a small change of the best so far.
fn search(core: &Core, stock: &[usize], need: &[u32], task: usize, orders: usize) -> Plan {
    let mut dice = Dice::new(core.job.seed, task as u64);
    let rule = Rule::ALL[task % Rule::ALL.len()];
    let mut order = first_order(core, need, task);
    let mut best = decode(core, stock, &order, rule);
    for _ in 1..orders {
        let mut changed = order.clone();
        change(&mut changed, &mut dice);
        let plan = decode(core, stock, &changed, rule);
        if !best.beats(&plan) {
            (best, order) = (plan, changed);
        }
    }
    best
}

/// Large parts first; by area, by longest side, or by the rectangle about them, as the task says.
fn first_order(core: &Core, need: &[u32], task: usize) -> Vec<Candidate> {
    let mut items: Vec<usize> = (0..need.len()).collect();
    let size = |item: usize| core.form_size(core.poses[item][0].form);
    let key = |item: usize| match task / Rule::ALL.len() % 3 {
        0 => core.area(item),
        1 => size(item)[0].max(size(item)[1]) as f64,
        _ => size(item)[0] as f64 * size(item)[1] as f64,
    };
    items.sort_by(|&a, &b| key(b).total_cmp(&key(a)));
    let all = |&item: &usize| vec![Candidate { item, pose: None }; need[item] as usize];
    items.iter().flat_map(all).collect()
}

/// Moves a part, or exchanges two.
fn change(order: &mut Vec<Candidate>, dice: &mut Dice) {
    if order.len() < 2 {
        return;
    }
    for _ in 0..=dice.below(3) {
        let (a, b) = (dice.below(order.len()), dice.below(order.len()));
        if dice.below(2) == 0 {
            order.swap(a, b);
        } else {
            let part = order.remove(a);
            order.insert(b, part);
        }
    }
}

fn decode(core: &Core, stock: &[usize], order: &[Candidate], rule: Rule) -> Plan {
    let mut rest = order.to_vec();
    let mut sheets = Vec::new();
    for &index in stock {
        for _ in 0..core.job.stock[index].count.unwrap_or(u32::MAX) {
            let mut bed = Bed::new(core, index);
            let found = top_up(core, &mut bed, &rest, rule);
            let placed: Vec<Placed> = found.iter().flatten().copied().collect();
            if placed.is_empty() {
                break;
            }
            let left = rest.iter().zip(&found).filter(|(_, place)| place.is_none());
            rest = left.map(|(&part, _)| part).collect();
            sheets.push((index, placed));
        }
    }
    Plan::new(core, rest.len(), sheets)
}

/// Presses parts of the emptiest sheet into the others, the largest first, as long as steps last.
fn press(core: &Core, plan: Plan, dice: &mut Dice, steps: u64) -> Plan {
    let left = plan.score.0;
    let mut sheets = plan.sheets;
    let used = |(_, placed): &(usize, Vec<Placed>)| -> f64 {
        placed.iter().map(|placed| core.area(placed.item)).sum()
    };
    let Some(last) =
        (0..sheets.len()).min_by(|&a, &b| used(&sheets[a]).total_cmp(&used(&sheets[b])))
    else {
        return Plan { score: plan.score, sheets };
    };
    let (stock, mut parts) = sheets.remove(last);
    parts.sort_by(|a, b| core.area(b.item).total_cmp(&core.area(a.item)).then(a.cmp(b)));
    let mut budget = Budget { steps, share: steps / (parts.len() * sheets.len()).max(1) as u64 };
    let mut stay = Vec::new();
    for part in parts {
        if !sheets.iter_mut().any(|sheet| press_one(core, sheet, part, dice, &mut budget)) {
            stay.push(part);
        }
    }
    if !stay.is_empty() {
        sheets.push((stock, stay));
    }
    Plan::new(core, left, sheets)
}

struct Budget {
    steps: u64,
    share: u64,
}

fn press_one(
    core: &Core,
    sheet: &mut (usize, Vec<Placed>),
    part: Placed,
    dice: &mut Dice,
    budget: &mut Budget,
) -> bool {
    let (stock, placed) = sheet;
    let room = core.room(*stock);
    let area: f64 = placed.iter().chain([&part]).map(|placed| core.area(placed.item)).sum();
    let whole = (room.high[0] - room.low[0]) as f64 * (room.high[1] - room.low[1]) as f64 / 1e4;
    if whole < area {
        return false;
    }
    let mut crowd = Crowd::new(core, *stock, room, &[&placed[..], &[part]].concat());
    crowd.herd();
    let mut steps = budget.share.min(budget.steps);
    let before = steps;
    let apart = separate(&mut crowd, dice, PRESS, &mut steps);
    budget.steps -= before - steps;
    if apart {
        *placed = crowd.placed();
    }
    apart
}

/// Squeezes the sheet with the largest remnant along both axes and keeps what leaves more.
fn shorten(core: &Core, plan: Plan, dice: &mut Dice, steps: u64) -> Plan {
    let Plan { score, mut sheets } = plan;
    let free = |(stock, placed): &(usize, Vec<Placed>)| free(core, *stock, placed);
    let Some(at) = (0..sheets.len()).max_by(|&a, &b| free(&sheets[a]).total_cmp(&free(&sheets[b])))
    else {
        return Plan { score, sheets };
    };
    let (stock, placed) = sheets[at].clone();
    let mut parts: Vec<Placed> = placed.clone();
    parts.sort_by(|a, b| core.area(b.item).total_cmp(&core.area(a.item)).then(a.cmp(b)));
    let order: Vec<Candidate> =
        parts.iter().map(|placed| Candidate { item: placed.item, pose: None }).collect();
    for axis in 0..2 {
        let rule = [Rule::Left, Rule::Low][axis];
        let mut bed = Bed::new(core, stock);
        let found: Option<Vec<Placed>> = top_up(core, &mut bed, &order, rule).into_iter().collect();
        let start = found.unwrap_or_else(|| placed.clone());
        let room = core.room(stock);
        let (shorter, _) = squeeze(core, (stock, room), axis, &start, (dice, steps));
        let shorter = (stock, shorter);
        if free(&sheets[at]) < free(&shorter) {
            sheets[at] = shorter;
        }
    }
    Plan::new(core, score.0, sheets)
}
