//! The command `verify`: releases held against their manifests, and made again where asked.

use std::path::Path;

use super::args::{Format, VerifyArguments};
use super::batch::{Outcome, guarded, hush_caught_panics};
use super::exit::Exit;
use super::make::as_json;
use super::rebuild::rebuild;
use super::remark::remarks;
use super::store::{self, Contents, Standing};
use super::{Console, Prepare, plain, report};
use crate::note::{Finding, Notes};
use crate::release::{Folder, Mate, Recorded, audit, sha256};

/// Looks at every release; the worst counts.
pub(crate) fn verify(asked: &VerifyArguments, prepare: &Prepare, console: &mut Console) -> Exit {
    hush_caught_panics();
    let again = asked.rebuild.then_some(prepare);
    let looked: Vec<Looked> =
        asked.folders.iter().flat_map(|folder| look_at(folder, again)).collect();
    let outcomes: Vec<Outcome> = looked.iter().map(|looked| looked.outcome.clone()).collect();
    match asked.format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => as_text(&looked, console),
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Done)
}

/// What a look at a release, or at what stands around releases, came to.
struct Looked {
    outcome: Outcome,
    /// One line on it.
    line: String,
}

impl Looked {
    /// Something about which nothing is said but its findings.
    fn quiet(outcome: Outcome) -> Self {
        Self { outcome, line: String::new() }
    }
}

/// Everything that one argument stands for.
fn look_at(folder: &Path, again: Option<&Prepare>) -> Vec<Looked> {
    let name = shown(folder);
    let found = match store::find_releases(folder) {
        Ok(found) => found,
        Err(trouble) => return vec![Looked::quiet(Outcome::trouble(name, trouble))],
    };
    let mut looked: Vec<Looked> =
        found.leftovers.iter().map(|path| Looked::quiet(left(path))).collect();
    for standing in &found.releases {
        let name = shown(&standing.folder);
        let mut line = String::new();
        let outcome = guarded(&name, || {
            let (outcome, said) = one(standing, &name, again);
            line = said;
            outcome
        });
        looked.push(Looked { outcome, line });
    }
    looked
}

fn shown(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// What a stopped run left; it is no release and takes nothing from the others.
fn left(path: &Path) -> Outcome {
    let name = shown(path);
    let finding = if path.is_symlink() {
        Finding::warning("verify.nowhere", format!("{name} leads to a release that is not there"))
            .help(
                "a stopped run leaves such a name, and the next `release` takes it away; if it \
                   was released, fetch the release from a copy",
            )
    } else {
        Finding::note("verify.leftover", format!("{name} was left by a run that was stopped"))
            .help("the next `release` to this folder takes it away")
    };
    let mut notes = Notes::default();
    notes.add(finding);
    Outcome { remarks: remarks(&notes, |_| None), ..Outcome::unmade(name, Exit::Done) }
}

/// Looks at one release.
fn one(standing: &Standing, name: &str, again: Option<&Prepare>) -> (Outcome, String) {
    let contents = match store::contents(&standing.folder) {
        Ok(contents) => contents,
        Err(trouble) => return (Outcome::trouble(name.to_owned(), trouble), String::new()),
    };
    let Contents { manifest, seal, seen } = &contents;
    let folder = Folder { manifest: manifest.as_deref(), seal: seal.as_deref(), seen };
    let mut notes = Notes::default();
    let recorded = audit(&folder, &mut notes);
    if let Some(recorded) = &recorded {
        in_place(standing, recorded, &mut notes);
        recorded.together.iter().for_each(|mate| beside(standing, mate, &mut notes));
    }
    let whole = !notes.has_errors();
    let made_again = match (&recorded, again, whole) {
        (Some(recorded), Some(prepare), true) => {
            rebuild(&standing.folder, recorded, prepare, &mut notes)
        }
        _ => false,
    };
    let exit = if notes.has_errors() { Exit::Refused } else { Exit::Done };
    let kit = recorded.as_ref().map(|recorded| recorded.kit.clone());
    let line = match (&recorded, manifest, exit) {
        (Some(recorded), Some(manifest), Exit::Done) => whole_line(recorded, manifest, made_again),
        (Some(recorded), ..) => {
            let Recorded { kit, revision, .. } = recorded;
            format!("{kit}: revision {revision} is not as it was released")
        }
        _ => format!("{name}: not as it was released"),
    };
    let remarks = remarks(&notes, |_| None);
    (Outcome { kit, remarks, ..Outcome::unmade(name.to_owned(), exit) }, line)
}

fn whole_line(recorded: &Recorded, manifest: &[u8], made_again: bool) -> String {
    let Recorded { kit, revision, files, .. } = recorded;
    let again = if made_again { ", made again byte for byte" } else { "" };
    let (count, digest) = (files.len() + 2, sha256(manifest));
    format!(
        "{kit}: revision {revision} is as it was released, {count} files{again}, manifest {digest}"
    )
}

/// Whether a release stands under its own kit's number and revision.
fn in_place(standing: &Standing, recorded: &Recorded, notes: &mut Notes) {
    let Some([kit, revision]) = &standing.named else { return };
    if (kit, revision) != (&recorded.kit, &recorded.revision) {
        let Recorded { kit: own, revision: own_revision, .. } = recorded;
        let message = format!(
            "revision {own_revision} of {own} stands in the place of revision {revision} of {kit}"
        );
        notes.add(
            Finding::error("verify.place", message)
                .about(shown(&standing.folder))
                .help("move it to the folder of its own number and revision"),
        );
    }
}

/// Whether a kit that was released together with this one stands beside it.
fn beside(standing: &Standing, mate: &Mate, notes: &mut Notes) {
    let Some(to) = &standing.to else { return };
    let Mate { kit, revision, kit_json_sha256 } = mate;
    let wrong = match store::digest(&to.join(kit).join(revision).join("kit.json")) {
        Some(digest) if digest == *kit_json_sha256 => return,
        Some(_) => "is not the one that was released with it",
        None => "was released with it and is not there",
    };
    notes.add(
        Finding::error("verify.together", format!("revision {revision} of {kit} {wrong}"))
            .about(shown(&standing.folder))
            .help("fetch it from a copy that is whole"),
    );
}

fn as_text(looked: &[Looked], console: &mut Console) {
    for Looked { outcome, .. } in looked {
        let findings = report::findings(outcome, console.colour);
        console.tell(&findings);
    }
    let lines = looked.iter().map(|looked| &looked.line).filter(|line| !line.is_empty());
    let lines: String = lines.map(|line| plain::line(line) + "\n").collect();
    console.say(&lines);
}
