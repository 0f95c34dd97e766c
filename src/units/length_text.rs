//! Numbers as people read them in messages.

use super::INCH;

/// A number rounded to `decimals` places, without trailing zeros and without a negative zero.
pub fn number(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A length in millimetres to 0.01: `2750 mm`.
pub fn in_mm(mm: f64) -> String {
    format!("{} mm", number(mm, 2))
}

/// A length in inches to 0.001: `5.5 in`.
pub fn in_inches(mm: f64) -> String {
    format!("{} in", number(mm / INCH, 3))
}

/// A text between backquotes for a message: control characters escaped, cut at 40 characters.
pub fn quoted(text: &str) -> String {
    let mut shown = String::new();
    for c in text.chars().take(40) {
        if c.is_control() { shown.extend(c.escape_default()) } else { shown.push(c) }
    }
    let cut = if text.chars().nth(40).is_some() { "..." } else { "" };
    format!("`{shown}{cut}`")
}
