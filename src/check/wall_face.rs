//! The corrugated wall as a function of X.

use crate::kit::Wall;

/// Distance of a site X from the nearest outer flat's centre.
pub(super) fn from_flat(wall: &Wall, x: f64) -> f64 {
    wall.outer_flat_centres.iter().map(|c| (x - c).abs()).fold(f64::INFINITY, f64::min)
}

/// Distance of a site X from the nearest inner flat's centre.
pub(super) fn from_inner_flat(wall: &Wall, x: f64) -> f64 {
    let pairs = wall.outer_flat_centres.windows(2);
    pairs.map(|pair| (x - (pair[0] + pair[1]) / 2.0).abs()).fold(f64::INFINITY, f64::min)
}
