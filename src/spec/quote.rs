//! The table `[quote]`: whom a quote is for, how long it holds, what may be ordered besides.

use super::model::{QuoteAsk, Said};
use super::{Table, header};
use crate::note::{Finding, Notes};
use crate::units::quoted;

/// Longest time a quote may hold, days.
const LONGEST: f64 = 730.0;

pub(super) fn quote(top: &mut Table<'_>, notes: &mut Notes) -> QuoteAsk {
    let Some(mut table) = top.table("quote", notes) else { return QuoteAsk::default() };
    let customer = table.texts("customer", notes).unwrap_or_default();
    let options = table.texts("options", notes).unwrap_or_default();
    let days = table.number("valid_days", notes);
    let ask = QuoteAsk {
        customer: lines(&table, ("customer", customer), &header::LINE, notes),
        valid_days: days.and_then(|days| whole(&table, &days, notes)),
        options: lines(&table, ("options", options), &header::SENTENCE, notes),
    };
    table.finish(notes);
    ask
}

/// Texts that keep their rule; the others are told.
fn lines(
    table: &Table<'_>,
    (key, texts): (&str, Vec<Said<String>>),
    rule: &header::Rule,
    notes: &mut Notes,
) -> Vec<String> {
    for said in &texts {
        if let Some(fault) = (rule.fault)(&said.value) {
            let path = table.path_of(key);
            let message = format!("`{path}` has {}: {fault}", quoted(&said.value));
            let finding = Finding::error(rule.code, message).about(path);
            table.tell(&said.span, finding.help(rule.help), notes);
        }
    }
    texts.into_iter().map(|said| said.value).collect()
}

fn whole(table: &Table<'_>, days: &Said<f64>, notes: &mut Notes) -> Option<usize> {
    let fits = days.value.fract() == 0.0 && (1.0..=LONGEST).contains(&days.value);
    if !fits {
        let path = table.path_of("valid_days");
        let message = format!("`{path}` is {}; a quote holds 1 to {LONGEST} days", days.value);
        let finding = Finding::error("spec.valid-days", message).about(path);
        table.tell(&days.span, finding.help("write whole days, such as 30"), notes);
    }
    fits.then_some(days.value as usize)
}
