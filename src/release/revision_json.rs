//! Revisions and amendments in `kit.json`.

use serde::Serialize;

use crate::kit::{Kit, Previous, Revision};

#[derive(Serialize)]
pub(super) struct RevisionJson<'a> {
    index: &'a str,
    date: &'a str,
    text: &'a str,
}

pub(super) fn revision_json(revision: &Revision) -> RevisionJson<'_> {
    RevisionJson { index: &revision.index, date: &revision.date, text: &revision.text }
}

/// What an amendment did to one part.
#[derive(Serialize)]
pub(super) struct AmendmentJson<'a> {
    part: &'a str,
    face: &'a str,
    text: &'a str,
    reason: &'a str,
    revision: &'a str,
}

/// Every amendment of a kit, once for each part and face it changed.
pub(super) fn amendments_json(kit: &Kit) -> Vec<AmendmentJson<'_>> {
    let mut last = None;
    let mut all = Vec::new();
    for it in &kit.amended {
        let key = (it.order, it.part, it.face);
        if last.replace(key) != Some(key) {
            let part = &kit.parts[it.part];
            all.push(AmendmentJson {
                part: &part.number,
                face: &part.faces[it.face].name,
                text: &it.text,
                reason: &it.reason,
                revision: &it.revision,
            });
        }
    }
    all
}

/// The revision that this one follows.
#[derive(Serialize)]
pub(super) struct PreviousJson<'a> {
    revision: &'a str,
    kit_sha256: &'a str,
}

pub(super) fn previous_json(previous: &Previous) -> PreviousJson<'_> {
    PreviousJson { revision: &previous.revision, kit_sha256: &previous.sha256 }
}
