//! Freezing a revision: written beside its place, synced, and moved there by one rename.
//!
//! One kit: `TO/KIT/.REV.0.new` becomes `TO/KIT/REV`. Several kits of one spec are one folder,
//! `TO/together/FIRST/REV`, which holds a folder for each; the names `TO/KIT/REV` are links into
//! it, made before the rename, and lead nowhere until it has happened. A rename never replaces a
//! folder that holds anything, so that no released revision can be lost, whatever another run does.

#![expect(clippy::disallowed_methods, reason = "the store is where files are written")]

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::folder::{is_plain, sync};
use super::leftover::{clear, clear_link, remove_if_empty, staging_name};
use super::place::{exists, unwritable};
use crate::cli::exit::Trouble;
use crate::pipeline::OutFile;

/// Folder of the releases of several kits each; no kit's number is written in small letters.
pub(crate) const TOGETHER: &str = "together";

/// A kit's revision as it will be frozen.
#[derive(Debug)]
pub(crate) struct Parcel {
    /// The kit's number.
    pub kit: String,
    /// Its revision.
    pub revision: String,
    /// Every file of the release.
    pub files: Vec<OutFile>,
}

impl Parcel {
    /// Where it will stand.
    pub(crate) fn place(&self, to: &Path) -> PathBuf {
        to.join(&self.kit).join(&self.revision)
    }
}

/// Freezes the kits of one spec, all or none. The places must be free.
pub(crate) fn freeze(to: &Path, parcels: &[Parcel]) -> Result<(), Trouble> {
    let Some(first) = parcels.first() else { return Ok(()) };
    for parcel in parcels {
        assert!(is_name(&parcel.kit) && is_name(&parcel.revision), "no names of folders");
        assert!(parcel.files.iter().all(|file| is_plain(&file.path)), "a path leads out");
    }
    let alone = parcels.len() == 1;
    let home = if alone { to.join(&first.kit) } else { to.join(TOGETHER).join(&first.kit) };
    let place = home.join(&first.revision);
    let denied = |error: io::Error| unwritable(&place, &error);
    let mut built = Beside { home: home.clone(), folder: None, links: Vec::new(), done: false };
    let folder = built.claim(to, &first.revision).map_err(denied)?;
    let written = match parcels {
        [only] => write(&folder, &only.files),
        several => {
            several.iter().try_for_each(|parcel| write(&folder.join(&parcel.kit), &parcel.files))
        }
    };
    written.and_then(|()| harden(&folder)).map_err(denied)?;
    if !alone {
        parcels.iter().try_for_each(|parcel| built.link(to, parcel, first)).map_err(denied)?;
    }
    sync_folder(&home).and_then(|()| sync_folder(to)).map_err(denied)?;
    fs::rename(&folder, &place).map_err(denied)?;
    built.done = true;
    // The revision is in its place; what is left is to hear that the disk knows of it.
    sync_folder(&home).map_err(|error| unsettled(&place, &error))
}

/// What was made for a release that is not in its place yet; taken away again unless `done`.
struct Beside {
    /// The folder in which the revision will stand.
    home: PathBuf,
    /// The folder it is written to.
    folder: Option<PathBuf>,
    /// Links made to where it will stand.
    links: Vec<PathBuf>,
    done: bool,
}

impl Beside {
    /// Makes the folder it is written to, under the first name that nobody has taken.
    fn claim(&mut self, to: &Path, revision: &str) -> io::Result<PathBuf> {
        fs::create_dir_all(&self.home)?;
        if let Some(above) = self.home.parent().filter(|above| *above != to) {
            sync_folder(above)?;
        }
        for number in 0..u32::MAX {
            let folder = self.home.join(staging_name(revision, number));
            match fs::create_dir(&folder) {
                Ok(()) => {
                    self.folder = Some(folder.clone());
                    return Ok(folder);
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(error),
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    /// Makes the name under which one kit of several will be found.
    fn link(&mut self, to: &Path, parcel: &Parcel, first: &Parcel) -> io::Result<()> {
        let home = to.join(&parcel.kit);
        fs::create_dir_all(&home)?;
        let below = [TOGETHER, &first.kit, &first.revision, &parcel.kit];
        let target: PathBuf = std::iter::once("..").chain(below).collect();
        let link = home.join(&parcel.revision);
        match make_link(&target, &link) {
            Ok(()) => self.links.push(link),
            Err(error) => {
                remove_if_empty(&home);
                return Err(error);
            }
        }
        sync_folder(&home)
    }
}

impl Drop for Beside {
    fn drop(&mut self) {
        if self.done {
            return;
        }
        for link in &self.links {
            clear_link(link);
            link.parent().into_iter().for_each(remove_if_empty);
        }
        if let Some(folder) = &self.folder {
            clear(folder);
        }
        remove_if_empty(&self.home);
        let set = self.home.parent().filter(|above| above.ends_with(TOGETHER));
        set.into_iter().for_each(remove_if_empty);
    }
}

/// Writes files to a new folder and waits until their contents are on disk.
fn write(folder: &Path, files: &[OutFile]) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    for out in files {
        let path = folder.join(&out.path);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        let mut file = File::create_new(path)?;
        file.write_all(&out.bytes)?;
        forbid_writing(&file)?;
    }
    sync(folder, files)
}

/// Forbids to write to a folder and all folders in it, and waits until their names are on disk.
fn harden(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            harden(&entry.path())?;
        }
    }
    if cfg!(unix) {
        forbid_writing(&File::open(folder)?)?;
    }
    sync_folder(folder)
}

fn forbid_writing(file: &File) -> io::Result<()> {
    let mut permissions = file.metadata()?.permissions();
    permissions.set_readonly(true);
    file.set_permissions(permissions)
}

/// Waits until the names in a folder are on disk; not every system can be asked.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

#[cfg(unix)]
fn make_link(target: &Path, link: &Path) -> io::Result<()> {
    std::os::unix::fs::symlink(target, link)
}

#[cfg(not(unix))]
fn make_link(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::Error::other("several kits are released at once only where folders can be links"))
}

/// Whether this is one plain name.
fn is_name(name: &str) -> bool {
    is_plain(name) && !name.contains('/')
}

fn unsettled(place: &Path, error: &io::Error) -> Trouble {
    let message =
        format!("{} is released, but the disk did not confirm it: {error}", place.display());
    Trouble::world("release.unconfirmed", message).help("verify it")
}

/// What stands at a place where a revision is meant to be frozen.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Stands {
    /// Nothing.
    Nothing,
    /// A released revision with this manifest.
    Release(Vec<u8>),
    /// Something else.
    Other,
}

/// Looks at a place.
pub(crate) fn stands(place: &Path) -> Result<Stands, Trouble> {
    if !exists(place).map_err(|e| unwritable(place, &e))? {
        return Ok(Stands::Nothing);
    }
    let manifest = place.join(crate::release::MANIFEST);
    Ok(fs::read(manifest).map_or(Stands::Other, Stands::Release))
}

/// Whether `draw` wrote a kit here: its folder cannot hold releases too.
pub(crate) fn is_drawn(folder: &Path) -> bool {
    folder.join("kit.json").exists()
}
