//! A post under compression: elastic critical loads with both ends pinned, and the reduction of EN
//! 1993-1-1 6.3.1 (from memory).

use std::f64::consts::PI;

use super::gross::Values;
use super::thin::Thin;

/// Poisson's ratio (EN 1993-1-3 as in worked example SX022a).
const POISSON: f64 = 0.3;

/// Imperfection of buckling curve c: EN 1993-1-3 table 6.3 for sections not named there, memory.
const IMPERFECTION: f64 = 0.49;

/// Elastic critical loads of a post, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Critical {
    /// Euler's load about the axis of the least second moment.
    pub euler: f64,
    /// Least load at which the post turns and bends at once; its ends may not turn but may warp.
    pub turning: f64,
}

/// Critical loads of a post of a length (mm) and Young's modulus (N/mm2).
pub fn critical(values: &Values, thin: &Thin, length: f64, modulus: f64) -> Critical {
    let wave = PI * PI * modulus / (length * length);
    let [strong, weak] = values.principal.map(|inertia| wave * inertia);
    let axes = values.axes();
    let way = thin.shear_centre - values.centroid;
    // The first axis is that of the greatest second moment: bending about it moves the section
    // along the second.
    let (x0, y0) = (way.dot(axes[0]), way.dot(axes[1]));
    let polar = (values.ix + values.iy) / values.area + x0 * x0 + y0 * y0;
    let shear = modulus / (2.0 * (1.0 + POISSON));
    let turn = (shear * thin.torsion + wave * thin.warping) / polar;
    let balance = |n: f64| {
        let own = (n - strong) * (n - weak) * (n - turn);
        own - n * n / polar * ((n - weak) * x0 * x0 + (n - strong) * y0 * y0)
    };
    Critical { euler: weak, turning: least_root(balance, strong.min(weak).min(turn)) }
}

/// The least root of a function that is negative at 0 and not negative at `high`.
fn least_root(f: impl Fn(f64) -> f64, high: f64) -> f64 {
    let (mut low, mut high) = (0.0, high);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if f(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// The reduction of a post's squash load, EN 1993-1-1 6.3.1.2, curve c; `slenderness` is the root
/// of squash load over critical load.
pub fn reduction(slenderness: f64) -> f64 {
    if slenderness <= 0.2 {
        return 1.0;
    }
    let square = slenderness * slenderness;
    let phi = 0.5 * (1.0 + IMPERFECTION * (slenderness - 0.2) + square);
    (1.0 / (phi + (phi * phi - square).sqrt())).min(1.0)
}
