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

/// One pound in kilograms, exact since 1959.
pub const POUND: f64 = 0.453_592_37;

/// A mass for a sentence, to the kilogram or the pound: `25 kg`, or `55 lb (25 kg)` for readers of
/// inches.
pub fn in_kilograms(kg: f64, inches: bool) -> String {
    let metric = format!("{} kg", number(kg, 0));
    if inches { format!("{} lb ({metric})", number(kg / POUND, 0)) } else { metric }
}

/// A mass as drawings show it, to 10 g, or to the gram below a kilogram: `14.14 kg`; pounds as well
/// for readers of inches.
pub fn mass(kg: f64, inches: bool) -> String {
    let decimals = if kg < 1.0 { 3 } else { 2 };
    let metric = format!("{kg:.decimals$} kg");
    if inches { format!("{:.decimals$} lb ({metric})", kg / POUND) } else { metric }
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
