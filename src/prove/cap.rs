//! Findings of one kind about one file, told a few times and then counted.

use std::collections::BTreeMap;

use crate::note::{Finding, Notes};

/// How often one code is told of one file.
const TOLD: usize = 8;

/// The same findings; of each code and file the first, and how many more there are.
pub(super) fn capped(notes: &Notes) -> Notes {
    let mut seen: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    let mut told = Notes::default();
    let mut last: Vec<&Finding> = Vec::new();
    for finding in notes.all() {
        let count = seen.entry((finding.check, &finding.subject)).or_default();
        *count += 1;
        if *count <= TOLD || !finding.check.starts_with("proof.") {
            told.add(finding.clone());
        } else if *count == TOLD + 1 {
            last.push(finding);
        }
    }
    for finding in last {
        let more = seen[&(finding.check, finding.subject.as_str())] - TOLD;
        let message = format!("{}: and {more} more of {}", finding.subject, finding.check);
        let rest = Finding::error(finding.check, message).about(finding.subject.clone());
        told.add(rest.source(finding.source.clone()).help(finding.help.clone()));
    }
    told
}
