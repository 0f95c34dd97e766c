//! Reading a kit's folder back.

#![expect(clippy::disallowed_methods, reason = "the store is where files are read")]

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::read::unreadable;
use super::shelter::TOGETHER;
use crate::cli::exit::Trouble;
use crate::pipeline::{FileKind, OutFile};
use crate::release::{CATALOGUE_FOLDER, files_of_member};

/// No file of a kit is read beyond this many bytes: hundreds of times the largest there is.
const LARGEST: u64 = 64 << 20;

/// Name of a kit's own file.
const KIT_FILE: &str = "kit.json";

/// Kinds of file whose content is read; of others the name is enough.
const READ: [FileKind; 3] = [FileKind::Json, FileKind::Dxf, FileKind::Csv];

/// Every file of a folder and of the folders in it, sorted by path, hidden ones left out.
pub(crate) fn read_kit(folder: &Path) -> Result<Vec<OutFile>, Trouble> {
    let kind = fs::metadata(folder).map_err(|e| unreadable(folder, &e))?;
    if !kind.is_dir() {
        let message = format!("{} is a file where a kit's folder is meant", folder.display());
        return Err(
            Trouble::unusable("file.is-file", message).help("name the folder that holds it")
        );
    }
    let mut files = Vec::new();
    collect(folder, "", &mut files)?;
    shared_parts(folder, &mut files)?;
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(files)
}

/// The kit's own file at a path: that file itself, the one in the folder, or where there is none,
/// those in the folder's folders, sorted by path; hidden folders are left out.
pub(crate) fn kit_files(path: &Path) -> Result<Vec<OutFile>, Trouble> {
    let file = |path: &Path| {
        content(path).map(|bytes| OutFile { path: path.to_string_lossy().into_owned(), bytes })
    };
    if !fs::metadata(path).map_err(|e| unreadable(path, &e))?.is_dir() {
        return Ok(vec![file(path)?]);
    }
    let own = path.join(KIT_FILE);
    if own.is_file() {
        return Ok(vec![file(&own)?]);
    }
    let listing = fs::read_dir(path).and_then(|entries| entries.collect::<io::Result<Vec<_>>>());
    let mut below: Vec<PathBuf> = listing
        .map_err(|e| unreadable(path, &e))?
        .iter()
        .filter(|entry| !entry.file_name().as_encoded_bytes().starts_with(b"."))
        .map(|entry| entry.path().join(KIT_FILE))
        .filter(|path| path.is_file())
        .collect();
    below.sort();
    below.iter().map(|path| file(path)).collect()
}

/// The kits' own files that were released together with the one of a release's folder; none for
/// any other path.
pub(crate) fn released_beside(path: &Path) -> Vec<OutFile> {
    let Ok(own) = path.canonicalize() else { return Vec::new() };
    // `together/KIT/REVISION/KIT`
    let set = own.parent().filter(|set| {
        let above = set.parent().and_then(Path::parent);
        above.is_some_and(|above| above.ends_with(TOGETHER))
    });
    let files = set.map_or_else(Vec::new, |set| kit_files(set).unwrap_or_default());
    files.into_iter().filter(|file| !Path::new(&file.path).starts_with(&own)).collect()
}

/// Adds the files of parts that a kit shares with others of its catalogue: they stand in the
/// catalogue's folder.
fn shared_parts(folder: &Path, files: &mut Vec<OutFile>) -> Result<(), Trouble> {
    let kit = files.iter().find(|file| file.path == "kit.json");
    let above = folder.join(CATALOGUE_FOLDER);
    for path in kit.map_or_else(Vec::new, |kit| files_of_member(&kit.bytes)) {
        let name = path.strip_prefix("parts/").filter(|name| !name.contains(['/', '\\']));
        let there = name.map(|_| above.join(&path)).filter(|file| file.is_file());
        if let Some(file) = there {
            files.push(OutFile { bytes: content(&file)?, path });
        }
    }
    Ok(())
}

/// Adds a folder's files; a kit's folders hold no folders themselves.
fn collect(folder: &Path, below: &str, files: &mut Vec<OutFile>) -> Result<(), Trouble> {
    let listing = fs::read_dir(folder).and_then(|entries| entries.collect::<io::Result<Vec<_>>>());
    for entry in listing.map_err(|e| unreadable(folder, &e))? {
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        let kind = entry.file_type().map_err(|e| unreadable(&path, &e))?;
        if name.starts_with('.') {
            continue;
        }
        if kind.is_dir() && below.is_empty() {
            collect(&path, &format!("{name}/"), files)?;
        } else {
            let bytes = if kind.is_file() { content(&path)? } else { Vec::new() };
            files.push(OutFile { path: format!("{below}{name}"), bytes });
        }
    }
    Ok(())
}

fn content(path: &Path) -> Result<Vec<u8>, Trouble> {
    let ending = path.extension().unwrap_or_default();
    let mut bytes = Vec::new();
    if READ.iter().any(|kind| ending == kind.ending()) {
        File::open(path)
            .and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
            .map_err(|e| unreadable(path, &e))?;
    }
    if LARGEST < bytes.len() as u64 {
        let message = format!("{} is larger than 64 MiB", path.display());
        return Err(Trouble::unusable("file.too-large", message).help("this is no file of a kit"));
    }
    Ok(bytes)
}
