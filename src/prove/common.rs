//! The proof of a folder of common sheets: its list against its laser files.

use std::collections::{BTreeMap, BTreeSet};

use super::codes::{FIGURE, FILES, READ, SHEET};
use super::desk::Desk;
use super::sheets::{self, Floor};
use super::{Found, cap};
use crate::note::{Finding, Notes};
use crate::reading::{CommonRow, NeedRow, SHEETS};
use crate::shelf::Shelf;

/// Proves common sheets from their files and the shop's data alone. An error means that they are
/// not proved; what is told to be left out is a warning. The kits that are cut, or none where the
/// list does not read.
pub fn prove_sheets(files: &[Found], shelf: &Shelf) -> (Option<String>, Notes) {
    let mut notes = Notes::default();
    let mut desk = Desk::new(&mut notes, SHEETS);
    let list = files.iter().find(|file| file.path == SHEETS);
    let common = match list.map(|file| CommonRow::of_bytes(file.bytes)) {
        Some(Ok(common)) => common,
        Some(Err(why)) => {
            desk.tell(&READ, why);
            return (None, notes);
        }
        None => {
            desk.tell(&READ, "is not there");
            return (None, notes);
        }
    };
    folder(&common, files, &mut notes);
    parts(&common, &mut notes);
    left_out(&common, &mut notes);
    let mut missing: BTreeMap<&str, usize> = BTreeMap::new();
    for row in &common.missing {
        *missing.entry(&row.number).or_default() += row.quantity;
    }
    let floor = Floor {
        files,
        shelf,
        list: SHEETS,
        parts: &common.cut_parts(),
        sheets: &common.sheets,
        groups: &common.groups,
        missing,
    };
    sheets::look_over(&floor, &mut notes);
    if common.sheets.is_empty() {
        Desk::new(&mut notes, SHEETS).tell(&SHEET, "lists no sheets");
    }
    let kits: Vec<&str> = common.kits.iter().map(|row| row.kit.as_str()).collect();
    (Some(kits.join(", ")), cap::capped(&notes))
}

/// The folder holds what the list says was written, and nothing else.
fn folder(common: &CommonRow, files: &[Found], notes: &mut Notes) {
    let there: BTreeSet<&str> = files.iter().map(|file| file.path).collect();
    let listed: BTreeSet<&str> = common.files.iter().map(String::as_str).collect();
    for missing in listed.difference(&there) {
        Desk::new(notes, *missing).tell(&FILES, "was written with the sheets and is not there");
    }
    for stranger in there.difference(&listed).filter(|path| **path != SHEETS) {
        let words = "is in the folder and was not written with the sheets";
        Desk::new(notes, *stranger).tell(&FILES, words);
    }
    for sheet in common.sheets.iter().filter(|sheet| !listed.contains(sheet.file.as_str())) {
        let words = format!("does not name {} among its files", sheet.file);
        Desk::new(notes, SHEETS).tell(&FILES, words);
    }
}

/// Each part stands there once, under a kit of the list, as often as that kit is cut.
fn parts(common: &CommonRow, notes: &mut Notes) {
    let mut desk = Desk::new(notes, SHEETS);
    let mut seen = BTreeSet::new();
    for part in &common.parts {
        if !seen.insert(&part.number) {
            desk.tell(&FILES, format!("lists {} twice", part.number));
        }
        let Some(kit) = common.kits.iter().find(|row| row.kit == part.kit) else {
            desk.tell(&SHEET, format!("{} is of {}, which is not cut", part.number, part.kit));
            continue;
        };
        let meant = (kit.times * part.each) as f64;
        let what = format!("{}: `quantity`", part.number);
        desk.hold(&FIGURE, &what, (part.quantity as f64, meant), 0.0);
        let what = format!("{}: `laid`", part.number);
        desk.hold(&FIGURE, &what, (part.laid as f64, laid(common, part) as f64), 0.0);
    }
}

fn laid(common: &CommonRow, part: &NeedRow) -> usize {
    let on = common.sheets.iter().map(|sheet| {
        sheet.parts.iter().filter(|row| row.number == part.number).count() * sheet.copies
    });
    on.sum()
}

/// What is told to be left out: the sheets are right, and not everything is on them.
fn left_out(common: &CommonRow, notes: &mut Notes) {
    let missing = common
        .missing
        .iter()
        .map(|row| format!("{} of {} are not laid out: {}", row.quantity, row.number, row.why));
    let kits = common.left_out.iter();
    let kits = kits.map(|row| format!("nothing of {} is laid out: it {}", row.kit, row.why));
    for words in missing.chain(kits) {
        let finding = Finding::warning(SHEET.id, format!("{SHEETS}: {words}")).about(SHEETS);
        notes.add(finding.help("lay out what is missing with another run of `sheets`"));
    }
}
