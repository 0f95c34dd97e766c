//! Moving a kit's folder to its place whole. Names beside the place: `.KIT.new` while it is
//! written, `.KIT.old` for what stood there before.

#![expect(clippy::disallowed_methods, reason = "the store is where files are written")]

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::cli::exit::Trouble;
use crate::pipeline::FileKind;
use crate::release::MADE_NAME;

/// A kit's folder and its two names beside it.
#[derive(Debug)]
pub(crate) struct Place {
    /// `OUT/KIT`.
    pub folder: PathBuf,
    /// `OUT/.KIT.new`.
    pub new: PathBuf,
    /// `OUT/.KIT.old`.
    old: PathBuf,
}

impl Place {
    /// The place of a kit in the output folder.
    pub(crate) fn of(out: &Path, kit: &str) -> Self {
        let beside = |ending: &str| out.join(format!(".{kit}.{ending}"));
        Self { folder: out.join(kit), new: beside("new"), old: beside("old") }
    }

    /// Puts right what a run left that was stopped midway.
    pub(crate) fn recover(&self) -> io::Result<()> {
        if exists(&self.old)? && !exists(&self.folder)? {
            fs::rename(&self.old, &self.folder)?;
        }
        remove(&self.old)?;
        remove(&self.new)
    }

    /// Refuses a place that holds anything but an older issue of a kit.
    pub(crate) fn inspect(&self) -> Result<(), Trouble> {
        let shown = self.folder.display();
        let kind = match fs::symlink_metadata(&self.folder) {
            Ok(metadata) => metadata,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
            Err(error) => return Err(unwritable(&self.folder, &error)),
        };
        if !kind.is_dir() {
            let message = format!("{shown} is not a folder, and will not be replaced");
            return Err(foreign(message));
        }
        let older = carries_kit(&self.folder).map_err(|e| unwritable(&self.folder, &e))?;
        if !older {
            let message = format!("{shown} is no kit's folder: it has no kit.json of this program");
            return Err(foreign(message));
        }
        let stranger = stranger(&self.folder, 0).map_err(|e| unwritable(&self.folder, &e))?;
        stranger.map_or(Ok(()), |path| {
            let message = format!("{shown} holds {}, which would be lost", path.display());
            Err(foreign(message))
        })
    }

    /// Moves the written folder to its place. What stood there is moved aside first, comes back
    /// when that fails, and is removed afterwards.
    pub(crate) fn settle(&self) -> io::Result<()> {
        let replaces = exists(&self.folder)?;
        if replaces {
            fs::rename(&self.folder, &self.old)?;
        }
        if let Err(error) = fs::rename(&self.new, &self.folder) {
            if replaces {
                fs::rename(&self.old, &self.folder)?;
            }
            return Err(error);
        }
        // The kit has arrived: an older issue that cannot be removed is put right by the next run.
        let _ = remove(&self.old);
        Ok(())
    }

    /// Removes what was written of a folder that will not be moved.
    pub(crate) fn abandon(&self) {
        let _ = remove(&self.new);
    }
}

fn foreign(message: String) -> Trouble {
    Trouble::world("write.foreign", message).help("move it elsewhere, or name another folder")
}

/// A path that could not be written, with the system's reason.
pub(crate) fn unwritable(path: &Path, error: &io::Error) -> Trouble {
    let shown = path.display();
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            Trouble::world("write.full", format!("no room is left to write {shown}"))
                .help("make room, or name another folder")
        }
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            Trouble::world("write.denied", format!("{shown} may not be written"))
                .help("ask for leave to write there, or name another folder")
        }
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
            let message = format!("{shown} cannot be a folder: a file is in the way");
            Trouble::world("write.not-a-folder", message).help("name another folder")
        }
        _ => Trouble::world("write.failed", format!("{shown} could not be written: {error}")),
    }
}

/// Whether anything has this name; a link counts as itself.
pub(super) fn exists(path: &Path) -> io::Result<bool> {
    match fs::symlink_metadata(path) {
        Ok(_) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_dir_all(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

/// How much of `kit.json` is looked at; its first key is the format.
const HEAD: u64 = 256;

/// The files by which a folder of this program is known, with the beginning of their format.
const KNOWN_BY: [(&str, &str); 4] = [
    ("kit.json", "kit"),
    ("changes.json", "changes"),
    ("sheets.json", "sheets"),
    (MADE_NAME, "made"),
];

/// Whether a folder holds a `kit.json`, a comparison's `changes.json`, the `sheets.json` of common
/// sheets, or the record of a catalogue's kit, of this program.
fn carries_kit(folder: &Path) -> io::Result<bool> {
    for (name, format) in KNOWN_BY {
        let path = folder.join(name);
        if !path.is_file() {
            continue;
        }
        let mut head = Vec::new();
        File::open(path)?.take(HEAD).read_to_end(&mut head)?;
        let head = String::from_utf8_lossy(&head);
        if head.contains(&format!("\"format\": \"blankwright-{format}/")) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// How deep a kit's folder goes: `parts` and `sheets` hold files alone.
const DEPTH: usize = 1;

/// The first thing in a kit's folder that is of no kind the program writes.
fn stranger(folder: &Path, depth: usize) -> io::Result<Option<PathBuf>> {
    let mut entries = fs::read_dir(folder)?.collect::<io::Result<Vec<_>>>()?;
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let (path, kind) = (entry.path(), entry.file_type()?);
        let ours = (kind.is_file() && is_ours(&path)) || (kind.is_dir() && depth < DEPTH);
        if !ours {
            return Ok(Some(path));
        }
        if kind.is_dir()
            && let Some(found) = stranger(&path, depth + 1)?
        {
            return Ok(Some(found));
        }
    }
    Ok(None)
}

fn is_ours(path: &Path) -> bool {
    let ending = path.extension().unwrap_or_default();
    FileKind::ALL.iter().any(|kind| ending == kind.ending())
}
