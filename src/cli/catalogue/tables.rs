//! What stands at the top of a catalogue's folder: its tables and its page; and what no longer
//! belongs to it.

use std::collections::BTreeSet;
use std::path::Path;

use super::member::{Fate, refusal_path};
use super::run::{Collected, Job, KITS, PARTS, REFUSED, Row};
use crate::cli::exit::Trouble;
use crate::cli::store;
use crate::note::{Finding, Notes};
use crate::pipeline::FileKind;
use crate::release::{
    Commonality, FindingRow, MADE_NAME, Made, Refused, Said, USES_NAME, commonality_csv,
    commonality_page, findings_csv, sha256, uses_csv,
};

/// Removes what no variant has any more, and writes the tables of a whole catalogue; a share has
/// none. Gives back what is common in a sentence, and what there is to say.
pub(super) fn write(
    job: &Job,
    folder: &Path,
    rows: &[Row],
    collected: &Collected,
) -> Result<(String, Notes), Trouble> {
    let mut notes = Notes::default();
    clear(job, folder, rows, collected, &mut notes)?;
    if job.share.is_some() {
        return Ok((String::new(), notes));
    }
    let only = &job.series.wish().only;
    let kept = rows.iter().filter(|row| row.fate != Fate::Refused);
    let kits = kept.map(|row| (job.catalogue.number_of(row.index), row.uses.clone()));
    let all = Commonality {
        catalogue: job.catalogue.number.clone(),
        title: job.series.title().to_owned(),
        parts: collected.parts.clone(),
        endings: collected.endings.clone(),
        kits: kits.collect(),
        refused: rows.iter().filter(|row| row.fate == Fate::Refused).count(),
        part_files: PART_FILES
            .into_iter()
            .filter(|kind| only.kind(*kind))
            .map(FileKind::ending)
            .collect(),
        kit_pages: only.kind(FileKind::Html),
    };
    for (number, one, other) in all.collisions() {
        let message = format!("two different parts of {one} and {other} would be called {number}");
        let help = "give the catalogue another beginning of numbers: `parts` under `[catalogue]`";
        notes.add(Finding::error("catalogue.collision", message).about(number).help(help));
    }
    let findings = findings_csv(rows.iter().flat_map(|row| said(job, folder, row)));
    for (name, bytes) in [
        ("commonality.csv", commonality_csv(&all)),
        ("commonality.html", commonality_page(&all)),
        (USES_NAME, uses_csv(&all)),
        ("findings.csv", findings),
    ] {
        let path = folder.join(name);
        let same = store::bytes_of(&path).is_some_and(|old| sha256(&old) == sha256(&bytes));
        if !same {
            store::put(&path, &bytes)?;
        }
    }
    Ok((all.sentence(), notes))
}

/// What is said of a variant: read back from its record, so that it need not be kept.
fn said(job: &Job, folder: &Path, row: &Row) -> Vec<FindingRow> {
    if row.said == 0 {
        return Vec::new();
    }
    let kit = job.catalogue.number_of(row.index);
    let said = match row.fate {
        Fate::Refused => store::bytes_of(&refusal_path(folder, &kit))
            .and_then(|bytes| Refused::read(&bytes))
            .map(|refused| refused.said),
        _ => store::bytes_of(&folder.join(KITS).join(&kit).join(MADE_NAME))
            .and_then(|bytes| Made::read(&bytes))
            .map(|made| made.said),
    };
    // Of a refused variant the errors are what matters.
    let meant = |said: &Said| row.fate != Fate::Refused || said.severity == "error";
    let said = said.into_iter().flatten().filter(meant);
    said.map(|said| finding_row(&kit, said)).collect()
}

fn finding_row(kit: &str, said: Said) -> FindingRow {
    FindingRow {
        kit: kit.to_owned(),
        severity: said.severity,
        check: said.check,
        subject: said.subject,
        message: said.message,
        accepted: said.accepted.unwrap_or_default(),
    }
}

/// The kinds of file that a part has of its own.
const PART_FILES: [FileKind; 3] = [FileKind::Dxf, FileKind::Pdf, FileKind::Svg];

/// Removes kits and parts that belong to no variant. What the program did not write stays, and is
/// told.
fn clear(
    job: &Job,
    folder: &Path,
    rows: &[Row],
    collected: &Collected,
    notes: &mut Notes,
) -> Result<(), Trouble> {
    let kept = rows.iter().filter(|row| row.fate != Fate::Refused);
    let kits: BTreeSet<String> = kept.map(|row| job.catalogue.number_of(row.index)).collect();
    let out = folder.join(KITS);
    for name in store::names_in(&out) {
        let half = is_half(&name) || (name.starts_with('.') && name.ends_with(".old"));
        if half && job.alone {
            store::remove_folder(&out.join(&name))?;
        }
        if kits.contains(&name) || name.starts_with('.') {
            continue;
        }
        if let Err(trouble) = store::remove_kit(&out, &name) {
            notes.add(stranger(&format!("{KITS}/{name}"), &trouble));
        }
    }
    let refused = rows.iter().filter(|row| row.fate == Fate::Refused);
    let refused: BTreeSet<String> =
        refused.map(|row| format!("{}.json", job.catalogue.number_of(row.index))).collect();
    let out = folder.join(REFUSED);
    for name in store::names_in(&out).into_iter().filter(|name| !refused.contains(name)) {
        store::remove_file(&out.join(&name))?;
    }
    let wanted = &job.series.wish().only;
    let parts: BTreeSet<&str> = collected.parts.iter().map(|part| part.number.as_str()).collect();
    let out = folder.join(PARTS);
    for name in store::names_in(&out) {
        let (number, ending) = name.rsplit_once('.').unwrap_or((&name, ""));
        let of_part = PART_FILES.map(FileKind::ending);
        let ours = of_part.contains(&ending) && number.starts_with(&job.catalogue.prefix);
        let asked = FileKind::ALL.iter().any(|kind| wanted.kind(*kind) && kind.ending() == ending);
        if is_half(&name) || (ours && !(asked && parts.contains(number))) {
            store::remove_file(&out.join(&name))?;
        }
    }
    // Of a list that a run was about to replace when it was stopped.
    let half = store::names_in(folder).into_iter().filter(|name| job.alone && is_half(name));
    half.map(|name| folder.join(name)).try_for_each(|path| store::remove_file(&path))
}

/// Whether a file was being written beside its place.
fn is_half(name: &str) -> bool {
    name.starts_with('.') && name.ends_with(".new")
}

fn stranger(path: &str, trouble: &Trouble) -> Finding {
    let message = format!("{path} belongs to no variant and stays: {}", trouble.finding.message);
    Finding::warning("catalogue.stranger", message).about(path).help("move it elsewhere")
}
