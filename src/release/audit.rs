//! A release's folder held against its manifest: what was changed, what is missing, what is there
//! besides.

use std::collections::BTreeMap;

use super::manifest::{FileJson, MANIFEST, SEAL, seal, sha256};
use super::recorded::Recorded;
use crate::note::{Finding, Notes};

/// A thing in a release's folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// Path from the release's folder, parts separated by `/`.
    pub path: String,
    /// What stands there.
    pub thing: Thing,
}

/// What stands at a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Thing {
    /// A file.
    File {
        /// Its size.
        bytes: u64,
        /// SHA-256 of its content.
        sha256: String,
    },
    /// A folder that holds nothing.
    EmptyFolder,
    /// Something else, in words: `a link`.
    Other(&'static str),
}

/// What a release's folder holds. The manifest and its list of digests are given with their
/// content, and are not among `seen`.
#[derive(Debug, Clone, Copy)]
pub struct Folder<'a> {
    /// The bytes of `manifest.json`, where it is there.
    pub manifest: Option<&'a [u8]>,
    /// The bytes of `manifest.sha256`, where it is there.
    pub seal: Option<&'a [u8]>,
    /// Everything else in it and below; folders only where they are empty.
    pub seen: &'a [Seen],
}

/// Holds a folder against its manifest. Everything that differs is told; the manifest comes back
/// where it could be read.
pub fn audit(folder: &Folder, notes: &mut Notes) -> Option<Recorded> {
    let recorded = folder.manifest.and_then(|bytes| match Recorded::read(bytes) {
        Ok(recorded) => Some(recorded),
        Err(fault) => {
            notes.add(of_manifest(format!("{MANIFEST} cannot be read: {fault}"), MANIFEST));
            None
        }
    });
    sealed(folder, recorded.as_ref(), notes);
    let listed = match &recorded {
        Some(recorded) => recorded.files.iter().map(|file| (&*file.path, expected(file))).collect(),
        None => folder.seal.map(digests).unwrap_or_default(),
    };
    if recorded.is_some() || !listed.is_empty() {
        compare(&listed, folder.seen, notes);
    }
    recorded
}

/// What a file is meant to be.
struct Expected<'a> {
    bytes: Option<u64>,
    sha256: &'a str,
}

fn expected(file: &FileJson) -> Expected<'_> {
    Expected { bytes: Some(file.bytes), sha256: &file.sha256 }
}

/// The digests that the list beside the manifest gives, but the manifest's own.
fn digests(list: &[u8]) -> BTreeMap<&str, Expected<'_>> {
    let lines = std::str::from_utf8(list).unwrap_or_default().lines();
    let pairs = lines.filter_map(|line| line.split_once("  "));
    let files = pairs.filter(|(_, path)| *path != MANIFEST);
    files.map(|(sha256, path)| (path, Expected { bytes: None, sha256 })).collect()
}

/// Whether manifest and list agree, as they did when both were made.
fn sealed(folder: &Folder, recorded: Option<&Recorded>, notes: &mut Notes) {
    let (manifest, list) = match (folder.manifest, folder.seal) {
        (Some(manifest), Some(list)) => (manifest, list),
        (manifest, list) => {
            let gone = [(manifest, MANIFEST), (list, SEAL)];
            for (_, name) in gone.into_iter().filter(|(bytes, _)| bytes.is_none()) {
                notes.add(missing(name));
            }
            return;
        }
    };
    let digest = sha256(manifest);
    let same = list.get(..digest.len()) == Some(digest.as_bytes());
    let whole = recorded.is_none_or(|recorded| seal(manifest, &recorded.files) == list);
    if !same {
        let message = format!("{MANIFEST} and {SEAL} do not agree: one of them was changed");
        notes.add(of_manifest(message, MANIFEST));
    } else if !whole {
        let message = format!("{SEAL} is not the list that was made with {MANIFEST}");
        notes.add(of_manifest(message, SEAL));
    }
}

fn compare(listed: &BTreeMap<&str, Expected>, seen: &[Seen], notes: &mut Notes) {
    let there: BTreeMap<&str, &Thing> =
        seen.iter().map(|seen| (seen.path.as_str(), &seen.thing)).collect();
    for (path, expected) in listed {
        match there.get(path) {
            None => notes.add(missing(path)),
            Some(Thing::File { bytes, sha256 }) if *sha256 != expected.sha256 => {
                notes.add(changed(path, *bytes, expected.bytes));
            }
            Some(Thing::File { .. }) => {}
            Some(thing) => {
                let what = in_words(thing);
                let message = format!("{path} is {what} where a file was released");
                notes.add(Finding::error("verify.changed", message).about(*path).help(RESTORE));
            }
        }
    }
    // A folder whose files are all missing is told by them.
    let emptied = |path: &str, thing: &Thing| {
        let below = format!("{path}/");
        *thing == Thing::EmptyFolder && listed.keys().any(|file| file.starts_with(&below))
    };
    for (path, thing) in there {
        if listed.contains_key(path) || emptied(path, thing) {
            continue;
        }
        let what = in_words(thing);
        let message = format!("{path} was not released: {what} that was added since");
        notes.add(
            Finding::error("verify.extra", message)
                .about(path)
                .help("move it out of the release's folder"),
        );
    }
}

fn in_words(thing: &Thing) -> &'static str {
    match thing {
        Thing::File { .. } => "a file",
        Thing::EmptyFolder => "an empty folder",
        Thing::Other(what) => what,
    }
}

/// The way back.
const RESTORE: &str = "fetch the release from a copy that is whole, or release the next revision";

fn missing(path: &str) -> Finding {
    Finding::error("verify.missing", format!("{path} is missing")).about(path).help(RESTORE)
}

fn changed(path: &str, found: u64, released: Option<u64>) -> Finding {
    let sizes = match released {
        Some(released) if released != found => format!(": {released} bytes then, {found} now"),
        _ => String::new(),
    };
    let message = format!("{path} was changed since the release{sizes}");
    Finding::error("verify.changed", message).about(path).help(RESTORE)
}

fn of_manifest(message: String, about: &str) -> Finding {
    Finding::error("verify.manifest", message).about(about).help(RESTORE)
}
