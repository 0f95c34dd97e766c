//! The data kits are made from: families, containers, and the shop's own; from the user's folders,
//! or built in.

#![expect(clippy::disallowed_methods, reason = "the store is where files are read")]

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use include_dir::{Dir, include_dir};

use super::read::{read, unreadable};
use crate::cli::exit::Trouble;
use crate::pipeline::Source;

/// The folder `templates` as it was when the program was built.
static BUILT_IN: Dir = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Folder that is looked at when none is named.
const USUAL_FOLDER: &str = "templates";

/// All data texts, sorted by name within each set.
#[derive(Debug, Clone, PartialEq)]
pub struct Data {
    /// Kit families.
    pub families: Vec<Source>,
    /// Containers.
    pub containers: Vec<Source>,
    /// Materials, fasteners, and the shop's machines and rules.
    pub shop: Vec<Source>,
    /// Where the three come from, in this order.
    pub origins: [Origin; 3],
}

impl Data {
    /// All texts.
    pub fn texts(&self) -> impl Iterator<Item = &Source> {
        self.families.iter().chain(&self.containers).chain(&self.shop)
    }
}

/// Where a set of data comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// A folder of the user's.
    Folder(PathBuf),
    /// The program itself.
    BuiltIn,
}

/// Reads the data. Each set is taken whole from the first place that has it: for the shop the
/// folder `shop`, then the folder of that name in `templates`; for all the folder `templates`, or
/// `./templates` when none is named; then what is built in.
pub(crate) fn load(templates: Option<&Path>, shop: Option<&Path>) -> Result<Data, Trouble> {
    let named = templates.map(|folder| expect_folder(folder).map(|()| folder)).transpose()?;
    let root = named.or(usual_folder());
    let (families, families_from) = set(root, "", named.is_some())?;
    let (containers, containers_from) = set(root, "containers", false)?;
    let (shop, shop_from) = match shop {
        Some(folder) => {
            expect_folder(folder)?;
            (must_hold(folder, read_folder(folder)?)?, Origin::Folder(folder.to_owned()))
        }
        None => set(root, "shop", false)?,
    };
    Ok(Data { families, containers, shop, origins: [families_from, containers_from, shop_from] })
}

/// `./templates`, when it looks like this program's: many things are called templates.
fn usual_folder<'a>() -> Option<&'a Path> {
    let usual = Path::new(USUAL_FOLDER);
    ["containers", "shop"].iter().any(|set| usual.join(set).is_dir()).then_some(usual)
}

/// One set from the user's folder when that has it, else what is built in.
fn set(root: Option<&Path>, name: &str, must: bool) -> Result<(Vec<Source>, Origin), Trouble> {
    if let Some(root) = root {
        let folder = if name.is_empty() { root.to_owned() } else { root.join(name) };
        let sources = if folder.is_dir() { read_folder(&folder)? } else { Vec::new() };
        let sets_are_here = ["containers", "shop"].iter().any(|set| root.join(set).is_dir());
        if must && !sets_are_here {
            return Ok((must_hold(&folder, sources)?, Origin::Folder(folder)));
        }
        if !sources.is_empty() {
            return Ok((sources, Origin::Folder(folder)));
        }
    }
    Ok((built_in(name), Origin::BuiltIn))
}

fn expect_folder(path: &Path) -> Result<(), Trouble> {
    let kind = fs::metadata(path).map_err(|e| unreadable(path, &e))?;
    if kind.is_dir() {
        return Ok(());
    }
    let message = format!("{} is a file where a folder is meant", path.display());
    Err(Trouble::unusable("file.is-file", message).help("name the folder that holds it"))
}

fn must_hold(folder: &Path, sources: Vec<Source>) -> Result<Vec<Source>, Trouble> {
    if !sources.is_empty() {
        return Ok(sources);
    }
    let message = format!("no *.toml is in the folder {}", folder.display());
    Err(Trouble::unusable("file.no-data", message)
        .help("leave the option out to use built-in data"))
}

/// All `*.toml` directly in a folder, sorted by name, hidden ones left out.
fn read_folder(folder: &Path) -> Result<Vec<Source>, Trouble> {
    let listing = fs::read_dir(folder).and_then(|entries| entries.collect::<Result<Vec<_>, _>>());
    let entries = listing.map_err(|e| unreadable(folder, &e))?;
    let mut paths: Vec<PathBuf> = entries.iter().map(fs::DirEntry::path).collect();
    paths.retain(|path| is_data(path) && !path.is_dir());
    paths.sort();
    paths.iter().map(|path| read(path)).collect()
}

/// The built-in set: the files directly in that folder.
fn built_in(name: &str) -> Vec<Source> {
    let folder = if name.is_empty() { Some(&BUILT_IN) } else { BUILT_IN.get_dir(name) };
    let files = folder.into_iter().flat_map(Dir::files).filter(|file| is_data(file.path()));
    let mut sources: Vec<Source> = files
        .map(|file| Source {
            name: format!("built-in/{}", file.path().display()),
            bytes: file.contents().to_vec(),
        })
        .collect();
    sources.sort_by(|a, b| a.name.cmp(&b.name));
    sources
}

fn is_data(path: &Path) -> bool {
    let hidden = path.file_name().is_none_or(|name| name.as_encoded_bytes().starts_with(b"."));
    !hidden && path.extension() == Some(OsStr::new("toml"))
}
