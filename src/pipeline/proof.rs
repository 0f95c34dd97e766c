//! The proof of what is about to be written: on the very bytes, before anything is placed.

use super::OutFile;
use crate::note::{Finding, Notes, Severity};
use crate::prove::{Found, Scope, prove, prove_sheets};
use crate::shelf::Shelf;

/// Whether a kit's files prove what was drawn. One that does not is a fault of the program: it is
/// told, with all that the proof says.
pub(super) fn holds(files: &[OutFile], shelf: &Shelf, notes: &mut Notes) -> bool {
    let found: Vec<Found> =
        files.iter().map(|file| Found { path: &file.path, bytes: &file.bytes }).collect();
    let proof = prove(&found, shelf, Scope::Written);
    if proof.holds() {
        return true;
    }
    let message = "the files that were drawn do not prove the kit: nothing of it is placed";
    notes.add(
        Finding::error("proof.failed", message)
            .measured(proof.errors() as f64, 0.0, "")
            .help("this is a fault of the program: please report it with the spec"),
    );
    proof.notes.all().iter().for_each(|finding| notes.add(finding.clone()));
    false
}

/// Whether the files of common sheets prove what was laid out; told like a kit's.
pub(super) fn sheets_hold(files: &[OutFile], shelf: &Shelf, notes: &mut Notes) -> bool {
    let found: Vec<Found> =
        files.iter().map(|file| Found { path: &file.path, bytes: &file.bytes }).collect();
    let (_, told) = prove_sheets(&found, shelf);
    let errors = told.all().iter().filter(|finding| finding.severity == Severity::Error);
    let errors: Vec<&Finding> = errors.collect();
    if errors.is_empty() {
        return true;
    }
    let message = "the files that were drawn do not prove the sheets: nothing of them is placed";
    notes.add(
        Finding::error("proof.failed", message)
            .measured(errors.len() as f64, 0.0, "")
            .help("this is a fault of the program: please report it with the specs"),
    );
    errors.into_iter().for_each(|finding| notes.add(finding.clone()));
    false
}
