//! Lengths are millimetres and angles degrees everywhere inside; this module holds the only
//! trigonometry, so that the same input gives the same bytes on every machine.

mod length;
mod length_text;
mod length_tokens;
mod trig;

pub use length::{
    ANGLES, LENGTHS, LONGEST, Misread, Quantity, check_angle, check_length, read_angle,
    read_length, read_quantity,
};
pub use length_text::{POUND, in_inches, in_kilograms, in_mm, mass, number, quoted};
pub use trig::{
    acos_deg, asin_deg, atan_deg, atan2_deg, cbrt, cos_deg, exp, hypot, ln, ln_gamma, log10,
    sin_deg, tan_deg,
};

/// One inch in millimetres, exact since 1959.
pub const INCH: f64 = 25.4;
