//! Numbers as the drawing files show them: decimals as many as are told, no zeros behind the last
//! one that counts, never `-0`, never an exponent.

/// The most decimals that can be asked for.
const MOST_DECIMALS: usize = 12;

/// Powers of ten by their exponent.
const POWERS: [f64; MOST_DECIMALS + 1] =
    [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12];

/// Digits, point and sign of the longest number that has decimals, with room to spare.
const LONGEST: usize = 24;

/// Beyond this many units of the last decimal, doubles have no such decimal left.
const EXACT: f64 = 9_007_199_254_740_992.0;

/// A number as text; what is not finite becomes 0, since no format can say it.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = Vec::with_capacity(LONGEST);
    push_fixed(&mut text, value, decimals);
    String::from_utf8(text).unwrap_or_default()
}

/// Writes a number behind a text, halves rounded away from zero.
pub(crate) fn push_fixed(text: &mut Vec<u8>, value: f64, decimals: usize) {
    let decimals = decimals.min(MOST_DECIMALS);
    let scaled = (value * POWERS[decimals]).abs();
    if EXACT < scaled || !scaled.is_finite() {
        push_large(text, value);
        return;
    }
    let units = nearest(scaled);
    if value < 0.0 && units != 0 {
        text.push(b'-');
    }
    if decimals == 3 && units < 1_000_000 {
        push_thousandths(text, units as usize);
    } else {
        push_units(text, units, decimals);
    }
}

/// The nearest whole number of one that is neither negative nor beyond `EXACT`, halves up. What
/// is behind the point is a difference without error.
fn nearest(scaled: f64) -> u64 {
    let whole = scaled as u64;
    whole + u64::from(0.5 <= scaled - whole as f64)
}

/// Writes a count of thousandths below a million: most numbers on paper, hence without a loop. The
/// eight bytes are the whole part's three digits, the point, its three decimals and one to spare.
fn push_thousandths(text: &mut Vec<u8>, units: usize) {
    let (whole, part) = (units / 1000, units % 1000);
    let ([a, b, c, _], [d, e, f, tail]) = (THREE_DIGITS[whole], THREE_DIGITS[part]);
    let unused = usize::from(whole < 100) + usize::from(whole < 10);
    let bytes = u64::from_le_bytes([a, b, c, b'.', d, e, f, b' ']) >> (8 * unused);
    let end = text.len() + 3 - unused + usize::from(tail);
    text.extend_from_slice(&bytes.to_le_bytes());
    text.truncate(end);
}

/// The three digits of each number below a thousand, and the length of the point and those behind
/// it when they are decimals without zeros at the end.
static THREE_DIGITS: [[u8; 4]; 1000] = {
    let mut digits = [[0; 4]; 1000];
    let mut n: usize = 0;
    while n < 1000 {
        let tail = match n {
            0 => 0,
            _ if n.is_multiple_of(100) => 2,
            _ if n.is_multiple_of(10) => 3,
            _ => 4,
        };
        let [a, b, c] = [n / 100, n / 10 % 10, n % 10];
        digits[n] = [b'0' + a as u8, b'0' + b as u8, b'0' + c as u8, tail];
        n += 1;
    }
    digits
};

/// Writes a count of the last decimal's units, digit by digit from the end. Always copies as many
/// bytes and then cuts the text, which is quicker than copying as many as count.
fn push_units(text: &mut Vec<u8>, mut units: u64, mut decimals: usize) {
    while 0 < decimals && units.is_multiple_of(10) {
        units /= 10;
        decimals -= 1;
    }
    let mut digits = [b'0'; 2 * LONGEST];
    let mut start = LONGEST;
    let mut written = 0;
    while units != 0 || written <= decimals {
        if written == decimals && 0 < decimals {
            start -= 1;
            digits[start] = b'.';
        }
        start -= 1;
        digits[start] += (units % 10) as u8;
        units /= 10;
        written += 1;
    }
    let end = text.len() + LONGEST - start;
    text.extend_from_slice(&digits[start..][..LONGEST]);
    text.truncate(end);
}

/// The double nearest to the number's text with so many decimals; never `-0`.
pub fn rounded(value: f64, decimals: usize) -> f64 {
    let power = POWERS[decimals.min(MOST_DECIMALS)];
    let units = (value * power).round();
    if EXACT < units.abs() || !units.is_finite() { value } else { units / power + 0.0 }
}

/// A number too large for decimals, in full; what is not finite as 0.
fn push_large(text: &mut Vec<u8>, value: f64) {
    let value = if value.is_finite() { value } else { 0.0 };
    text.extend_from_slice(format!("{value:.0}").as_bytes());
}
