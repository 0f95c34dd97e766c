//! Finding specs and reading them.

#![expect(clippy::disallowed_methods, reason = "the store is where files are read")]

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::cli::exit::Trouble;
use crate::pipeline::Source;

/// No spec or data file is read beyond this many bytes.
pub(crate) const LARGEST: u64 = 1 << 20;

/// The spec files meant by paths of files and folders: a folder means all `*.toml` in it and in its
/// folders, hidden ones left out, sorted by path. A file that is named twice is taken once. A path
/// at which nothing is found stands with its trouble.
pub(crate) fn find_specs(paths: &[PathBuf]) -> Vec<(PathBuf, Result<(), Trouble>)> {
    let mut found = Vec::new();
    let mut seen = BTreeSet::new();
    for path in paths {
        match specs_at(path) {
            Ok(specs) => {
                let new = specs.into_iter().filter(|spec| seen.insert(identity(spec)));
                found.extend(new.map(|spec| (spec, Ok(()))));
            }
            Err(trouble) => found.push((path.clone(), Err(trouble))),
        }
    }
    found
}

/// The same for every way to write the path of one file.
fn identity(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

fn specs_at(path: &Path) -> Result<Vec<PathBuf>, Trouble> {
    let kind = fs::metadata(path).map_err(|e| unreadable(path, &e))?;
    if !kind.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut specs = Vec::new();
    collect(path, &mut specs).map_err(|e| unreadable(path, &e))?;
    if specs.is_empty() {
        let message = format!("no spec is in the folder {}", path.display());
        return Err(Trouble::unusable("file.no-spec", message)
            .help("name a folder that holds *.toml files, or a spec"));
    }
    specs.sort();
    Ok(specs)
}

/// Adds the specs of a folder. A link to a folder is not followed, so that no circle is walked.
fn collect(folder: &Path, specs: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = entry.path();
        let hidden = entry.file_name().as_encoded_bytes().starts_with(b".");
        if hidden {
            continue;
        }
        if entry.file_type()?.is_dir() {
            collect(&path, specs)?;
        } else if path.extension().is_some_and(|e| e == "toml") && !path.is_dir() {
            specs.push(path);
        }
    }
    Ok(())
}

/// Reads one file, at most `LARGEST` bytes of it.
pub(crate) fn read(path: &Path) -> Result<Source, Trouble> {
    let kind = fs::metadata(path).map_err(|e| unreadable(path, &e))?;
    if kind.is_dir() {
        let message = format!("{} is a folder where a file is meant", path.display());
        return Err(Trouble::unusable("file.is-folder", message).help("name the file in it"));
    }
    // A pipe or a device may never end, and opening one may never return.
    if !kind.is_file() {
        let message = format!("{} is neither a file nor a folder", path.display());
        return Err(Trouble::unusable("file.not-a-file", message).help("name a spec file"));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
        .map_err(|e| unreadable(path, &e))?;
    if LARGEST < bytes.len() as u64 {
        let message = format!("{} is larger than 1 MiB", path.display());
        return Err(Trouble::unusable("file.too-large", message)
            .help("a spec takes a few kilobytes; is this the right file?"));
    }
    Ok(Source { name: path.to_string_lossy().into_owned(), bytes })
}

/// A file or folder that could not be read, with the system's reason.
pub(crate) fn unreadable(path: &Path, error: &io::Error) -> Trouble {
    let path = path.display();
    match error.kind() {
        io::ErrorKind::NotFound => {
            Trouble::world("file.missing", format!("there is no {path}")).help("check the path")
        }
        io::ErrorKind::PermissionDenied => {
            Trouble::world("file.unreadable", format!("{path} may not be read"))
                .help("ask for leave to read it")
        }
        io::ErrorKind::NotADirectory => {
            let message = format!("{path} leads through something that is not a folder");
            Trouble::world("file.missing", message).help("check the path")
        }
        _ => Trouble::world("file.unreadable", format!("{path} could not be read: {error}")),
    }
}
