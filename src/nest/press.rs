//! The last sheet made emptier: its parts are pressed into the other sheets, and what stays is
//! squeezed to one side, by driving overlaps apart.

use std::sync::OnceLock;

use super::bed::{Bed, Rule};
use super::compact::last;
use super::core::Core;
use super::crowd::Crowd;
use super::dice::Dice;
use super::fill::{Candidate, top_up};
use super::plan::Share;
use super::remnant::remnant;
use super::separate::{Patience, separate};
use super::squeeze::squeeze;
use super::{Layout, Placed};

/// While pressing a part into a sheet.
const PRESS: Patience = Patience { rounds: 40, strikes: 2, anywhere: 10, nearby: 10 };

/// How much is tried.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Steps {
    /// Independent tries.
    pub tasks: usize,
    /// Places looked at in each while parts are pressed into sheets.
    pub press: u64,
    /// Places looked at in each while the last sheet is squeezed, per axis.
    pub squeeze: u64,
}

/// The layouts in several tries, each with an emptier last sheet, or with one sheet less. Layouts
/// that are cut more than once stay as they are.
pub(crate) fn press(
    core: &Core,
    layouts: &[Layout],
    (steps, share): (Steps, &Share),
) -> Vec<Vec<Layout>> {
    let Some(at) = last(core, layouts) else { return Vec::new() };
    let tries: Vec<OnceLock<Vec<Layout>>> = (0..steps.tasks).map(|_| OnceLock::new()).collect();
    share(steps.tasks, &|task| {
        let mut dice = Dice::new(core.job.seed ^ 0x7072_6573_7300, task as u64);
        tries[task].get_or_init(|| one_try(core, (layouts, at), &mut dice, steps));
    });
    tries.into_iter().filter_map(OnceLock::into_inner).collect()
}

fn one_try(
    core: &Core,
    (layouts, at): (&[Layout], usize),
    dice: &mut Dice,
    steps: Steps,
) -> Vec<Layout> {
    let mut others = layouts.to_vec();
    let mut last = others.remove(at);
    let stay = press_all(core, &last.placed, &mut others, (dice, steps.press));
    if stay.is_empty() {
        return others;
    }
    if stay.len() < last.placed.len() {
        last.placed = stay;
        told(core, &mut last);
    }
    for (axis, rule) in [Rule::Left, Rule::Low].into_iter().enumerate() {
        let shorter = shorter(core, &last, (axis, rule), (dice, steps.squeeze));
        if free(&last) < free(&shorter) {
            last = shorter;
        }
    }
    others.push(last);
    others
}

/// Presses parts into the sheets, the largest first, as long as steps last. Those that stay.
fn press_all(
    core: &Core,
    parts: &[Placed],
    sheets: &mut [Layout],
    (dice, steps): (&mut Dice, u64),
) -> Vec<Placed> {
    let once = sheets.iter().filter(|sheet| sheet.copies == 1).count();
    let mut left = steps;
    let each = steps / (parts.len() * once).max(1) as u64;
    let mut stay = Vec::new();
    for part in largest_first(core, parts) {
        let mut open = sheets.iter_mut().filter(|sheet| sheet.copies == 1);
        if !open.any(|sheet| press_one(core, sheet, part, (dice, each, &mut left))) {
            stay.push(part);
        }
    }
    stay
}

fn press_one(
    core: &Core,
    sheet: &mut Layout,
    part: Placed,
    (dice, each, left): (&mut Dice, u64, &mut u64),
) -> bool {
    let room = core.room(sheet.stock);
    let all = [&sheet.placed[..], &[part]].concat();
    let area: f64 = all.iter().map(|placed| core.area(placed.item)).sum();
    if !core.fits(part.item, sheet.stock) || room.area() * 1e4 < area {
        return false;
    }
    let mut crowd = Crowd::new(core, sheet.stock, room, &all);
    crowd.herd();
    let given = each.min(*left);
    let mut rest = given;
    let apart = separate(&mut crowd, dice, PRESS, &mut rest);
    *left -= given - rest;
    if apart {
        sheet.placed = crowd.placed();
        told(core, sheet);
    }
    apart
}

/// A sheet with its parts as far towards the start of an axis as can be found.
fn shorter(
    core: &Core,
    sheet: &Layout,
    (axis, rule): (usize, Rule),
    (dice, steps): (&mut Dice, u64),
) -> Layout {
    let parts = largest_first(core, &sheet.placed).into_iter();
    let order: Vec<Candidate> =
        parts.map(|placed| Candidate { item: placed.item, pose: None }).collect();
    let filled = top_up(core, &mut Bed::new(core, sheet.stock), &order, rule);
    let filled: Option<Vec<Placed>> = filled.into_iter().collect();
    let start = filled.unwrap_or_else(|| sheet.placed.clone());
    let room = (sheet.stock, core.room(sheet.stock));
    let (placed, _) = squeeze(core, room, axis, &start, (dice, steps));
    let mut shorter = Layout { placed, ..sheet.clone() };
    told(core, &mut shorter);
    shorter
}

fn largest_first(core: &Core, parts: &[Placed]) -> Vec<Placed> {
    let mut parts = parts.to_vec();
    parts.sort_by(|a, b| core.area(b.item).total_cmp(&core.area(a.item)).then(a.cmp(b)));
    parts
}

/// Tells the sheet's remnant anew.
fn told(core: &Core, sheet: &mut Layout) {
    sheet.remnant = remnant(&core.job, &core.job.stock[sheet.stock], sheet);
}

fn free(sheet: &Layout) -> f64 {
    sheet.remnant.map_or(0.0, |rect| rect.area())
}
