//! In which order the contours of a sheet are cut, and where each is begun.
//!
//! First all inside contours in which nothing lies: the sheet is still whole and nothing has moved.
//! Then the rest, each part's outline after what is cut inside it, and an opening after the parts
//! that lie in it. Within that the way between cuts is kept short: nearest next, then 2-opt, then
//! the best starts along the order found. Two small contours close to each other cost a pause when
//! they are cut in a row, so that another one is put between them where there is one.

mod model;
mod nearest;
mod shorten;
mod starts;

pub use model::{Contour, Pace, Step, Tour};
pub use nearest::nearest;

/// The order of cuts. Never longer in time than [`nearest`]'s. `window` says how many contours a
/// reversal of 2-opt may span, `sweeps` how often all are tried.
pub fn order(contours: &[Contour], pace: &Pace, (window, sweeps): (usize, usize)) -> Tour {
    let first = nearest(contours, pace);
    let mut steps = first.steps.clone();
    shorten::shorten(contours, pace, &mut steps, (window, sweeps));
    starts::choose(contours, pace, &mut steps);
    let better = Tour::of(contours, pace, steps);
    if better.seconds(pace) <= first.seconds(pace) { better } else { first }
}
