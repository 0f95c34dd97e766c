//! Where each contour is begun: the best of all choices along a given order.

use super::model::cost;
use super::{Contour, Pace, Step};

/// Chooses the starts that together take the least time.
pub(super) fn choose(contours: &[Contour], pace: &Pace, steps: &mut [Step]) {
    let mut times: Vec<f64> = Vec::new();
    let mut came_from: Vec<Vec<usize>> = Vec::with_capacity(steps.len());
    let mut before: Option<usize> = None;
    for step in steps.iter() {
        let here = 0..contours[step.contour].starts.len();
        let (mut next, mut from) = (Vec::new(), Vec::new());
        for start in here {
            let step = Step { contour: step.contour, start };
            let (time, origin) = match before {
                None => (cost(contours, pace, None, step), 0),
                Some(contour) => {
                    best(&times, |start| cost(contours, pace, Some(Step { contour, start }), step))
                }
            };
            next.push(time);
            from.push(origin);
        }
        (times, before) = (next, Some(step.contour));
        came_from.push(from);
    }
    let (_, mut start) = best(&times, |_| 0.0);
    for (step, from) in steps.iter_mut().zip(&came_from).rev() {
        step.start = start;
        start = from[start];
    }
}

/// The least of times to which something is added, and where it stands.
fn best(times: &[f64], more: impl Fn(usize) -> f64) -> (f64, usize) {
    let all = times.iter().enumerate().map(|(i, time)| (time + more(i), i));
    all.fold((f64::INFINITY, 0), |best, next| if next.0 < best.0 { next } else { best })
}
