//! Writing one kit's folder: beside its place first, then moved there whole.

#![expect(clippy::disallowed_methods, reason = "the store is where files are written")]

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};
use std::thread;

use super::place::{Place, unwritable};
use crate::cli::exit::Trouble;
use crate::pipeline::OutFile;

/// What was written for one kit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Written {
    /// The kit's folder.
    pub folder: PathBuf,
    /// How many files are in it.
    pub files: usize,
    /// Numbers of the parts that have files of their own.
    pub parts: BTreeSet<String>,
    /// Of a release its revision and the SHA-256 of its manifest.
    pub revision: Option<[String; 2]>,
}

/// Makes sure that the output folder is there.
pub(crate) fn create(out: &Path) -> Result<(), Trouble> {
    fs::create_dir_all(out).map_err(|e| unwritable(out, &e))
}

/// Writes a kit's files to `OUT/KIT`, which afterwards holds these alone; or leaves all as it was.
pub(crate) fn write(out: &Path, kit: &str, files: &[OutFile]) -> Result<Written, Trouble> {
    assert!(is_plain(kit) && !kit.contains('/'), "the kit number {kit:?} is no name of a folder");
    for file in files {
        assert!(is_plain(&file.path), "{:?} leads out of the kit's folder", file.path);
    }
    let place = Place::of(out, kit);
    place.recover().map_err(|e| unwritable(&place.folder, &e))?;
    place.inspect()?;
    let written = stage(&place.new, files).and_then(|()| place.settle());
    if let Err(error) = written {
        place.abandon();
        return Err(unwritable(&place.folder, &error));
    }
    // The names are on disk when the folder that holds them is; not every system can be asked.
    let _ = File::open(out).and_then(|folder| folder.sync_all());
    let parts = files.iter().filter_map(|file| part_of(&file.path)).collect();
    Ok(Written { folder: place.folder, files: files.len(), parts, revision: None })
}

/// The number in `parts/NUMBER.ending`.
fn part_of(path: &str) -> Option<String> {
    let name = path.strip_prefix("parts/")?;
    name.rsplit_once('.').map(|(number, _)| number.to_owned())
}

/// Writes all files to a new folder and waits until they are on disk.
fn stage(folder: &Path, files: &[OutFile]) -> io::Result<()> {
    fs::create_dir(folder)?;
    for file in files {
        let path = folder.join(&file.path);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        File::create(path)?.write_all(&file.bytes)?;
    }
    sync(folder, files)
}

/// How many files are handed to the disk at once: it settles many in the time of one.
const AT_ONCE: usize = 16;

/// Waits until files of a folder are on disk.
pub(super) fn sync(folder: &Path, files: &[OutFile]) -> io::Result<()> {
    let share = files.len().div_ceil(AT_ONCE).max(1);
    let sync_share = |share: &[OutFile]| {
        share.iter().try_for_each(|file| File::open(folder.join(&file.path))?.sync_all())
    };
    thread::scope(|scope| {
        let spawn = |share| thread::Builder::new().spawn_scoped(scope, move || sync_share(share));
        let threads: Vec<_> = files.chunks(share).map(spawn).collect::<io::Result<_>>()?;
        let mut results = threads.into_iter().map(thread::ScopedJoinHandle::join);
        results.try_for_each(|joined| joined.unwrap_or(Err(io::ErrorKind::Other.into())))
    })
}

/// Whether a path stays inside the folder it is joined to.
pub(super) fn is_plain(path: &str) -> bool {
    let mut parts = Path::new(path).components();
    !path.is_empty() && parts.all(|part| matches!(part, Component::Normal(_)))
}
