//! The chance that an offset, normally spread in the plane, stays within a region about its mean.

use super::gate::{Flat, Region, length};
use crate::units;

/// Variances and covariance of an offset in a joint's plane: xx, xy, yy, mm2.
pub(super) type Covariance = [f64; 3];

/// Directions over half a turn; the mean over them converges faster than any power of their number.
const DIRECTIONS: usize = 16;

/// Gauss-Hermite nodes and weights for a normal variate of deviation 1, five points.
const NODES: [(f64, f64); 5] = [
    (0.0, 8.0 / 15.0),
    (1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (2.856_970_013_872_806, 0.011_257_411_327_720_69),
    (-2.856_970_013_872_806, 0.011_257_411_327_720_69),
];

/// The two principal deviations of an offset, mm, and the direction of the first, degrees.
pub(super) fn principal([xx, xy, yy]: Covariance) -> ([f64; 2], f64) {
    let (middle, half) = (f64::midpoint(xx, yy), (xx - yy) / 2.0);
    let away = units::hypot(half, xy);
    let angle = if away == 0.0 { 0.0 } else { units::atan2_deg(xy, half) / 2.0 };
    ([(middle + away).max(0.0).sqrt(), (middle - away).max(0.0).sqrt()], angle)
}

/// The chance that an offset lies outside a region whose rim is spread as well.
///
/// An offset is a direction in the plane of equal spread times a Rayleigh length, so that the
/// chance to lie outside is the mean over all directions of `exp(-(reach / deviation)^2 / 2)`:
/// exact for any region that each ray from the middle leaves once. The rim's spread is taken by
/// five points of its normal law.
pub(super) fn outside(region: &Region, covariance: Covariance) -> f64 {
    let ([long, short], angle) = principal(covariance);
    let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
    let all = if region.spread == 0.0 { &[(0.0, 1.0)][..] } else { &NODES };
    let mut fails = 0.0;
    for i in 0..DIRECTIONS {
        let turn = 180.0 * (i as f64 + 0.5) / DIRECTIONS as f64;
        let (a, b) = (long * units::cos_deg(turn), short * units::sin_deg(turn));
        let offset: Flat = [a * cos - b * sin, a * sin + b * cos];
        let deviation = length(offset);
        let along = if deviation == 0.0 { [1.0, 0.0] } else { offset.map(|v| v / deviation) };
        for (node, weight) in all {
            let rim = region.clearance + region.spread * node;
            fails += weight * beyond(region, along, rim, deviation);
        }
    }
    (fails / DIRECTIONS as f64).clamp(0.0, 1.0)
}

fn beyond(region: &Region, along: Flat, rim: f64, deviation: f64) -> f64 {
    if rim < 0.0 {
        return 1.0;
    }
    if deviation == 0.0 {
        return 0.0;
    }
    let ratio = region.reach(along, rim) / deviation;
    units::exp(-ratio * ratio / 2.0)
}
