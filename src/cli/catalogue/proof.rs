//! The proof of a catalogue's folder: of every kit in it, and that its list and its folder of parts
//! agree with its kits.

use std::collections::BTreeSet;
use std::path::Path;

use rayon::prelude::*;

use super::jobs;
use super::run::{KITS, PARTS};
use super::told::Told;
use crate::cli::batch::{Outcome, guarded, pool};
use crate::cli::exit::Exit;
use crate::cli::remark::remarks;
use crate::cli::store;
use crate::note::{Finding, Notes};
use crate::prove::CATALOGUE;
use crate::release::{RUN_NAME, RunRecord, USES_NAME, lines_of_uses};

/// What was recorded of the run that wrote a catalogue's folder, or a share's; none of another
/// folder.
pub(crate) fn record_of(folder: &Path) -> Option<RunRecord> {
    store::bytes_of(&folder.join(RUN_NAME)).and_then(|bytes| RunRecord::read(&bytes))
}

/// Proves a catalogue's folder; `one` proves a kit's. What is alike is told once.
pub(crate) fn prove_all(
    (folder, record): (&Path, &RunRecord),
    one: &(dyn Fn(&Path, &str) -> Outcome + Sync),
) -> Outcome {
    let name = folder.to_string_lossy().into_owned();
    let kits = store::names_in(&folder.join(KITS));
    let kits: Vec<String> = kits.into_iter().filter(|name| !name.starts_with('.')).collect();
    let work = |number: &String| {
        let place = folder.join(KITS).join(number);
        let shown = place.to_string_lossy().into_owned();
        let outcome = guarded(&shown, || one(&place, &shown));
        let kit = store::bytes_of(&place.join("kit.json"));
        (outcome, kit.map_or_else(Vec::new, |bytes| lines_of_uses(number, &bytes)))
    };
    let all: Vec<(Outcome, Vec<String>)> = match pool(jobs(None)) {
        Ok(pool) => pool.install(|| kits.par_iter().map(work).collect()),
        Err(trouble) => return Outcome::trouble(name, trouble),
    };
    let mut told = Told::default();
    for (index, (outcome, _)) in all.iter().enumerate() {
        let mut notes = Notes::default();
        outcome.remarks.iter().for_each(|remark| notes.add(remark.finding.clone()));
        told.add(index, &kits[index], &notes);
    }
    let mut notes = told.findings();
    let uses: BTreeSet<&str> =
        all.iter().flat_map(|(_, lines)| lines).map(String::as_str).collect();
    look_over((folder, record), &uses, &mut notes);
    let worst = all.iter().map(|(outcome, _)| outcome.exit).max().unwrap_or(Exit::Done);
    let own = if notes.has_errors() { Exit::Refused } else { Exit::Done };
    let kit = Some(format!("{}, {} kits", record.catalogue, kits.len()));
    Outcome { kit, remarks: remarks(&notes, |_| None), ..Outcome::unmade(name, worst.max(own)) }
}

/// What is about the folder as a whole. `uses` are the lines that the list of uses must have.
fn look_over((folder, record): (&Path, &RunRecord), uses: &BTreeSet<&str>, notes: &mut Notes) {
    let mut tell = |message: String, subject: &str| {
        let finding = Finding::error(CATALOGUE.id, message).about(subject);
        notes.add(finding.source(CATALOGUE.asks).help(CATALOGUE.remedy));
    };
    if !record.finished {
        let what = "the run that wrote here last did not come to its end: kits of two runs may \
                    stand side by side";
        tell(what.to_owned(), RUN_NAME);
    }
    if record.share.is_none() {
        let list = store::bytes_of(&folder.join(USES_NAME)).unwrap_or_default();
        let list = String::from_utf8_lossy(&list).into_owned();
        let rows: BTreeSet<&str> = list.lines().skip(1).collect();
        if let Some(row) = uses.difference(&rows).next() {
            tell(format!("{USES_NAME} lacks what the kits have: {row}"), USES_NAME);
        }
        if let Some(row) = rows.difference(uses).next() {
            tell(format!("{USES_NAME} has what no kit bears out: {row}"), USES_NAME);
        }
    }
    let numbers: BTreeSet<&str> = uses.iter().filter_map(|line| line.split(',').nth(1)).collect();
    for name in store::names_in(&folder.join(PARTS)) {
        let number = name.rsplit_once('.').map_or(name.as_str(), |(number, _)| number);
        if !name.starts_with('.') && !numbers.contains(number) {
            tell(format!("{PARTS}/{name} belongs to no kit"), &name);
        }
    }
}
