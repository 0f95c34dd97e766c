//! The nearest contour that may be cut comes next.

use super::model::cost;
use super::{Contour, Pace, Step, Tour};

/// The order in which the next contour is always the one that is reached first.
pub fn nearest(contours: &[Contour], pace: &Pace) -> Tour {
    let mut waits_for = vec![0_usize; contours.len()];
    contours.iter().filter_map(|c| c.then).for_each(|then| waits_for[then] += 1);
    let (mut round, mut later): (Vec<usize>, Vec<usize>) =
        (0..contours.len()).partition(|&i| contours[i].first);
    let mut steps: Vec<Step> = Vec::with_capacity(contours.len());
    while steps.len() < contours.len() {
        if round.is_empty() {
            std::mem::swap(&mut round, &mut later);
        }
        let free = round.iter().enumerate().filter(|(_, contour)| waits_for[**contour] == 0);
        let next = free.fold(None, |best: Option<(f64, usize, Step)>, (slot, &contour)| {
            let (time, step) = reached(contours, pace, steps.last().copied(), contour);
            if best.is_none_or(|(least, ..)| time < least) {
                Some((time, slot, step))
            } else {
                best
            }
        });
        assert!(next.is_some(), "contours wait for each other in a ring");
        let Some((_, slot, step)) = next else { break };
        round.remove(slot);
        if let Some(then) = contours[step.contour].then {
            waits_for[then] -= 1;
        }
        steps.push(step);
    }
    Tour::of(contours, pace, steps)
}

/// The start of a contour that is reached first, and when.
fn reached(contours: &[Contour], pace: &Pace, before: Option<Step>, contour: usize) -> (f64, Step) {
    let step = |start: usize| Step { contour, start };
    let mut best = (cost(contours, pace, before, step(0)), step(0));
    for start in 1..contours[contour].starts.len() {
        let time = cost(contours, pace, before, step(start));
        if time < best.0 {
            best = (time, step(start));
        }
    }
    best
}
