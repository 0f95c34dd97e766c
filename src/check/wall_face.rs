//! The corrugated wall's outer and inner face as functions of X.

use crate::kit::Wall;

/// Y of the wall's outer face at a site X.
pub(super) fn outer_face(wall: &Wall, x: f64) -> f64 {
    let nearest = wall
        .outer_flat_centres
        .iter()
        .map(|centre| (x - centre).abs())
        .fold(f64::INFINITY, f64::min);
    let half = wall.outer_flat / 2.0;
    let beyond = wall.outer_flat_centres.first().is_some_and(|first| x < *first)
        || wall.outer_flat_centres.last().is_some_and(|last| *last < x);
    if beyond {
        return 0.0;
    }
    ((nearest - half) / wall.slope).clamp(0.0, 1.0) * wall.depth
}

/// Distance of a site X from the nearest outer flat's centre.
pub(super) fn from_flat(wall: &Wall, x: f64) -> f64 {
    wall.outer_flat_centres.iter().map(|c| (x - c).abs()).fold(f64::INFINITY, f64::min)
}
