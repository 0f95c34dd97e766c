//! The last sheet pushed together towards one side, so that what one cut sets free is large.

use super::bed::{Bed, Rule};
use super::core::Core;
use super::dice::Dice;
use super::fill::{Candidate, top_up};
use super::remnant::remnant;
use super::{Layout, Placed};

/// The layout that is cut once and holds the least, by its index; one on a remnant in stock only
/// where there is no other.
pub(crate) fn last(core: &Core, layouts: &[Layout]) -> Option<usize> {
    let area = |layout: &Layout| -> f64 {
        layout.placed.iter().map(|placed| core.area(placed.item)).sum()
    };
    let once = layouts.iter().enumerate().filter(|(_, layout)| layout.copies == 1);
    let remnant = |layout: &Layout| core.job.stock[layout.stock].remnant;
    let first =
        once.min_by(|(_, a), (_, b)| remnant(a).cmp(&remnant(b)).then(area(a).total_cmp(&area(b))));
    first.map(|(at, _)| at)
}

/// The same parts on the same sheet with a remnant that is not smaller: orders are tried under
/// every rule, the largest parts first, then changed a little at a time.
pub(crate) fn compact(core: &Core, layout: Layout, (task, steps): (usize, usize)) -> Layout {
    let mut dice = Dice::new(core.job.seed ^ 0x0070_7573_6865, task as u64);
    let mut best = layout;
    let mut order: Vec<Candidate> =
        best.placed.iter().map(|placed| Candidate { item: placed.item, pose: None }).collect();
    order.sort_by(|a, b| core.area(b.item).total_cmp(&core.area(a.item)).then(a.cmp(b)));
    let mut kept = (0.0, order, Rule::Low);
    for step in 0..steps {
        let (mut order, mut rule) = (kept.1.clone(), kept.2);
        match step {
            0..4 => rule = Rule::ALL[step],
            _ => change(core, &mut order, &mut rule, &mut dice),
        }
        let tried = top_up(core, &mut Bed::new(core, best.stock), &order, rule);
        let Some(placed) = tried.into_iter().collect::<Option<Vec<Placed>>>() else { continue };
        let mut new = Layout { placed, remnant: None, ..best.clone() };
        new.remnant = remnant(&core.job, &core.job.stock[new.stock], &new);
        let area = |layout: &Layout| layout.remnant.map_or(0.0, |rect| rect.area());
        if kept.0 <= area(&new) {
            kept = (area(&new), order, rule);
        }
        if area(&best) < area(&new) {
            best = new;
        }
    }
    best
}

fn change(core: &Core, order: &mut [Candidate], rule: &mut Rule, dice: &mut Dice) {
    if order.is_empty() {
        return;
    }
    let (a, b) = (dice.below(order.len()), dice.below(order.len()));
    match dice.below(5) {
        0 | 1 => order.swap(a, b),
        2 => order[a.min(b)..=a.max(b)].rotate_left(1),
        3 => {
            let poses = core.poses[order[a].item].len();
            order[a].pose = Some(dice.below(poses)).filter(|_| 1 < poses);
        }
        _ => *rule = Rule::ALL[dice.below(Rule::ALL.len())],
    }
}
