//! A spec's table written out: one line for each value, sorted by path, so that the same values
//! give the same text however they were typed.

use std::fmt::Write;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The text of a table. It reads back as the same values.
pub(super) fn written(table: &DeTable<'_>) -> String {
    let mut text = String::new();
    lines(table, "", &mut text);
    text
}

fn lines(table: &DeTable<'_>, above: &str, text: &mut String) {
    for (key, value) in sorted(table) {
        let path = if above.is_empty() { key } else { format!("{above}.{key}") };
        match value {
            DeValue::Table(below) if below.iter().next().is_some() => lines(below, &path, text),
            value => {
                text.push_str(&path);
                text.push_str(" = ");
                inline(value, text);
                text.push('\n');
            }
        }
    }
}

fn sorted<'a, 't>(table: &'a DeTable<'t>) -> Vec<(String, &'a DeValue<'t>)> {
    let mut entries: Vec<(String, &DeValue)> =
        table.iter().map(|(key, value)| (bare(key.get_ref()), value.get_ref())).collect();
    entries.sort_by(|a, b| a.0.cmp(&b.0));
    entries
}

fn bare(key: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    let mut text = String::new();
    if !key.is_empty() && key.chars().all(plain) {
        text.push_str(key);
    } else {
        quoted(key, &mut text);
    }
    text
}

fn inline(value: &DeValue<'_>, text: &mut String) {
    match value {
        DeValue::String(own) => quoted(own, text),
        DeValue::Integer(digits) => text.push_str(&digits.to_string()),
        DeValue::Float(digits) => text.push_str(digits.as_str()),
        DeValue::Boolean(flag) => text.push_str(if *flag { "true" } else { "false" }),
        DeValue::Datetime(date) => text.push_str(&date.to_string()),
        DeValue::Array(items) => {
            text.push('[');
            separated(items.iter().map(Spanned::get_ref), text, inline);
            text.push(']');
        }
        DeValue::Table(table) => {
            text.push_str("{ ");
            separated(sorted(table).into_iter(), text, |(key, value), text| {
                text.push_str(&key);
                text.push_str(" = ");
                inline(value, text);
            });
            text.push_str(" }");
        }
    }
}

fn separated<T>(items: impl Iterator<Item = T>, text: &mut String, put: fn(T, &mut String)) {
    for (i, item) in items.enumerate() {
        if i > 0 {
            text.push_str(", ");
        }
        put(item, text);
    }
}

/// A basic string of TOML.
fn quoted(own: &str, text: &mut String) {
    text.push('"');
    for c in own.chars() {
        match c {
            '"' | '\\' => text.extend(['\\', c]),
            c if c.is_control() => {
                // Writing to a string cannot fail.
                let _ = write!(text, "\\u{:04X}", u32::from(c));
            }
            c => text.push(c),
        }
    }
    text.push('"');
}
