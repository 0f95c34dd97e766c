//! What variants are called: codes of swept values for numbers, words for titles.

use toml::de::DeValue;

use crate::units::number as number_text;

/// The longest title there is room for, characters.
const TITLE: usize = 100;

/// The code of a value in a kit number: `620`, `12P5` for 12.5, `N5` for -5, `18IN`, `40FT`; none
/// for lists and tables.
pub(super) fn code(value: &DeValue<'_>) -> Option<String> {
    let text = match value {
        DeValue::Integer(digits) => integer(digits)?.to_string(),
        DeValue::Float(digits) => number_text(digits.as_str().parse().ok()?, 6),
        DeValue::String(text) => text.to_string(),
        DeValue::Boolean(flag) => if *flag { "YES" } else { "NO" }.to_owned(),
        _ => return None,
    };
    let code = of_text(&text);
    (!code.is_empty()).then_some(code)
}

fn integer(digits: &toml::de::DeInteger<'_>) -> Option<i128> {
    i128::from_str_radix(digits.as_str(), digits.radix()).ok()
}

fn of_text(text: &str) -> String {
    let mut code = String::new();
    let trimmed = text.trim();
    for (at, c) in trimmed.char_indices() {
        match c {
            'a'..='z' | 'A'..='Z' | '0'..='9' => code.push(c.to_ascii_uppercase()),
            '-' if at == 0 => code.push('N'),
            '.' => code.push('P'),
            ' ' => {}
            _ if code.ends_with('-') || code.is_empty() => {}
            _ => code.push('-'),
        }
    }
    code.trim_end_matches('-').to_owned()
}

/// A value in a title.
pub(super) fn shown(value: &DeValue<'_>) -> String {
    match value {
        DeValue::Integer(digits) => integer(digits).map_or_else(String::new, |i| i.to_string()),
        DeValue::Float(digits) => {
            digits.as_str().parse().map_or_else(|_| String::new(), |number| number_text(number, 6))
        }
        DeValue::String(text) => text.to_string(),
        DeValue::Boolean(flag) => if *flag { "yes" } else { "no" }.to_owned(),
        _ => String::new(),
    }
}

/// The title of a variant: with what is swept, or with the number where there is no room for it;
/// none where the family's own title serves.
pub(super) fn title(own: &str, shown: &[String], number: &str) -> Option<String> {
    if shown.is_empty() || own.is_empty() {
        return None;
    }
    let long = format!("{own}, {}", shown.join(", "));
    let fits = long.chars().count() <= TITLE;
    Some(if fits { long } else { format!("{own}, {number}") })
}
