//! Sheets thought of as stacks side by side, each of one kind of part: which stacks are worth most
//! together. The decoder then lays the parts for good and fills what the stacks leave.

use super::core::Core;
use super::dice::Dice;
use super::fill::Candidate;
use super::master::Worth;

/// Steps into which the sheet's width is divided.
const CELLS: usize = 1000;
/// By how much a stack's worth is made greater or smaller at most, so that tries differ.
const NOISE: f64 = 1.25;

/// A stack of parts of one kind in one pose.
#[derive(Debug, Clone, Copy)]
struct Stack {
    part: Candidate,
    count: u32,
    /// Extent along the stack, for the order.
    length: i64,
    /// Steps of the sheet's width, rounded up.
    cells: usize,
    worth: f64,
}

/// The parts of the stacks that are worth most together, the longest parts first. Stacks run along
/// `axis`; the area beyond their ends counts for as much as it would on average.
pub(crate) fn stacks(
    core: &Core,
    worth: &Worth,
    (stock, axis, weight): (usize, usize, f64),
    dice: &mut Dice,
) -> Vec<(Candidate, u32)> {
    let all = all(core, worth, (stock, axis, weight), dice);
    let mut best = vec![(0.0, None::<usize>); CELLS + 1];
    for cell in 1..=CELLS {
        best[cell] = (best[cell - 1].0, None);
        for (index, stack) in all.iter().enumerate().filter(|(_, s)| s.cells <= cell) {
            let value = best[cell - stack.cells].0 + stack.worth;
            if best[cell].0 < value {
                best[cell] = (value, Some(index));
            }
        }
    }
    let mut chosen: Vec<Stack> = Vec::new();
    let mut cell = CELLS;
    while 0 < cell {
        match best[cell].1 {
            Some(index) => {
                chosen.push(all[index]);
                cell -= all[index].cells.max(1);
            }
            None => cell -= 1,
        }
    }
    chosen.sort_by_key(|stack| (-stack.length, stack.part));
    chosen.iter().map(|stack| (stack.part, stack.count)).collect()
}

/// One stack for every item and every extent it may show.
fn all(
    core: &Core,
    worth: &Worth,
    (stock, axis, weight): (usize, usize, f64),
    dice: &mut Dice,
) -> Vec<Stack> {
    let size = core.room(stock).size();
    let [along, across] = [size[axis] + core.job.gap, size[1 - axis] + core.job.gap];
    let dense = 0.8 * weight / (along as f64 * across as f64);
    let mut all: Vec<Stack> = Vec::new();
    for (item, poses) in core.poses.iter().enumerate() {
        for (index, pose) in poses.iter().enumerate() {
            let extent = core.form_size(pose.form).map(|side| side + core.job.gap);
            let seen = poses[..index]
                .iter()
                .any(|other| core.form_size(other.form) == core.form_size(pose.form));
            let count = (along / extent[axis].max(1)) as u32;
            let cells = (extent[1 - axis] * CELLS as i64).div_euclid(across) as usize + 1;
            if seen || count == 0 || CELLS < cells || worth.items[item] <= 0.0 {
                continue;
            }
            let rest = (along - i64::from(count) * extent[axis]) as f64 * extent[1 - axis] as f64;
            let own = f64::from(count) * worth.items[item] + rest * dense;
            all.push(Stack {
                part: Candidate { item, pose: Some(index) },
                count,
                length: extent[axis],
                cells,
                worth: own * dice.near_one(NOISE),
            });
        }
    }
    all
}
