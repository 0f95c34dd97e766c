//! The whole of a job: layouts are looked for, a whole number of each is chosen in several ways,
//! and the best way is cut.

use std::sync::OnceLock;

use super::batch::{Batch, Steps};
use super::bed::Rule;
use super::bound::bounds;
use super::compact::{compact, last};
use super::dive::{Cut, Dive};
use super::fault::faults;
use super::master::Master;
use super::press::{self, press};
use super::price::Found;
use super::remnant::remnant;
use super::row::row;
use super::sound::{REMNANT, Sound};
use super::{Effort, Job, Layout, Nest};

/// Calls a piece of work with every number from 0 up to the first argument, in any order and on any
/// number of threads, and returns when all are done.
pub type Share<'a> = dyn Fn(usize, &(dyn Fn(usize) + Sync)) + Sync + 'a;

/// Remnants count as alike where their areas differ by less than this share of the largest sheet:
/// then the number of layouts decides.
const ALIKE: f64 = 0.1;

/// Steps of cost that are told apart.
const COST: f64 = 1e6;

/// Parts in a lot: as many as ten kits have.
const LOT: u32 = 1600;

/// What an effort may cost, in counted steps.
struct Budget {
    /// Parts laid down in orders of all, in all orders together.
    rows: u32,
    /// Orders of all at most.
    most: u32,
    /// Parts laid down in orders of a lot, where there are many more parts than that.
    lots: u32,
    /// Looking for layouts.
    search: Steps,
    /// Ways of choosing whole numbers that are tried.
    dives: usize,
    /// Looking for layouts of what remains, in each of them.
    rest: Steps,
    /// Ways that cost the least whose last sheet is pushed together.
    finish: usize,
    /// Orders tried for that.
    compact: usize,
    /// Driving overlaps apart at the end.
    press: press::Steps,
}

impl Budget {
    fn of(effort: Effort) -> Self {
        let steps = |rounds, tasks, changes| Steps { rounds, tasks, changes };
        let press = |tasks, press, squeeze| press::Steps { tasks, press, squeeze };
        match effort {
            Effort::Quick => Budget {
                rows: 2_000,
                most: 24,
                lots: 0,
                search: steps(5, 4, 6),
                dives: 4,
                rest: steps(1, 1, 6),
                finish: 4,
                compact: 16,
                press: press(0, 0, 0),
            },
            Effort::Normal => Budget {
                rows: 20_000,
                most: 20_000,
                lots: 20_000,
                search: steps(16, 8, 8),
                dives: 8,
                rest: steps(2, 2, 8),
                finish: 16,
                compact: 100,
                press: press(2, 1_000_000, 1_000_000),
            },
            Effort::Long => Budget {
                rows: 100_000,
                most: 100_000,
                lots: 100_000,
                search: steps(45, 8, 8),
                dives: 12,
                rest: steps(2, 2, 8),
                finish: 16,
                compact: 400,
                press: press(2, 4_000_000, 6_000_000),
            },
        }
    }
}

/// Lays a job out: for the least cost of sheets, then for the largest remnant, then in few layouts.
/// What is wrong with the job is told in `faults`, what found no place in `left`; the rest is laid
/// out all the same. The same job gives the same sheets, however the work is shared.
pub fn nest(job: &Job, share: &Share) -> Nest {
    let faults = faults(job);
    let sound = Sound::of(job, &faults);
    let mut budget = Budget::of(job.effort);
    let all: Vec<usize> = (0..sound.stock.len()).collect();
    let mut batch = Batch::new(&sound.core, share, sound.master(), all);
    let (mut program, mut rows) = (0.0, Vec::new());
    if batch.master.demand.iter().any(|n| 0 < *n) && !sound.stock.is_empty() {
        rows = all_rows(&batch, &budget);
        let sheets = rows.iter().flat_map(|cut| &cut.sheets);
        sheets.for_each(|(found, _)| batch.add(found.clone()));
        lots(&mut batch, &budget);
        if job.effort != Effort::Quick || !least(&batch, &rows) {
            batch.search_from(0, budget.search);
            let mix = batch.master.shares(&batch.columns);
            program = mix.map_or(0.0, |mix| mix.iter().sum());
        } else {
            budget.dives = 0;
        }
    }
    let layouts = best(&batch, &budget, rows);
    let mut placed = vec![0; sound.items.len()];
    for layout in &layouts {
        layout.placed.iter().for_each(|part| placed[part.item] += layout.copies);
    }
    let bounds = bounds(&sound.core, &placed, program);
    let layouts = sound.told(layouts);
    let left = sound.left(job, &layouts);
    Nest { layouts, left, bounds, faults }
}

/// Whether one of these ways cuts as few sheets as any could. Said of one size of sheet alone.
fn least(batch: &Batch, cuts: &[Cut]) -> bool {
    let whole = cuts.iter().filter(|cut| cut.rest.iter().all(|n| *n == 0));
    let sheets = whole.map(|cut| cut.sheets.iter().map(|(_, n)| n).sum::<u32>());
    let bound = bounds(batch.core, &batch.master.demand, 0.0).sheets();
    batch.stock.len() == 1 && sheets.min().is_some_and(|n| n <= bound)
}

/// Orders of all parts, at least one for every rule.
fn all_rows(batch: &Batch, budget: &Budget) -> Vec<Cut> {
    let parts: u32 = batch.master.demand.iter().sum();
    let wanted = if is_many(parts, budget) { 0 } else { budget.rows / parts.max(1) };
    let count = (wanted.min(budget.most) as usize).max(Rule::ALL.len());
    orders(batch, &batch.master, count)
}

/// First layouts from orders of a share of all parts: more of them for the same work.
fn lots(batch: &mut Batch, budget: &Budget) {
    let master = &batch.master;
    let parts: u32 = master.demand.iter().sum();
    if !is_many(parts, budget) {
        return;
    }
    let share = |n: &u32| (u64::from(*n) * u64::from(LOT)).div_ceil(u64::from(parts)) as u32;
    let lot = master.less(master.demand.iter().map(share).collect(), master.limit.clone());
    let cuts = orders(batch, &lot, (budget.lots / LOT) as usize);
    let sheets = cuts.into_iter().flat_map(|cut| cut.sheets);
    sheets.for_each(|(found, _)| batch.add(found));
}

fn is_many(parts: u32, budget: &Budget) -> bool {
    2 * LOT < parts && 0 < budget.lots
}

fn orders(batch: &Batch, master: &Master, count: usize) -> Vec<Cut> {
    let rows: Vec<OnceLock<Cut>> = (0..count).map(|_| OnceLock::new()).collect();
    (batch.share)(count, &|task| {
        rows[task].get_or_init(|| row(batch.core, master, &batch.stock, task));
    });
    rows.into_iter().filter_map(OnceLock::into_inner).collect()
}

/// The best of several ways to cut everything: those given, and dives.
fn best(batch: &Batch, budget: &Budget, mut cuts: Vec<Cut>) -> Vec<Layout> {
    let Batch { core, master, stock, columns, .. } = batch;
    let dive = Dive { core, master, stock, columns, steps: budget.rest };
    let dives: Vec<OnceLock<Cut>> = (0..budget.dives).map(|_| OnceLock::new()).collect();
    (batch.share)(budget.dives, &|task| {
        dives[task].get_or_init(|| dive.run(task as u64));
    });
    cuts.extend(dives.into_iter().filter_map(OnceLock::into_inner));
    let Some(least) = cuts.iter().map(|cut| weight(batch, cut)).min_by(f64::total_cmp) else {
        return Vec::new();
    };
    cuts.retain(|cut| weight(batch, cut) <= least + 1e-9);
    choose(batch, budget, &mut cuts);
    let whole: Vec<OnceLock<Vec<Layout>>> = cuts.iter().map(|_| OnceLock::new()).collect();
    (batch.share)(cuts.len(), &|task| {
        whole[task].get_or_init(|| finished(batch, &cuts[task], (task, budget.compact)));
    });
    let whole = whole.into_iter().filter_map(OnceLock::into_inner);
    let first = first(&core.job, whole);
    let pressed = press(core, &first, (budget.press, batch.share));
    self::first(&core.job, std::iter::once(first).chain(pressed))
}

/// The first of the best.
fn first(job: &Job, ways: impl Iterator<Item = Vec<Layout>>) -> Vec<Layout> {
    let ranked = ways.map(|layouts| (rank(job, &layouts), layouts));
    let first = ranked.reduce(|a, b| if b.0 < a.0 { b } else { a });
    first.map(|(_, layouts)| layouts).unwrap_or_default()
}

/// Keeps the best of many ways that cost the same, as they are before their last sheet is pushed
/// together, the best first.
fn choose(batch: &Batch, budget: &Budget, cuts: &mut Vec<Cut>) {
    if cuts.len() <= budget.finish {
        return;
    }
    let rank = |cut: &Cut| rank(&batch.core.job, &finished(batch, cut, (0, 0)));
    let mut ranked: Vec<_> = cuts.drain(..).map(|cut| (rank(&cut), cut)).collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    ranked.truncate(budget.finish);
    cuts.extend(ranked.into_iter().map(|(_, cut)| cut));
}

/// Weight of the whole sheets and of what is missing; what lies on remnants in stock takes a little
/// off, so that they are used first.
fn weight(batch: &Batch, cut: &Cut) -> f64 {
    let Batch { core, master, .. } = batch;
    let sheets = cut.sheets.iter().map(|(found, n)| {
        let sheet = &core.job.stock[found.stock];
        let own = std::iter::zip(0.., &found.counts).map(|(i, n)| core.area(i) * f64::from(*n));
        let one = match sheet.remnant {
            true => -REMNANT * own.sum::<f64>() / core.room(found.stock).area() / 1e4,
            false => master.weight[found.stock],
        };
        one * f64::from(*n)
    });
    let missing = std::iter::zip(&master.missing, &cut.rest).map(|(w, n)| w * f64::from(*n));
    sheets.chain(missing).sum()
}

/// Layouts with their remnants: on remnants in stock first, then those cut often, and at the end
/// the last sheet, pushed together.
fn finished(batch: &Batch, cut: &Cut, (task, steps): (usize, usize)) -> Vec<Layout> {
    let core = batch.core;
    let mut sheets = cut.sheets.clone();
    let later = |found: &Found| !core.job.stock[found.stock].remnant;
    sheets.sort_by_key(|(found, copies)| (later(found), std::cmp::Reverse(*copies)));
    let mut layouts: Vec<Layout> = Vec::new();
    let mut counts: Vec<&[u32]> = Vec::new();
    for (found, copies) in &sheets {
        let same = |at: &usize| layouts[*at].stock == found.stock && counts[*at] == found.counts;
        if let Some(at) = (0..layouts.len()).find(same) {
            layouts[at].copies += copies;
            continue;
        }
        let (stock, copies, placed) = (found.stock, *copies, found.placed.clone());
        layouts.push(Layout { stock, copies, placed, remnant: None });
        counts.push(&found.counts);
    }
    for layout in &mut layouts {
        layout.remnant = remnant(&core.job, &core.job.stock[layout.stock], layout);
    }
    if let Some(at) = last(core, &layouts) {
        let layout = layouts.remove(at);
        layouts.push(compact(core, layout, (task, steps)));
    }
    layouts
}

/// The less, the better: cost, the largest remnant in coarse steps, layouts, then the remnant
/// itself.
fn rank(job: &Job, layouts: &[Layout]) -> (i64, i64, usize, i64) {
    let costs = layouts.iter().map(|l| job.stock[l.stock].cost * f64::from(l.copies));
    let cost = (costs.sum::<f64>() * COST).round() as i64;
    let areas = layouts.iter().filter_map(|layout| layout.remnant).map(|rect| rect.area());
    let most = areas.fold(0.0, f64::max);
    let sizes = job.stock.iter().map(|stock| stock.size[0] as f64 * stock.size[1] as f64 / 1e4);
    let coarse = (most / (ALIKE * sizes.fold(1.0, f64::max))).floor() as i64;
    (cost, -coarse, layouts.len(), -most as i64)
}
