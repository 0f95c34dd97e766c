//! Whether the folder holds what the kit's own file says was written, and nothing of another kit.

use std::collections::BTreeSet;

use super::Scope;
use super::agree::Bench;
use super::codes::{FILES, UNPROVED};
use super::desk::Desk;
use crate::note::{Finding, Notes};
use crate::reading::NAME;

/// Compares the folder with the list of files.
pub(super) fn look_over(bench: &Bench, notes: &mut Notes) {
    let there: BTreeSet<&str> = bench.files.iter().map(|file| file.path).collect();
    let listed: BTreeSet<&str> = bench.kit.files.iter().map(String::as_str).collect();
    for missing in listed.difference(&there) {
        Desk::new(notes, *missing).tell(&FILES, "was written with the kit and is not there");
    }
    for stranger in there.difference(&listed).filter(|path| **path != NAME) {
        let words = "is in the kit's folder and was not written with it";
        if stranger.ends_with(".dxf") || stranger.ends_with(".csv") {
            Desk::new(notes, *stranger).tell(&FILES, words);
        } else {
            let finding = Finding::warning(FILES.id, format!("{stranger}: {words}"));
            notes.add(finding.about(*stranger).help("move it elsewhere"));
        }
    }
    numbers(bench, notes);
    if bench.scope == Scope::Folder {
        unproved(bench, &there, notes);
    }
}

/// No two parts share a number.
fn numbers(bench: &Bench, notes: &mut Notes) {
    let mut seen = BTreeSet::new();
    for part in &bench.kit.parts {
        if !seen.insert(&part.number) {
            Desk::new(notes, NAME).tell(&FILES, format!("lists {} twice", part.number));
        }
    }
}

/// Parts whose laser files are not in the folder: what `kit.json` says of them stands alone.
fn unproved(bench: &Bench, there: &BTreeSet<&str>, notes: &mut Notes) {
    let files = bench.kit.parts.iter().map(|part| (&part.number, part.dxf()));
    let missing: Vec<&str> =
        files.filter(|(_, file)| !there.contains(file.as_str())).map(|(n, _)| n.as_str()).collect();
    if !missing.is_empty() {
        let words =
            format!("not proved, since their DXF files are not here: {}", missing.join(", "));
        Desk::new(notes, "parts").tell(&UNPROVED, words);
    }
}
