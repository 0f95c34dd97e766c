//! A revision that follows another one: what did not change keeps its number and its revision, and
//! the revision tables fill themselves from the comparison.

use std::collections::BTreeMap;

use sha2::{Digest, Sha256};

use super::build::Step;
use super::{Built, Trial};
use crate::compare::{Comparison, PartChange, State, compare};
use crate::kit::{Issue, Kit, Previous, Revision};
use crate::note::{Finding, Notes};
use crate::reading::KitRow;
use crate::release;
use crate::resolve::Numbers;
use crate::spec::{Amendment, Spec};
use crate::template::Template;

/// Most values named in a line of the revision table.
const MOST_VALUES: usize = 3;

/// A kit of an earlier revision, as its `kit.json` has it.
#[derive(Debug)]
pub struct Earlier {
    /// The kit.
    pub kit: KitRow,
    /// The bytes it was read from.
    pub bytes: Vec<u8>,
    /// SHA-256 of these bytes, hexadecimal.
    pub sha256: String,
}

impl Earlier {
    /// Reads the bytes of a `kit.json`; else what is wrong with them.
    pub fn of_bytes(bytes: &[u8]) -> Result<Self, String> {
        let digest = Sha256::digest(bytes);
        let sha256 = digest.iter().map(|byte| format!("{byte:02x}")).collect();
        KitRow::of_bytes(bytes).map(|kit| Self { kit, bytes: bytes.to_vec(), sha256 })
    }

    /// The numbers of its parts, by their names without a hand.
    pub(super) fn numbers(&self) -> Numbers {
        let mut known = BTreeMap::new();
        for (name, number) in self.kit.part_numbers() {
            let rest = number.strip_prefix(&self.kit.kit).and_then(|it| it.strip_prefix('-'));
            let digits = rest.map(|it| it.trim_end_matches(['L', 'R']));
            if let Some(count) = digits.and_then(|it| it.parse::<usize>().ok()) {
                known.insert(name.to_owned(), count);
            }
        }
        Numbers::after(known)
    }
}

/// The earlier kit that this one follows; that there is none of its number is told.
pub(super) fn before<'a>(
    earlier: &'a [Earlier],
    spec: &Spec,
    notes: &mut Notes,
) -> Option<&'a Earlier> {
    let found = earlier.iter().find(|it| it.kit.number() == spec.kit.value);
    if found.is_none() && !earlier.is_empty() {
        let known: Vec<&str> = earlier.iter().map(|it| it.kit.number()).collect();
        let message = format!("the earlier revision has no kit {}", spec.kit.value);
        let finding = Finding::error("since.kit", message).about(spec.kit.value.clone());
        let help = format!("it has {}; a new kit has no earlier revision", known.join(", "));
        notes.add(finding.at(spec.place(&spec.kit.span)).help(help));
    }
    found
}

/// A kit that follows another.
pub(super) struct Both<'a> {
    /// The bytes of its own `kit.json`.
    pub(super) bytes: &'a [u8],
    /// What it would be without the amendments of this very revision, where it has such.
    pub(super) plain: Option<&'a KitRow>,
}

/// What a kit would be without the amendments that its own revision introduces. They have their
/// lines in the revision tables, and what they change is not told there once more.
pub(super) fn without_amendments(step: &Step, spec: &Spec) -> Option<KitRow> {
    let newest = |it: &&Amendment| it.revision.value == spec.revision.value;
    if !spec.amendments.iter().any(|it| newest(&it)) {
        return None;
    }
    let amendments = spec.amendments.iter().filter(|it| !newest(it)).cloned().collect();
    let plain = Spec { amendments, ..spec.clone() };
    let trial = Trial { builds: 0, ..*step.trial };
    let mut aside = Built::default();
    let (worked, _) = Step { trial: &trial, ..*step }.work_out(&plain, &mut aside)?;
    KitRow::of_bytes(&release::kit_json(&worked.record(&[], &[]))).ok()
}

/// Lets a kit follow an earlier one.
pub(super) fn follow(
    kit: &mut Kit,
    (earlier, both): (&Earlier, &Both),
    (spec, template): (&Spec, &Template),
    notes: &mut Notes,
) {
    let Ok(row) = KitRow::of_bytes(both.bytes) else { return };
    let comparison = compare(&earlier.kit, &row);
    let apart = both.plain.map(|plain| compare(&earlier.kit, plain));
    let told = apart.as_ref().unwrap_or(&comparison);
    refuse_twice(&comparison, spec, notes);
    let history = earlier.kit.history();
    let today =
        |text: String| Revision { index: kit.revision.clone(), date: kit.date.clone(), text };
    let old = comparison.heads[0].revision.clone();
    let issues: Vec<Issue> = comparison
        .parts
        .iter()
        .zip(&kit.parts)
        .map(|(change, part)| {
            let was = change.old.as_ref().and_then(|old| earlier.kit.issue(&old.number));
            match (change.state, was) {
                (State::Unchanged, Some(was)) => was,
                (State::Added, _) | (_, None) => {
                    let words = format!("New part, not in revision {old}");
                    let rows = current(&part.issue.rows, kit, vec![today(words)]);
                    Issue { rows, ..part.issue.clone() }
                }
                (_, Some(was)) => {
                    let words = since(told, &part.name).map(|it| format!("Since {old}: {it}"));
                    let more = words.into_iter().map(today).collect();
                    let own = current(&part.issue.rows, kit, more);
                    Issue { rows: joined(&was.rows, own), ..part.issue.clone() }
                }
            }
        })
        .collect();
    let line = summary(kit, told, template);
    // Where amendments say all, nothing is left to say.
    let line = line.or_else(|| apart.is_none().then(|| "no part changed".to_owned()));
    let line = line.map(|it| today(format!("Since {old}: {it}")));
    let own = current(&kit.revisions, kit, line.into_iter().collect());
    let sha256 = earlier.sha256.clone();
    kit.revisions = joined(&history, own);
    kit.previous = Some(Previous { revision: old, sha256 });
    kit.parts.iter_mut().zip(issues).for_each(|(part, issue)| part.issue = issue);
}

/// A revision's index stands for one content alone.
fn refuse_twice(comparison: &Comparison, spec: &Spec, notes: &mut Notes) {
    let [old, new] = &comparison.heads;
    let differ = comparison.parts.iter().filter(|it| it.state != State::Unchanged).count();
    if old.revision == new.revision && differ > 0 {
        let message = format!(
            "revision {} is the earlier one's too, and {differ} parts differ",
            new.revision
        );
        let finding = Finding::error("since.revision", message).about(new.kit.clone());
        let help = "give this revision its own letter or number";
        notes.add(finding.at(spec.place(&spec.revision.span)).help(help));
    }
}

/// The lines of this revision, with more behind them.
fn current(rows: &[Revision], kit: &Kit, more: Vec<Revision>) -> Vec<Revision> {
    let own = rows.iter().filter(|row| row.index == kit.revision).cloned();
    own.chain(more).collect()
}

/// The lines of earlier revisions as they were issued, then those of this one.
fn joined(history: &[Revision], own: Vec<Revision>) -> Vec<Revision> {
    let newest = own.first().map(|row| row.index.clone());
    let before = history.iter().filter(|row| Some(&row.index) != newest.as_ref()).cloned();
    before.chain(own).collect()
}

/// What changed about the part of that name; none where nothing did.
fn since(comparison: &Comparison, name: &str) -> Option<String> {
    let own = |it: &&PartChange| it.new.as_ref().is_some_and(|new| new.name == name);
    let change = comparison.parts.iter().find(own)?;
    (change.state != State::Unchanged).then(|| change.changes.join("; "))
}

/// `foam.thickness 50 to 60; changed 01L, 01R, 02; new 08; gone 05`; none where nothing changed.
fn summary(kit: &Kit, comparison: &Comparison, template: &Template) -> Option<String> {
    let given = |name: &str| {
        let (group, name) = name.split_once('.').unwrap_or(("", name));
        template.parameters.get(group).is_some_and(|group| group.contains_key(name))
    };
    let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "none".to_owned());
    let values: Vec<String> = comparison
        .values
        .iter()
        .filter(|it| given(&it.name))
        .map(|it| format!("{} {} to {}", it.name, side(&it.old), side(&it.new)))
        .collect();
    let mut phrases: Vec<String> = values.iter().take(MOST_VALUES).cloned().collect();
    if values.len() > MOST_VALUES {
        phrases.push(format!("{} more values", values.len() - MOST_VALUES));
    }
    let states = [(State::Changed, "changed"), (State::Added, "new"), (State::Gone, "gone")];
    for (state, word) in states {
        let of: Vec<&PartChange> =
            comparison.parts.iter().filter(|part| part.state == state).collect();
        let numbers: Vec<&str> =
            of.iter().filter_map(|part| Some(kit.short(part.named()?.number.as_str()))).collect();
        if !numbers.is_empty() {
            phrases.push(format!("{word} {}", numbers.join(", ")));
        }
    }
    (!phrases.is_empty()).then(|| phrases.join("; "))
}
