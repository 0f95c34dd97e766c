//! Looking at releases: where they stand, and everything that is in them.

#![expect(clippy::disallowed_methods, reason = "the store is where files are read")]

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::leftover::{is_kit, is_revision, leads_nowhere, leftovers};
use super::read::unreadable;
use crate::cli::exit::Trouble;
use crate::release::{MANIFEST, SEAL, Seen, Thing, hexadecimal};

/// Where a release stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Standing {
    /// Its folder.
    pub folder: PathBuf,
    /// Kit and revision that the folders' names give, in a folder of releases.
    pub named: Option<[String; 2]>,
    /// The folder of releases it stands in, where that is known.
    pub to: Option<PathBuf>,
}

/// What stands in a folder of releases.
#[derive(Debug, Default)]
pub(crate) struct Found {
    /// The releases, sorted.
    pub releases: Vec<Standing>,
    /// What stopped runs left.
    pub leftovers: Vec<PathBuf>,
}

/// The releases meant by a path: one, those of a kit, or all in a folder of releases.
pub(crate) fn find_releases(folder: &Path) -> Result<Found, Trouble> {
    let kind = fs::metadata(folder).map_err(|e| unreadable(folder, &e))?;
    if !kind.is_dir() {
        let message = format!("{} is a file where a release's folder is meant", folder.display());
        return Err(
            Trouble::unusable("file.is-file", message).help("name the folder that holds it")
        );
    }
    let exact = folder.canonicalize().map_err(|e| unreadable(folder, &e))?;
    if [MANIFEST, SEAL].iter().any(|name| folder.join(name).exists()) {
        let only = Standing { folder: folder.to_owned(), named: None, to: None };
        return Ok(Found { releases: vec![only], leftovers: Vec::new() });
    }
    let mut found = Found { releases: Vec::new(), leftovers: leftovers(folder) };
    for kit in names(folder, is_kit)? {
        found.releases.extend(of_kit(folder, &folder.join(&kit), &kit)?);
    }
    let own = exact.file_name().and_then(|name| name.to_str()).filter(|name| is_kit(name));
    if let (true, Some(kit), Some(to)) = (found.releases.is_empty(), own, exact.parent()) {
        found.releases = of_kit(to, folder, kit)?;
    }
    if found.releases.is_empty() && found.leftovers.is_empty() {
        let message = format!("{} is no release and holds none", folder.display());
        return Err(Trouble::unusable("verify.no-release", message)
            .help("name a folder that `release` made, or the one it was made in"));
    }
    Ok(found)
}

/// The releases of one kit.
fn of_kit(to: &Path, home: &Path, kit: &str) -> Result<Vec<Standing>, Trouble> {
    let revisions = names(home, is_revision)?.into_iter();
    let there = revisions.filter(|revision| !leads_nowhere(&home.join(revision)));
    let standing = |revision: String| Standing {
        folder: home.join(&revision),
        named: Some([kit.to_owned(), revision]),
        to: Some(to.to_owned()),
    };
    Ok(there.map(standing).collect())
}

/// Names of the folders in a folder, links to folders among them, sorted.
fn names(folder: &Path, fits: fn(&str) -> bool) -> Result<Vec<String>, Trouble> {
    let listing = fs::read_dir(folder).and_then(|entries| entries.collect::<io::Result<Vec<_>>>());
    let entries = listing.map_err(|e| unreadable(folder, &e))?;
    let names = entries.iter().filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> =
        names.filter(|name| fits(name)).filter(|name| folder.join(name).is_dir()).collect();
    names.sort();
    Ok(names)
}

/// Everything in a release's folder.
#[derive(Debug)]
pub(crate) struct Contents {
    /// The bytes of the manifest, where it is there.
    pub manifest: Option<Vec<u8>>,
    /// The bytes of the list of digests beside it.
    pub seal: Option<Vec<u8>>,
    /// Everything else, hidden files and empty folders too, sorted.
    pub seen: Vec<Seen>,
}

/// Reads a release's folder.
pub(crate) fn contents(folder: &Path) -> Result<Contents, Trouble> {
    let mut seen = Vec::new();
    collect(folder, "", &mut seen)?;
    seen.retain(|seen| {
        let own = seen.path == MANIFEST || seen.path == SEAL;
        !(own && matches!(seen.thing, Thing::File { .. }))
    });
    seen.sort_by(|a, b| a.path.cmp(&b.path));
    let manifest = whole(&folder.join(MANIFEST))?;
    Ok(Contents { manifest, seal: whole(&folder.join(SEAL))?, seen })
}

/// No manifest is read beyond this many bytes: hundreds of times the largest there is.
const LARGEST: u64 = 64 << 20;

fn whole(path: &Path) -> Result<Option<Vec<u8>>, Trouble> {
    if !fs::symlink_metadata(path).is_ok_and(|kind| kind.is_file()) {
        return Ok(None);
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST).read_to_end(&mut bytes))
        .map_err(|e| unreadable(path, &e))?;
    Ok(Some(bytes))
}

fn collect(folder: &Path, below: &str, seen: &mut Vec<Seen>) -> Result<(), Trouble> {
    let listing = fs::read_dir(folder).and_then(|entries| entries.collect::<io::Result<Vec<_>>>());
    let entries = listing.map_err(|e| unreadable(folder, &e))?;
    if entries.is_empty() && !below.is_empty() {
        let path = below.trim_end_matches('/').to_owned();
        seen.push(Seen { path, thing: Thing::EmptyFolder });
    }
    for entry in entries {
        let path = entry.path();
        let kind = entry.file_type().map_err(|e| unreadable(&path, &e))?;
        let name = format!("{below}{}", entry.file_name().to_string_lossy());
        if kind.is_dir() {
            collect(&path, &format!("{name}/"), seen)?;
            continue;
        }
        let thing = match (kind.is_file(), kind.is_symlink()) {
            (true, _) => file(&path)?,
            (_, true) => Thing::Other("a link"),
            _ => Thing::Other("neither a file nor a folder"),
        };
        seen.push(Seen { path: name, thing });
    }
    Ok(())
}

fn file(path: &Path) -> Result<Thing, Trouble> {
    let (bytes, sha256) = hashed(path).map_err(|e| unreadable(path, &e))?;
    Ok(Thing::File { bytes, sha256 })
}

/// SHA-256 of a file's content; none when it cannot be read.
pub(crate) fn digest(path: &Path) -> Option<String> {
    hashed(path).ok().map(|(_, sha256)| sha256)
}

/// Size and SHA-256 of a file, read piece by piece.
fn hashed(path: &Path) -> io::Result<(u64, String)> {
    let mut file = File::open(path)?;
    let mut digest = Sha256::new();
    let mut piece = vec![0; 1 << 16];
    let mut bytes = 0;
    loop {
        match file.read(&mut piece)? {
            0 => return Ok((bytes, hexadecimal(&digest.finalize()))),
            read => {
                digest.update(&piece[..read]);
                bytes += read as u64;
            }
        }
    }
}
