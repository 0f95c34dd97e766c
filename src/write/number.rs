//! Numbers as the drawing files show them: decimals as many as are told, no zeros behind the last
//! one that counts, never `-0`, never an exponent.

/// The most decimals that can be asked for.
const MOST_DECIMALS: usize = 12;

/// Powers of ten by their exponent.
const POWERS: [i64; MOST_DECIMALS + 1] = [
    1,
    10,
    100,
    1_000,
    10_000,
    100_000,
    1_000_000,
    10_000_000,
    100_000_000,
    1_000_000_000,
    10_000_000_000,
    100_000_000_000,
    1_000_000_000_000,
];

/// Beyond this many units of the last decimal, doubles have no such decimal left.
const EXACT: f64 = 9_007_199_254_740_992.0;

/// A number as text; what is not finite becomes 0, since no format can say it.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = String::with_capacity(16);
    push_fixed(&mut text, value, decimals);
    text
}

/// Writes a number behind a text, halves rounded away from zero.
pub(crate) fn push_fixed(text: &mut String, value: f64, decimals: usize) {
    let decimals = decimals.min(MOST_DECIMALS);
    let power = POWERS[decimals];
    let units = (value * power as f64).round();
    if EXACT < units.abs() {
        push_large(text, value);
        return;
    }
    let units = units as i64;
    if units < 0 {
        text.push('-');
    }
    let (whole, rest) = (units.unsigned_abs() / power as u64, units.unsigned_abs() % power as u64);
    push_digits(text, whole, 1);
    if rest != 0 {
        text.push('.');
        push_digits(text, rest, decimals);
        text.truncate(text.trim_end_matches('0').len());
    }
}

/// The double nearest to the number's text with so many decimals; never `-0`.
pub fn rounded(value: f64, decimals: usize) -> f64 {
    let power = POWERS[decimals.min(MOST_DECIMALS)] as f64;
    let units = (value * power).round();
    if EXACT < units.abs() || !units.is_finite() { value } else { units / power + 0.0 }
}

/// Whole numbers too large to be counted in decimals; without them `f64` prints no exponent either.
fn push_large(text: &mut String, value: f64) {
    text.push_str(&format!("{:.0}", if value.is_finite() { value } else { 0.0 }));
}

/// Writes digits, padded with zeros in front to at least `least`.
fn push_digits(text: &mut String, mut value: u64, least: usize) {
    let mut digits = [b'0'; 20];
    let mut start = digits.len();
    while value != 0 {
        start -= 1;
        digits[start] += (value % 10) as u8;
        value /= 10;
    }
    let start = start.min(digits.len() - least);
    text.extend(digits[start..].iter().map(|&digit| char::from(digit)));
}
