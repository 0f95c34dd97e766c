//! What an order of bends costs: bends that no stop serves, then flips, turns, changes of tools,
//! and stops that are less sure; and the least that what is left must cost.

use super::job::{Job, Lie, lines_between, turn_between};
use super::plan::{Handling, Stop, StopKind};
use super::shape::Done;

/// Directions as near as this are one, degrees.
const SAME_DIRECTION: f64 = 0.05;

/// Counts in the order of their weight.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    /// Strokes without a stop.
    pub(super) unheld: u16,
    /// Flips.
    pub(super) flips: u16,
    /// Turns.
    pub(super) turns: u16,
    /// Changes of punch or die.
    pub(super) changes: u16,
    /// Steps down from the best kind of stop.
    pub(super) poor: u16,
}

impl Cost {
    pub(super) fn plus(self, other: Self) -> Self {
        Self {
            unheld: self.unheld + other.unheld,
            flips: self.flips + other.flips,
            turns: self.turns + other.turns,
            changes: self.changes + other.changes,
            poor: self.poor + other.poor,
        }
    }

    /// What a stop costs.
    pub(super) fn of_stop(stop: Option<&Stop>) -> Self {
        match stop.map(|stop| stop.kind) {
            None => Self { unheld: 1, ..Self::default() },
            Some(StopKind::Edge) => Self::default(),
            Some(StopKind::Standing) => Self { poor: 1, ..Self::default() },
            Some(StopKind::Hanging) => Self { poor: 2, ..Self::default() },
        }
    }

    /// What is to be done with the part between two strokes.
    pub(super) fn of_handling(handling: Handling) -> Self {
        let half = handling.flipped && handling.turned == 180;
        Self {
            flips: u16::from(handling.flipped),
            turns: u16::from(handling.turned != 0 && !half),
            ..Self::default()
        }
    }
}

/// How the part gets from one lie to the next. A flip turns it about an axis along the bed, so that
/// what was at the gauge comes to the operator.
pub(super) fn handling(from: Option<Lie>, to: Lie) -> Handling {
    let Some(from) = from else { return Handling { flipped: false, turned: 0 } };
    let flipped = from.side != to.side;
    let at_gauge = if flipped { from.direction + 180.0 } else { from.direction };
    // Seen from above, the blank's own directions run to the left with its upper side up.
    let sign = if to.side == crate::kit::Side::Upper { -1.0 } else { 1.0 };
    let turned = ((to.direction - at_gauge) * sign).rem_euclid(360.0).round() as u16 % 360;
    let turned = if turn_between(to.direction, at_gauge) < SAME_DIRECTION { 0 } else { turned };
    Handling { flipped, turned }
}

/// The least that the bends left cost, from a lie on, with one of some dies (as bits) set up.
pub(super) fn at_least(job: &Job<'_>, done: Done, lie: Option<Lie>, held: u64) -> Cost {
    let mut sides = Vec::new();
    let mut lines: Vec<f64> = Vec::new();
    let mut dies: Vec<u64> = vec![held];
    if let Some(lie) = lie {
        sides.push(lie.side);
        lines.push(lie.direction);
    }
    for unit in job.units.iter().filter(|unit| done & unit.mask == 0) {
        let to = job.lies[unit.lies[0]];
        if !sides.contains(&to.side) {
            sides.push(to.side);
        }
        if !lines.iter().any(|line| lines_between(*line, to.direction) < SAME_DIRECTION) {
            lines.push(to.direction);
        }
        let own = unit.dies.iter().fold(0, |bits, die| bits | 1_u64 << die);
        if dies.iter().all(|known| known & own == 0) {
            dies.push(own);
        }
    }
    let more = |count: usize| count.saturating_sub(1) as u16;
    let (flips, turns, changes) = (more(sides.len()), more(lines.len()), more(dies.len()));
    Cost { flips, turns, changes, ..Cost::default() }
}
