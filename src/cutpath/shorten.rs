//! 2-opt: a stretch of the order is run backwards where that saves time and breaks no rule.

use super::model::cost;
use super::{Contour, Pace, Step};

/// Less than this is not worth a change, s: it would be rounding.
const WORTH: f64 = 1e-9;

/// Shortens an order in place.
pub(super) fn shorten(
    contours: &[Contour],
    pace: &Pace,
    steps: &mut [Step],
    (window, sweeps): (usize, usize),
) {
    let split = steps.iter().take_while(|step| contours[step.contour].first).count();
    let mut order = Order { contours, pace, at: vec![0; contours.len()], before: Vec::new() };
    order.before = vec![Vec::new(); contours.len()];
    for (i, contour) in contours.iter().enumerate() {
        if let Some(then) = contour.then {
            order.before[then].push(i);
        }
    }
    steps.iter().enumerate().for_each(|(place, step)| order.at[step.contour] = place);
    for _ in 0..sweeps {
        let first = order.sweep(steps, 0..split, window);
        let second = order.sweep(steps, split..steps.len(), window);
        if !first && !second {
            break;
        }
    }
}

/// What a change of the order is judged by.
struct Order<'a> {
    contours: &'a [Contour],
    pace: &'a Pace,
    /// Place of each contour in the order.
    at: Vec<usize>,
    /// The contours that must come before each.
    before: Vec<Vec<usize>>,
}

impl Order<'_> {
    /// Tries every stretch of a round once; whether anything was gained.
    fn sweep(&mut self, steps: &mut [Step], round: std::ops::Range<usize>, window: usize) -> bool {
        let mut gained = false;
        for low in round.clone() {
            let last = round.end.min(low.saturating_add(window));
            let tried = (low + 1..last).map(|high| self.tried(steps, low, high));
            let free = tried.take_while(|tried| *tried != Tried::Bound);
            gained |= 0 < free.filter(|tried| *tried == Tried::Turned).count();
        }
        gained
    }

    /// Runs a stretch backwards where that is allowed and saves time.
    fn tried(&mut self, steps: &mut [Step], low: usize, high: usize) -> Tried {
        if self.bound(steps, low, high) {
            return Tried::Bound;
        }
        if self.gain(steps, low, high) <= WORTH {
            return Tried::Kept;
        }
        steps[low..=high].reverse();
        for (place, step) in steps.iter().enumerate().take(high + 1).skip(low) {
            self.at[step.contour] = place;
        }
        Tried::Turned
    }

    /// Whether the contour at `high` must stay behind one from `low` on.
    fn bound(&self, steps: &[Step], low: usize, high: usize) -> bool {
        self.before[steps[high].contour].iter().any(|&contour| low <= self.at[contour])
    }

    /// Time saved by running a stretch backwards, s.
    fn gain(&self, steps: &[Step], low: usize, high: usize) -> f64 {
        let time = |before, step| cost(self.contours, self.pace, before, step);
        let before = low.checked_sub(1).map(|i| steps[i]);
        let after = steps.get(high + 1).copied();
        let leave = |from: Step| after.map_or(0.0, |after| time(Some(from), after));
        let now = time(before, steps[low]) + leave(steps[high]);
        now - time(before, steps[high]) - leave(steps[low])
    }
}

/// What became of a stretch.
#[derive(Clone, Copy, PartialEq)]
enum Tried {
    /// It must not be run backwards, nor any longer one.
    Bound,
    /// It was.
    Turned,
    /// It would save nothing.
    Kept,
}
