//! The files of a catalogue: single ones that are written beside their place and moved there whole,
//! and what stands in its folders.

#![expect(clippy::disallowed_methods, reason = "the store is where files are met")]

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::place::{Place, unwritable};
use crate::cli::exit::Trouble;
use crate::release::sha256;

/// Files that many kits share, each written once in a run.
#[derive(Debug)]
pub(crate) struct SharedFiles<'a> {
    folder: &'a Path,
    /// The digest of each file that was looked at; empty for one that is not there.
    known: Mutex<BTreeMap<String, Arc<Mutex<Option<String>>>>>,
}

impl<'a> SharedFiles<'a> {
    /// Of a catalogue's folder.
    pub(crate) fn of(folder: &'a Path) -> Self {
        Self { folder, known: Mutex::default() }
    }

    /// Whether the file at a path inside the folder has this digest.
    pub(crate) fn holds(&self, path: &str, digest: &str) -> bool {
        let file = self.file(path);
        let mut known = locked(&file);
        known.get_or_insert_with(|| self.digest(path)) == digest
    }

    /// Writes a file unless it stands there already.
    pub(crate) fn put(&self, path: &str, bytes: &[u8], digest: &str) -> Result<(), Trouble> {
        let file = self.file(path);
        let mut known = locked(&file);
        if known.get_or_insert_with(|| self.digest(path)) == digest {
            return Ok(());
        }
        put(&self.folder.join(path), bytes)?;
        *known = Some(digest.to_owned());
        Ok(())
    }

    fn file(&self, path: &str) -> Arc<Mutex<Option<String>>> {
        Arc::clone(locked(&self.known).entry(path.to_owned()).or_default())
    }

    fn digest(&self, path: &str) -> String {
        bytes_of(&self.folder.join(path)).map_or_else(String::new, |bytes| sha256(&bytes))
    }
}

/// A panic of another thread leaves what is guarded whole: it is set in one go.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The bytes of a file; none where there is none that can be read.
pub(crate) fn bytes_of(path: &Path) -> Option<Vec<u8>> {
    fs::read(path).ok()
}

/// Writes one file beside its place, waits until it is on disk, and moves it there.
pub(crate) fn put(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let beside = path.with_file_name(format!(".{name}.new"));
    let written = || -> io::Result<()> {
        let mut file = File::create(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&beside, path)
    };
    written().map_err(|error| {
        let _ = fs::remove_file(&beside);
        unwritable(path, &error)
    })
}

/// The names in a folder, sorted; none where there is no such folder.
pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
    let mut names: Vec<String> =
        entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// Removes a kit's folder that holds nothing but what the program wrote.
pub(crate) fn remove_kit(out: &Path, kit: &str) -> Result<(), Trouble> {
    let place = Place::of(out, kit);
    place.inspect()?;
    // Half removed it would still stand under its name, and would be no kit of ours any more.
    remove_folder(&place.new)?;
    match fs::rename(&place.folder, &place.new) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            return Err(unwritable(&place.folder, &error));
        }
        _ => {}
    }
    remove_folder(&place.new)
}

/// Removes a folder with all that is in it.
pub(crate) fn remove_folder(path: &Path) -> Result<(), Trouble> {
    match fs::remove_dir_all(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(unwritable(path, &error)),
        _ => Ok(()),
    }
}

/// Removes a file.
pub(crate) fn remove_file(path: &Path) -> Result<(), Trouble> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(unwritable(path, &error)),
        _ => Ok(()),
    }
}
