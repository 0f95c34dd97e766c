//! Trigonometry in degrees through `libm`: a machine's own library differs in the last bit.

use std::f64::consts::PI;

/// Sine of an angle in degrees; exact at multiples of 90.
pub fn sin_deg(angle: f64) -> f64 {
    cos_deg(angle - 90.0)
}

/// Cosine of an angle in degrees; exact at multiples of 90.
pub fn cos_deg(angle: f64) -> f64 {
    let turn = angle.rem_euclid(360.0);
    if turn == 0.0 {
        1.0
    } else if turn == 90.0 || turn == 270.0 {
        0.0
    } else if turn == 180.0 {
        -1.0
    } else {
        libm::cos(turn * PI / 180.0)
    }
}

/// Tangent of an angle in degrees; exact at 0, 45 and their negatives.
pub fn tan_deg(angle: f64) -> f64 {
    if angle == 45.0 || angle == -45.0 {
        return angle.signum();
    }
    libm::tan(angle * PI / 180.0)
}

/// Arc tangent in degrees, -90 to 90.
pub fn atan_deg(ratio: f64) -> f64 {
    libm::atan(ratio) * 180.0 / PI
}

/// Direction of the vector (x, y) in degrees from +x, -180 to 180.
pub fn atan2_deg(y: f64, x: f64) -> f64 {
    libm::atan2(y, x) * 180.0 / PI
}

/// Arc cosine in degrees, 0 to 180; values a rounding error outside -1..1 are clamped.
pub fn acos_deg(ratio: f64) -> f64 {
    libm::acos(ratio.clamp(-1.0, 1.0)) * 180.0 / PI
}

/// Arc sine in degrees, -90 to 90; values a rounding error outside -1..1 are clamped.
pub fn asin_deg(ratio: f64) -> f64 {
    libm::asin(ratio.clamp(-1.0, 1.0)) * 180.0 / PI
}

/// Length of the vector (x, y).
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

/// Decimal logarithm.
pub fn log10(value: f64) -> f64 {
    libm::log10(value)
}

/// Cube root.
pub fn cbrt(value: f64) -> f64 {
    libm::cbrt(value)
}

/// e to the power of `value`.
pub fn exp(value: f64) -> f64 {
    libm::exp(value)
}

/// Natural logarithm.
pub fn ln(value: f64) -> f64 {
    libm::log(value)
}

/// Natural logarithm of the gamma function of a value above 0.
pub fn ln_gamma(value: f64) -> f64 {
    libm::lgamma(value)
}
