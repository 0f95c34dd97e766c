//! Numbers for people and for lists.

/// The number with at most `places` decimals, without trailing zeros and never "-0".
pub fn decimal(value: f64, places: usize) -> String {
    let fixed = format!("{value:.places$}");
    let short = if fixed.contains('.') {
        fixed.trim_end_matches('0').trim_end_matches('.')
    } else {
        fixed.as_str()
    };
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}
