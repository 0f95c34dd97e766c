//! TOML's own values turned into [`Raw`] ones, and tables into lists of paths.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeInteger, DeValue};

use super::text::place;
use super::{Codes, Given, Raw, Said};
use crate::note::{Finding, Notes};
use crate::units::quoted;

type Key<'t> = Spanned<std::borrow::Cow<'t, str>>;

/// The file values come from.
pub(super) struct Source<'s> {
    pub(super) file: &'s Arc<str>,
    pub(super) codes: &'static Codes,
}

/// What a value is called in messages.
pub(super) fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// A value with its place; a number that is not finite is told and left out.
pub(super) fn said(
    source: &Source<'_>,
    path: &str,
    value: &Spanned<DeValue<'_>>,
    notes: &mut Notes,
) -> Option<Said<Raw>> {
    let raw = match value.get_ref() {
        DeValue::String(text) => Raw::Text(text.to_string()),
        DeValue::Integer(digits) => Raw::Number(integer(digits)?),
        DeValue::Float(digits) => match digits.as_str().parse::<f64>() {
            Ok(number) if number.is_finite() => Raw::Number(number),
            _ => {
                notes.add(not_finite(source, path, value, digits.as_str()));
                return None;
            }
        },
        DeValue::Boolean(flag) => Raw::Flag(*flag),
        DeValue::Datetime(date) => Raw::Text(date.to_string()),
        DeValue::Array(items) => {
            let items = items.iter().filter_map(|item| said(source, path, item, notes));
            Raw::List(items.collect())
        }
        DeValue::Table(entries) => {
            let mut given = Vec::new();
            for entry in entries.iter() {
                flatten(source, "", entry, &mut given, notes);
            }
            given.sort_by_key(|g| g.key_span.start);
            Raw::Table(given)
        }
    };
    Some(Said { value: raw, span: value.span() })
}

/// One entry as values with paths: tables are entered, everything else is taken as it stands.
pub(super) fn flatten(
    source: &Source<'_>,
    above: &str,
    (key, value): (&Key<'_>, &Spanned<DeValue<'_>>),
    given: &mut Vec<Given>,
    notes: &mut Notes,
) {
    if !is_plain(key.get_ref()) {
        let message = format!("{} cannot be a key", quoted(key.get_ref()));
        let finding = Finding::error(source.codes.bad_key, message);
        let help = "keys have letters without accents, digits, `_` and `-`";
        notes.add(finding.at(place(source.file, key.span())).help(help));
        return;
    }
    let path = match above {
        "" => key.get_ref().to_string(),
        above => format!("{above}.{}", key.get_ref()),
    };
    if let DeValue::Table(entries) = value.get_ref() {
        for entry in entries.iter() {
            flatten(source, &path, entry, given, notes);
        }
    } else if let Some(said) = said(source, &path, value, notes) {
        given.push(Given { path, key_span: key.span(), value: said.value, span: said.span });
    }
}

fn is_plain(key: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    !key.is_empty() && key.len() <= 64 && key.chars().all(plain)
}

/// TOML's integers fit 64 bits; the parser has refused others.
fn integer(digits: &DeInteger<'_>) -> Option<f64> {
    i128::from_str_radix(digits.as_str(), digits.radix()).ok().map(|i| i as f64)
}

fn not_finite(
    source: &Source<'_>,
    path: &str,
    value: &Spanned<DeValue<'_>>,
    digits: &str,
) -> Finding {
    let message = format!("`{path}` is {}, which is not a finite number", quoted(digits));
    let finding = Finding::error(source.codes.number, message).about(path);
    finding.at(place(source.file, value.span())).help("give a number such as 2750 or 2.5")
}
