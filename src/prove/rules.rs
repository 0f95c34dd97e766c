//! The checks' own rules, run on the kit that was read back.

use super::ReadBack;
use super::agree::Bench;
use super::codes::JOINT;
use super::desk::Desk;
use crate::check::{self, Subject};
use crate::mate::{Host, fasteners};
use crate::note::{Finding, Notes, Severity};
use crate::reading::NAME;
use crate::section::Strength;
use crate::solid::Scene;
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
        scene: &Scene::of(&read.kit, &read.folded),
        bending: &[],
        asked: None,
    };
    lengths(bench, read, notes);
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

/// The lengths to buy follow from what each joint clamps: a joint that forgets the container shows
/// there.
fn lengths(bench: &Bench, read: &ReadBack, notes: &mut Notes) {
    let kit = &read.kit;
    let host = Host {
        wall: kit.container.wall.as_ref(),
        container: bench.shelf.container(&kit.container.id),
    };
    let joined = (kit.joints.as_slice(), kit.neighbours.as_slice());
    let own = fasteners(joined, bench.shelf, (&kit.parts, &read.folded), host);
    let mut desk = Desk::new(notes, NAME);
    for row in &bench.kit.fasteners {
        let Some(own) = own.iter().find(|own| own.id == row.id) else { continue };
        if own.title != row.title {
            let words =
                format!("{} is listed as {}, by its joints {}", row.id, row.title, own.title);
            desk.tell(&JOINT, words);
        }
    }
}
