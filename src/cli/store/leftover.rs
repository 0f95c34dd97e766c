//! What a run leaves that was stopped while it froze a revision: known by its name, and taken away
//! by the next run that holds the folder's lock.

#![expect(clippy::disallowed_methods, reason = "the store is where files are written")]

use std::fs;
use std::path::{Path, PathBuf};

use super::shelter::TOGETHER;

/// The name under which a revision is written: `.B.0.new`.
pub(crate) fn staging_name(revision: &str, number: u32) -> String {
    format!(".{revision}.{number}.new")
}

fn is_staging(name: &str) -> bool {
    let mut parts = name.split('.');
    let shape = [parts.next(), parts.next(), parts.next(), parts.next(), parts.next()];
    let [Some(""), Some(revision), Some(number), Some("new"), None] = shape else { return false };
    is_revision(revision) && !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit())
}

/// Whether a folder of this name may be a revision.
pub(crate) fn is_revision(name: &str) -> bool {
    let good = |b: u8| b.is_ascii_uppercase() || b.is_ascii_digit();
    (1..=3).contains(&name.len()) && name.bytes().all(good)
}

/// Whether a folder of this name may be a kit's.
pub(crate) fn is_kit(name: &str) -> bool {
    let good = |b: u8| b.is_ascii_uppercase() || b.is_ascii_digit() || b == b'-';
    !name.is_empty() && name.bytes().all(good)
}

/// Leftovers of stopped runs below a folder of releases, sorted: folders half written, and links
/// whose revision never arrived.
pub(crate) fn leftovers(to: &Path) -> Vec<PathBuf> {
    let homes = [folders(to), folders(&to.join(TOGETHER))].concat();
    let mut found: Vec<PathBuf> = homes.iter().flat_map(|home| in_home(home)).collect();
    found.sort();
    found
}

/// The kits' folders in a folder.
fn folders(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let kits = entries.filter(|entry| entry.file_name().to_str().is_some_and(is_kit));
    kits.map(|entry| entry.path()).collect()
}

fn in_home(home: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(home).into_iter().flatten().flatten();
    let left = entries.filter(|entry| {
        let name = entry.file_name();
        let name = name.to_str().unwrap_or_default();
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => is_staging(name),
            Ok(kind) if kind.is_symlink() => is_revision(name) && leads_nowhere(&entry.path()),
            _ => false,
        }
    });
    left.map(|entry| entry.path()).collect()
}

/// Whether this is a link as a release of several kits makes them, to a revision that is not there.
pub(crate) fn leads_nowhere(link: &Path) -> bool {
    let ours = |target: PathBuf| target.starts_with(Path::new("..").join(TOGETHER));
    fs::read_link(link).is_ok_and(ours) && !link.exists()
}

/// Takes leftovers away as well as it can. The caller holds the lock of the folder of releases.
pub(crate) fn sweep(to: &Path) {
    for path in leftovers(to) {
        if path.is_symlink() {
            clear_link(&path);
        } else {
            clear(&path);
        }
        if let Some(home) = path.parent() {
            remove_if_empty(home);
        }
    }
}

/// Removes a half-written folder; what cannot be removed is left to the next run.
pub(super) fn clear(folder: &Path) {
    thaw(folder);
    let _ = fs::remove_dir_all(folder);
}

/// Removes a folder that holds nothing.
pub(super) fn remove_if_empty(folder: &Path) {
    let _ = fs::remove_dir(folder);
}

/// Removes a link to where a revision would have stood.
pub(super) fn clear_link(link: &Path) {
    let _ = fs::remove_file(link);
}

/// Lets the owner write to folders again, so that their contents can be removed.
#[cfg(unix)]
fn thaw(folder: &Path) {
    use std::os::unix::fs::PermissionsExt;
    let _ = fs::set_permissions(folder, fs::Permissions::from_mode(0o700));
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            thaw(&entry.path());
        }
    }
}

#[cfg(not(unix))]
fn thaw(_: &Path) {}
