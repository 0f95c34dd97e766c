//! The corrugated wall as a function of X.

use crate::kit::Wall;

/// Distance of a site X from the nearest outer flat's centre.
pub(super) fn from_flat(wall: &Wall, x: f64) -> f64 {
    wall.outer_flat_centres.iter().map(|c| (x - c).abs()).fold(f64::INFINITY, f64::min)
}
