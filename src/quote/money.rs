//! The one rule by which quantities, rates and amounts are rounded.

/// Parts of a unit in which quantities and rates are counted.
pub const TEN_THOUSAND: i64 = 10_000;

/// A quantity or rate of 0 or more in whole ten-thousandths, halves rounded up.
pub(super) fn counted(value: f64) -> i64 {
    (value * TEN_THOUSAND as f64 + 0.5).floor() as i64
}

/// Cents of a quantity at a rate, both in ten-thousandths; halves of a cent rounded up.
pub fn amount(quantity: i64, rate: i64) -> i64 {
    divided(i128::from(quantity) * i128::from(rate), 1_000_000)
}

/// So many percent, in ten-thousandths, of an amount in cents.
pub(super) fn share(cents: i64, percent: i64) -> i64 {
    divided(i128::from(cents) * i128::from(percent), 1_000_000)
}

/// What is missing to the next whole multiple of a step, cents; 0 for a step of 0.
pub(super) fn missing(cents: i64, step: i64) -> i64 {
    if step <= 0 { 0 } else { (step - cents % step) % step }
}

fn divided(product: i128, by: i128) -> i64 {
    i64::try_from((2 * product + by) / (2 * by)).unwrap_or(i64::MAX)
}
