//! What is said of a catalogue's variants: each kind of finding once, with how many it is about.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::note::{Finding, Notes, Place, Severity};

/// Findings of many variants, alike ones told once. Of those that are alike the one of the first
/// variant stays, so that the order of the work does not show.
#[derive(Debug, Default)]
pub(super) struct Told(BTreeMap<Key, (usize, String, Finding, usize)>);

/// Findings of one check about one place, or about one kind of thing, are alike.
type Key = (Severity, &'static str, Option<usize>);

impl Told {
    /// Takes down what is said of a variant; notes stand in its kit.json alone.
    pub(super) fn add(&mut self, index: usize, number: &str, notes: &Notes) {
        let meant = |finding: &&Finding| {
            finding.severity == Severity::Error
                || finding.severity == Severity::Warning && finding.accepted.is_none()
        };
        let mut seen: Vec<Key> = Vec::new();
        for finding in notes.all().iter().filter(meant) {
            let start = finding.place.as_ref().map(|place| place.span.start);
            let key = (finding.severity, finding.check, start);
            if seen.contains(&key) {
                continue;
            }
            seen.push(key);
            let row = (index, number.to_owned(), finding.clone(), 0);
            let kept = self.0.entry(key).or_insert_with(|| row.clone());
            let count = kept.3 + 1;
            if index < kept.0 {
                *kept = row;
            }
            kept.3 = count;
        }
    }

    /// The findings, with the first variant that each is about and how many others have the like.
    pub(super) fn findings(self) -> Notes {
        let mut notes = Notes::default();
        for (_, number, finding, count) in self.0.into_values() {
            let message = match count {
                1 => format!("{number}: {}", finding.message),
                2 => format!("{number}, and likewise 1 more: {}", finding.message),
                n => format!("{number}, and likewise {} more: {}", n - 1, finding.message),
            };
            notes.add(Finding { message, ..finding });
        }
        notes
    }
}

/// A spec that is no catalogue.
pub(super) fn no_variants(file: &str) -> Finding {
    let message = "the spec has neither `[[variant]]` nor `[sweep]`";
    Finding::error("catalogue.no-variants", message)
        .at(Some(Place { file: Arc::from(file), span: 0..0 }))
        .help("draw a single kit with `blankwright draw`")
}
