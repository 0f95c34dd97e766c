//! Bending by DIN 6935: neutral line, length compensation, least and preferred inside radii.
//!
//! DIN 6935 writes `k` for twice the factor this project calls K (depth of the neutral line over
//! the thickness): K = k / 2. The correction factor and the radius tables are those of the 1975
//! edition; the formulas of `v` were checked against a metalwork table book's values (see the
//! tests).

use std::f64::consts::PI;

use crate::units::{log10, tan_deg};

/// The name under which the rule is printed.
pub const DIN_6935: &str = "DIN 6935";

/// DIN 6935's correction factor k for an inside radius and a thickness: `0.65 + 0.5 log10(r / s)`
/// up to r/s = 5, 1 beyond. Not below 0, where the formula leaves the sheet (r/s under 0.05).
pub fn correction(radius: f64, thickness: f64) -> f64 {
    let ratio = radius / thickness;
    if 5.0 < ratio {
        return 1.0;
    }
    if ratio <= 0.0 {
        return 0.0;
    }
    (0.65 + 0.5 * log10(ratio)).max(0.0)
}

/// K: depth of the neutral line under the inner face over the thickness, the same for every angle.
pub fn neutral_factor(radius: f64, thickness: f64) -> f64 {
    correction(radius, thickness) / 2.0
}

/// DIN 6935's compensation v in mm, to be added to the legs' outside sizes for the developed
/// length. `angle` is the bend angle: deviation from flat in degrees, 0 to 180 (the standard's
/// opening angle is 180 less this). Legs are outside sizes to the sharp corner up to 90, to the
/// tangent beyond.
pub fn compensation(radius: f64, thickness: f64, angle: f64) -> f64 {
    if angle < 15.0 {
        return 0.0;
    }
    let neutral = radius + thickness / 2.0 * correction(radius, thickness);
    let arc = PI * angle / 180.0 * neutral;
    let corner = if angle < 90.0 { tan_deg(angle / 2.0) } else { 1.0 };
    arc - 2.0 * (radius + thickness) * corner
}

/// Preferred inside radii, mm.
pub const PREFERRED_RADII: [f64; 24] = [
    1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 28.0, 32.0,
    36.0, 40.0, 45.0, 50.0, 63.0, 80.0, 100.0,
];

/// The preferred radius nearest to `radius` and not below `least`.
pub fn preferred_radius(radius: f64, least: f64) -> f64 {
    let far = |candidate: &f64| (candidate - radius).abs();
    let fitting = PREFERRED_RADII.iter().copied().filter(|r| least <= r + 1e-9);
    fitting.min_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(least)
}

/// Thickness columns of the table: up to and with, mm.
const COLUMNS: [f64; 15] =
    [1.0, 1.5, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0];

/// Least radii by the lowest tensile strength, N/mm2, up to and with: across the rolling direction,
/// bends up to 120 degrees.
const CLASSES: [(f64, [f64; 15]); 3] = [
    (390.0, [1.0, 1.6, 2.5, 3.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 28.0, 36.0, 40.0]),
    (490.0, [1.2, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 28.0, 32.0, 40.0, 45.0]),
    (640.0, [1.6, 2.5, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 36.0, 45.0, 50.0]),
];

/// DIN 6935's least inside radius in mm across the rolling direction, for the grade's lowest
/// tensile strength in N/mm2; bends over 120 degrees take the next thickness column. None beyond
/// the table (20 mm, 640 N/mm2).
pub fn least_radius(tensile: f64, thickness: f64, angle: f64) -> Option<f64> {
    let (_, radii) = CLASSES.iter().find(|(most, _)| tensile <= *most)?;
    let column = COLUMNS.iter().position(|most| thickness <= *most)?;
    let column = if 120.0 < angle { column + 1 } else { column };
    radii.get(column).copied()
}
