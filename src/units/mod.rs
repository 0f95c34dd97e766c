//! Lengths are millimetres and angles degrees everywhere inside; this module holds the only
//! trigonometry, so that the same input gives the same bytes on every machine.

mod trig;

pub use trig::{acos_deg, asin_deg, atan_deg, atan2_deg, cos_deg, hypot, log10, sin_deg, tan_deg};

/// One inch in millimetres, exact since 1959.
pub const INCH: f64 = 25.4;
