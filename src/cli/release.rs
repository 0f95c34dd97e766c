//! The command `release`: from one spec's kits to frozen revisions, or to the reasons why not.

use std::collections::BTreeSet;
use std::path::Path;

use super::batch::{Batch, Outcome, Spec, told};
use super::exit::{Exit, Trouble};
use super::parcel::{Recipe, parcels};
use super::store::{self, Data, Parcel, Stands, Written};
use crate::note::{Finding, Severity};
use crate::pipeline::Built;
use crate::release::{MANIFEST, Program, Recorded, next_revision, sha256};

/// Where revisions are frozen and what they may carry.
pub(crate) struct Freezer<'a> {
    /// The folder of releases.
    pub to: &'a Path,
    /// All data texts.
    pub data: &'a Data,
    /// Whether warnings that the spec does not accept may be released.
    pub allow_warnings: bool,
}

/// Freezes the kits of one spec, all or none, and says what became of each.
pub(crate) fn release(
    freezer: &Freezer,
    batch: &Batch,
    spec: &Spec,
    mut all: Vec<Built>,
) -> Vec<Outcome> {
    for built in &mut all {
        spec.clash.iter().for_each(|clash| built.notes.add(clash.clone()));
        if !freezer.allow_warnings {
            refuse_warnings(built);
        }
    }
    let mut exits: Vec<Exit> = all.iter().map(|built| Exit::of(&built.notes)).collect();
    let mut written: Vec<Option<Written>> = all.iter().map(|_| None).collect();
    if exits.iter().any(|exit| *exit != Exit::Done) {
        refuse_mates(&mut all, &mut exits);
    } else {
        let recipe = Recipe {
            spec: &spec.source,
            data: freezer.data,
            builds: batch.builds,
            earlier: &spec.earlier,
            program: &Program::running(),
        };
        let done = parcels(&recipe, &all).and_then(|parcels| freeze(freezer.to, &parcels));
        match done {
            Ok(frozen) => written = frozen.into_iter().map(Some).collect(),
            Err(trouble) => {
                exits.fill(trouble.exit);
                all[0].notes.add(*trouble.finding);
                refuse_mates(&mut all, &mut exits);
            }
        }
    }
    let rows = all.into_iter().zip(exits).zip(written);
    let outcome = |((built, exit), written): ((Built, Exit), Option<Written>)| Outcome {
        file: spec.source.name.clone(),
        remarks: told(&built.notes, &spec.source, batch.data),
        kit: built.kit.filter(|number| !number.is_empty()),
        parts: built.parts,
        exit,
        written,
    };
    rows.map(outcome).collect()
}

/// A warning that nobody has weighed is not released: a drawing that carries one would tell the
/// shop that somebody had.
fn refuse_warnings(built: &mut Built) {
    let open = |f: &&Finding| f.severity == Severity::Warning && f.accepted.is_none();
    let message = match built.notes.all().iter().filter(open).count() {
        0 => return,
        1 => "a warning is not accepted".to_owned(),
        n => format!("{n} warnings are not accepted"),
    };
    built.notes.add(Finding::error("release.warnings", message).help(
        "put right what they tell, or accept each in the spec with [[accept]] and a reason, which \
         the drawings show; --allow-warnings releases without, and the manifest says so",
    ));
}

/// The kits of one spec are released together: one that is refused keeps the others back.
fn refuse_mates(all: &mut [Built], exits: &mut [Exit]) {
    let refused: Vec<String> = all
        .iter()
        .filter(|built| built.notes.has_errors())
        .filter_map(|built| built.kit.clone())
        .collect();
    for (built, exit) in all.iter_mut().zip(exits) {
        if !built.notes.has_errors() {
            let message = format!("{} of the same spec is not released", refused.join(", "));
            let finding = Finding::error("release.together", message);
            built
                .notes
                .add(finding.help("the kits of one spec are released together or not at all"));
            *exit = (*exit).max(Exit::Refused);
        }
    }
}

fn freeze(to: &Path, parcels: &[Parcel]) -> Result<Vec<Written>, Trouble> {
    check_places(to, parcels)?;
    if let Err(trouble) = store::freeze(to, parcels) {
        // On a system without locks another run may have come first.
        check_places(to, parcels)?;
        return Err(trouble);
    }
    Ok(parcels.iter().map(|parcel| written(to, parcel)).collect())
}

fn written(to: &Path, parcel: &Parcel) -> Written {
    let manifest = parcel.files.iter().find(|file| file.path == MANIFEST);
    let digest = manifest.map_or_else(String::new, |file| sha256(&file.bytes));
    Written {
        folder: parcel.place(to),
        files: parcel.files.len(),
        parts: BTreeSet::new(),
        revision: Some([parcel.revision.clone(), digest]),
    }
}

/// Refuses a revision that is released already, and a place where something else stands.
fn check_places(to: &Path, parcels: &[Parcel]) -> Result<(), Trouble> {
    for parcel in parcels {
        let place = parcel.place(to);
        let home = to.join(&parcel.kit);
        if store::is_drawn(&home) {
            let message = format!("{} is a kit's folder as `draw` writes it", home.display());
            return Err(Trouble::world("release.foreign", message)
                .help("keep releases in a folder of their own: name another with --to"));
        }
        match store::stands(&place)? {
            Stands::Nothing => {}
            Stands::Release(manifest) => return Err(released(parcel, &place, &manifest)),
            Stands::Other => {
                let message = format!("{} is there and is no release", place.display());
                return Err(Trouble::world("release.foreign", message)
                    .help("move it elsewhere, or name another folder with --to"));
            }
        }
    }
    Ok(())
}

/// Says that a revision is released, and in what the spec in hand differs from it.
fn released(parcel: &Parcel, place: &Path, manifest: &[u8]) -> Trouble {
    let Parcel { kit, revision, files } = parcel;
    let new = files.iter().find(|file| file.path == MANIFEST).map(|file| file.bytes.as_slice());
    let there = format!("revision {revision} of {kit} is already released in {}", place.display());
    if new == Some(manifest) {
        return Trouble::refused("release.released", format!("{there}, with the same content"))
            .help("nothing is left to do: what would be released is what stands there");
    }
    let both = (Recorded::read(manifest), Recorded::read(new.unwrap_or_default()));
    let differs = match both {
        (Ok(old), Ok(new)) => old.differences(&new).join(", "),
        _ => "its manifest, which cannot be read".to_owned(),
    };
    let differs = if differs.is_empty() {
        "nothing but the names of its inputs, or where they were read from".to_owned()
    } else {
        differs
    };
    let next = next_revision(revision)
        .map_or_else(String::new, |next| format!(", to \"{next}\" for example"));
    Trouble::refused("release.released", format!("{there}; since then has changed: {differs}"))
        .help(format!(
            "a released revision is never replaced: raise `revision` in the spec{next}, and say \
             in [[revisions]] what changed"
        ))
}
