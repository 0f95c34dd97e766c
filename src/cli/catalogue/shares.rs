//! Shares of a catalogue: where each is written, and whether one fits what it is put together with.

use std::path::{Path, PathBuf};

use super::run;
use crate::cli::args::Share;
use crate::cli::exit::Trouble;
use crate::cli::store;
use crate::note::Finding;
use crate::release::{RUN_NAME, RunRecord};

/// Where a catalogue, or a share of it, stands.
pub(super) fn folder(out: &Path, number: &str, share: Option<Share>) -> PathBuf {
    out.join(match share {
        None => number.to_owned(),
        Some(Share { one, of }) => {
            let width = of.to_string().len();
            format!("{number}{SHARE}{one:0width$}-of-{of}")
        }
    })
}

/// What follows a catalogue's number in the name of a share's folder.
const SHARE: &str = ".share-";

/// A share that is to be put together with others.
pub(super) struct Given {
    pub(super) folder: PathBuf,
    record: RunRecord,
}

/// The shares that paths mean, each of the same catalogue and made from the same as this run makes.
pub(super) fn given(paths: &[PathBuf], now: &RunRecord) -> Result<Vec<Given>, Trouble> {
    let mut all = Vec::new();
    for path in paths {
        let folders = folders(path, &now.catalogue);
        if folders.is_empty() {
            let message = format!("{} holds no share of {}", path.display(), now.catalogue);
            let help = "name the folders that `--share` wrote, or the folder that they stand in";
            return Err(Trouble::unusable("catalogue.no-share", message).help(help));
        }
        for folder in folders {
            let record = store::bytes_of(&folder.join(RUN_NAME));
            let record = record.and_then(|bytes| RunRecord::read(&bytes));
            let record = record.ok_or_else(|| unfit(&folder, "has no record of its making"))?;
            if let Some(why) = difference(&record, now) {
                return Err(unfit(&folder, &why));
            }
            all.push(Given { folder, record });
        }
    }
    Ok(all)
}

/// The folders of shares that a path means: itself, or those in it.
fn folders(given: &Path, number: &str) -> Vec<PathBuf> {
    let names = store::names_in(given);
    if names.iter().any(|name| name == run::KITS) {
        return vec![given.to_owned()];
    }
    let begins = format!("{number}{SHARE}");
    let meant = |name: &String| *name == number || name.starts_with(&begins);
    names.into_iter().filter(meant).map(|name| given.join(name)).collect()
}

fn unfit(folder: &Path, why: &str) -> Trouble {
    let message = format!("{} {why}; nothing was put together", folder.display());
    Trouble::unusable("catalogue.other-share", message)
        .help("draw that share again with what this run uses, or leave it out")
}

/// What a share was made from or with that is another here; none where it fits.
fn difference(share: &RunRecord, now: &RunRecord) -> Option<String> {
    let was = if share.catalogue != now.catalogue {
        format!("is of another catalogue, {}", share.catalogue)
    } else if share.program != now.program {
        let version = |record: &RunRecord| {
            let mut words = record.program.split(' ').map(|word| word.get(..12).unwrap_or(word));
            format!("{} {}", words.next().unwrap_or(""), words.next().unwrap_or(""))
        };
        let (one, other) = (version(share), version(now));
        format!("was drawn by another version of the program, {one}; this is {other}")
    } else if share.spec_sha256 != now.spec_sha256 {
        "was drawn from another text of the spec".to_owned()
    } else if share.data_sha256 != now.data_sha256 {
        "was drawn with other families, containers or shop data".to_owned()
    } else if share.wish != now.wish {
        format!("holds other files ({}) than are asked for ({})", share.wish, now.wish)
    } else {
        return None;
    };
    Some(was)
}

/// What is said when shares did not hold every variant: how many were drawn here, and which share
/// is to blame.
pub(super) fn lacking(given: &[Given], drawn: usize) -> Option<Finding> {
    if given.is_empty() || drawn == 0 {
        return None;
    }
    let counts = |one: &Given| one.record.share.map(|[_, of]| of);
    let of =
        given.first().and_then(counts).filter(|of| given.iter().all(|s| counts(s) == Some(*of)));
    let shown = |ones: Vec<usize>| ones.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    let mut why = String::new();
    if let Some(of) = of {
        let there = |one: &usize| given.iter().any(|s| s.record.share == Some([*one, of]));
        let missing: Vec<usize> = (1..=of).filter(|one| !there(one)).collect();
        let stopped = given.iter().filter(|s| !s.record.finished);
        let stopped: Vec<usize> =
            stopped.filter_map(|s| s.record.share.map(|[one, _]| one)).collect();
        if !missing.is_empty() {
            why += &format!("; missing of {of} shares: {}", shown(missing));
        }
        if !stopped.is_empty() {
            why += &format!("; not finished: {}", shown(stopped));
        }
    }
    let variants = if drawn == 1 { "1 variant is" } else { &format!("{drawn} variants are") };
    let message = format!("{variants} in none of the shares and had to be drawn here{why}");
    let help = "this run is whole; look why the shares are not";
    Some(Finding::warning("catalogue.shares", message).about("shares").help(help))
}
