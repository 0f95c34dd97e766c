//! One swept parameter: its values as a list, or from one to another in steps.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::naming;
use crate::note::{Finding, Notes};
use crate::spec::text::place;
use crate::spec::{MOST_VARIANTS, raw};
use crate::units::number as number_text;

type Key<'t> = Spanned<Cow<'t, str>>;

/// A swept parameter with its values.
#[derive(Debug)]
pub(super) struct Axis<'t> {
    /// Its keys from the top of the file.
    pub(super) path: Vec<Key<'t>>,
    /// Where its name stands.
    pub(super) key_span: Range<usize>,
    /// Its values in order.
    pub(super) values: Vec<Step<'t>>,
}

/// One value.
#[derive(Debug)]
pub(super) struct Step<'t> {
    /// What it is called in a kit number.
    pub(super) code: String,
    /// The value, with the place where it was typed.
    pub(super) value: Spanned<DeValue<'t>>,
}

impl Axis<'_> {
    /// One of its values with its name, for people: `opening clear width 620`.
    pub(super) fn shown(&self, step: usize) -> String {
        let names: Vec<&str> = self.path.iter().map(|key| key.get_ref().as_ref()).collect();
        let name = names.join(" ").replace('_', " ");
        format!("{name} {}", naming::shown(self.values[step].value.get_ref()))
    }
}

/// A swept parameter whose values between the ends are texts still to be parsed.
#[derive(Debug, Clone)]
pub(super) struct Draft<'t> {
    path: Vec<Key<'t>>,
    values: Values<'t>,
}

#[derive(Debug, Clone)]
enum Values<'t> {
    /// As they were typed, with their codes.
    Listed(Vec<(Option<String>, Spanned<DeValue<'t>>)>),
    /// As they would be typed, and where the sweep stands.
    Made(Vec<String>, Range<usize>),
}

impl<'t> Draft<'t> {
    pub(super) fn names(&self) -> Vec<&str> {
        self.path.iter().map(|key| key.get_ref().as_ref()).collect()
    }

    pub(super) fn path(&self) -> String {
        self.names().join(".")
    }

    pub(super) fn key_span(&self) -> Range<usize> {
        self.path.last().map_or(0..0, Spanned::span)
    }

    /// Texts that are to be kept for it.
    pub(super) fn made(&self) -> Vec<String> {
        match &self.values {
            Values::Listed(_) => Vec::new(),
            Values::Made(texts, _) => texts.clone(),
        }
    }

    /// The axis, with as many of the kept texts as it had.
    pub(super) fn finish(self, kept: &mut impl Iterator<Item = &'t str>) -> Axis<'t> {
        let key_span = self.key_span();
        let values = match self.values {
            Values::Listed(values) => values,
            Values::Made(texts, span) => {
                let parsed = kept.take(texts.len()).filter_map(|text| DeValue::parse(text).ok());
                parsed.map(|value| (None, Spanned::new(span.clone(), value.into_inner()))).collect()
            }
        };
        let values = values.into_iter().filter_map(|(code, value)| {
            let code = code.or_else(|| naming::code(value.get_ref()))?;
            Some(Step { code, value })
        });
        Axis { values: values.collect(), path: self.path, key_span }
    }
}

/// Everything that a table of sweeps holds, in the order of the file.
pub(super) fn axes<'t>(
    file: &Arc<str>,
    name: &str,
    sweep: Option<&Spanned<DeValue<'t>>>,
    notes: &mut Notes,
) -> Vec<Draft<'t>> {
    let Some(sweep) = sweep else { return Vec::new() };
    let mut reader = Reader { file, notes, axes: Vec::new() };
    match sweep.get_ref() {
        DeValue::Table(table) if table.iter().next().is_some() => reader.enter(&[], table),
        _ => reader.wrong(name, sweep.span(), "sweeps nothing", WAYS),
    }
    let mut axes = reader.axes;
    axes.sort_by_key(|axis| axis.key_span().start);
    axes
}

const WAYS: &str = "write `group.name = [600, 700]`, or `{ from = 600, to = 900, step = 100 }`";
const LIST: &str = "give a list, or from, to and step";

struct Reader<'a, 't> {
    file: &'a Arc<str>,
    notes: &'a mut Notes,
    axes: Vec<Draft<'t>>,
}

impl<'t> Reader<'_, 't> {
    fn wrong(&mut self, path: &str, span: Range<usize>, what: &str, help: &str) {
        let finding = Finding::error("catalogue.sweep", format!("`{path}` {what}")).about(path);
        self.notes.add(finding.at(place(self.file, span)).help(help));
    }

    fn enter(&mut self, above: &[Key<'t>], table: &DeTable<'t>) {
        for (key, value) in table.iter() {
            let path: Vec<Key> = above.iter().chain([key]).cloned().collect();
            let name = |path: &[Key]| {
                let names: Vec<&str> = path.iter().map(|key| key.get_ref().as_ref()).collect();
                names.join(".")
            };
            let shown = name(&path);
            match value.get_ref() {
                DeValue::Table(below) if !is_rule(below) && path.len() < 4 => {
                    self.enter(&path, below);
                    continue;
                }
                _ if path.len() < 2 => {
                    self.wrong(&shown, key.span(), "is no parameter of a group", WAYS);
                    continue;
                }
                _ => {}
            }
            let values = match value.get_ref() {
                DeValue::Array(items) => self.listed(&shown, value.span(), items, None),
                DeValue::Table(rule) => self.rule(&shown, value.span(), rule),
                _ => {
                    self.wrong(&shown, value.span(), "has one value only", LIST);
                    None
                }
            };
            self.axes.extend(values.map(|values| Draft { path, values }));
        }
    }

    /// A list of values, and of codes where those are given.
    fn listed(
        &mut self,
        path: &str,
        span: Range<usize>,
        items: &DeArray<'t>,
        codes: Option<Vec<String>>,
    ) -> Option<Values<'t>> {
        if items.is_empty() {
            self.wrong(path, span, "has no values", "give one at least");
            return None;
        }
        if codes.as_ref().is_some_and(|codes| codes.len() != items.len()) {
            self.wrong(path, span, "has not as many codes as values", "give each value its code");
            return None;
        }
        let mut listed: Vec<(Option<String>, Spanned<DeValue>)> = Vec::new();
        let mut seen: Vec<String> = Vec::new();
        for (i, item) in items.iter().enumerate() {
            let own = codes.as_ref().and_then(|codes| codes.get(i).cloned());
            let Some(code) = own.clone().or_else(|| naming::code(item.get_ref())) else {
                let what = format!("has {} without a code", raw::kind(item.get_ref()));
                let help = "write `{ values = [...], codes = [\"A\", ...] }`";
                self.wrong(path, item.span(), &what, help);
                return None;
            };
            if seen.contains(&code) {
                let what = format!("has two values that are called {code}");
                let help = "remove one, or write `{ values = [...], codes = [\"A\", ...] }`";
                self.wrong(path, item.span(), &what, help);
                return None;
            }
            seen.push(code);
            listed.push((own, item.clone()));
        }
        Some(Values::Listed(listed))
    }

    /// `{ values, codes }` or `{ from, to, step }`.
    fn rule(&mut self, path: &str, span: Range<usize>, rule: &DeTable<'t>) -> Option<Values<'t>> {
        let known = |key: &str| ["values", "codes", "from", "to", "step"].contains(&key);
        if let Some((key, _)) = rule.iter().find(|(key, _)| !known(key.get_ref().as_ref())) {
            let what = format!("has an unknown key `{}`", key.get_ref());
            self.wrong(path, key.span(), &what, "known: values, codes, from, to, step");
            return None;
        }
        match rule.get("values").map(|values| (values.span(), values.get_ref())) {
            Some((span, DeValue::Array(items))) => {
                let codes = self.codes(path, rule)?;
                self.listed(path, span, items, codes)
            }
            Some((span, _)) => {
                self.wrong(path, span, "has values that are no list", LIST);
                None
            }
            None => self.range(path, span, rule),
        }
    }

    fn codes(&mut self, path: &str, rule: &DeTable<'t>) -> Option<Option<Vec<String>>> {
        let Some(given) = rule.get("codes") else { return Some(None) };
        let text = |item: &Spanned<DeValue>| match item.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            _ => None,
        };
        let codes: Option<Vec<String>> = match given.get_ref() {
            DeValue::Array(items) => items.iter().map(text).collect(),
            _ => None,
        };
        if codes.is_none() {
            self.wrong(path, given.span(), "has codes that are no texts", "write `[\"A\", \"B\"]`");
        }
        codes.map(Some)
    }

    /// Every value from one to another, the last one where a step ends on it.
    fn range(&mut self, path: &str, span: Range<usize>, rule: &DeTable<'t>) -> Option<Values<'t>> {
        let ends = ["from", "to", "step"].map(|key| rule.get(key));
        let [Some(from), Some(to), Some(step)] = ends else {
            self.wrong(path, span, "needs from, to and step", WAYS);
            return None;
        };
        let read = [from, to, step].map(|value| measured(value.get_ref()));
        let [Some((from, unit)), Some((to, unit_to)), Some((by, unit_by))] = read else {
            let help = "give decimals, or decimals with one unit, such as \"18 in\"";
            self.wrong(path, span, "has ends or a step that are no numbers", help);
            return None;
        };
        if unit != unit_to || unit != unit_by {
            let help = "give all three in the same unit";
            self.wrong(path, span, "has ends and a step in different units", help);
            return None;
        }
        if by == 0.0 || (to - from) / by < 0.0 {
            let what = format!("has the step {}, which never gets there", number_text(by, 6));
            self.wrong(
                path,
                step.span(),
                &what,
                "give a step that leads from the one to the other",
            );
            return None;
        }
        let steps = ((to - from) / by + 1e-9).floor();
        if steps >= MOST_VARIANTS as f64 {
            let what = format!("has {} values; at most {MOST_VARIANTS} are made", steps + 1.0);
            self.wrong(path, step.span(), &what, "give a longer step");
            return None;
        }
        let value = |i: usize| {
            let text = number_text(from + i as f64 * by, 6);
            if unit.is_empty() { text } else { format!("\"{text} {unit}\"") }
        };
        Some(Values::Made((0..=steps as usize).map(value).collect(), span))
    }
}

fn is_rule(table: &DeTable<'_>) -> bool {
    ["values", "codes", "from", "to", "step"].iter().any(|key| table.contains_key(*key))
}

/// A number and its unit; no unit for a bare one.
fn measured(value: &DeValue<'_>) -> Option<(f64, String)> {
    let text = match value {
        DeValue::Integer(digits) => {
            let whole = i128::from_str_radix(digits.as_str(), digits.radix()).ok()?;
            return Some((whole as f64, String::new()));
        }
        DeValue::Float(digits) => {
            let number: f64 = digits.as_str().parse().ok()?;
            return number.is_finite().then(|| (number, String::new()));
        }
        DeValue::String(text) => text.trim(),
        _ => return None,
    };
    let end = text.find(|c: char| c.is_ascii_alphabetic() || c == '"' || c == '\'')?;
    let (number, unit) = text.split_at(end);
    let unit = match unit {
        "\"" => "in",
        "'" => "ft",
        other => other,
    };
    Some((number.trim().parse().ok()?, unit.to_owned()))
}
