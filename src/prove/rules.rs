//! The checks' own rules, run on the kit that was read back.

use super::ReadBack;
use super::agree::Bench;
use crate::check::{self, Subject};
use crate::note::{Finding, Notes, Severity};
use crate::section::Strength;
use crate::stackup::Stack;

/// Runs every rule that asks only about the kit; loads and the work on site are not in its files.
/// What the kit's own file already says, warnings and notes, is no news; an error is one always,
/// since no kit is written with one.
pub(super) fn run(bench: &Bench, read: &ReadBack, notes: &mut Notes) {
    let subject = Subject {
        kit: &read.kit,
        folded: &read.folded,
        blanks: &read.blanks,
        shelf: bench.shelf,
        strength: &Strength::default(),
        stackup: &Stack::of(&read.kit, &read.folded, bench.shelf).report(),
        site: None,
        asked: None,
    };
    let mut found = Notes::default();
    check::run(&subject, &mut found);
    for finding in found.all() {
        if !known(bench, finding) {
            notes.add(finding.clone());
        }
    }
}

fn known(bench: &Bench, finding: &Finding) -> bool {
    finding.severity != Severity::Error
        && bench.kit.findings.iter().any(|row| {
            row.check == finding.check
                && row.severity == finding.severity.word()
                && row.subject == finding.subject
        })
}
