//! The command `watch`: draws again whenever a spec or the shop's data change.
//!
//! The system's notices only wake it; what changed is told by comparing contents, so that an editor
//! that writes twice, or by renaming, makes no difference.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};
use std::time::Duration;

use notify::{Event, RecommendedWatcher, RecursiveMode, Watcher};

use super::args::{Arguments, DrawArguments};
use super::batch::Outcome;
use super::exit::{Exit, Trouble};
use super::store::{self, Data};
use super::{Console, Prepare, make, report};

/// How long nothing more may happen before the change counts as whole: editors write in bursts.
const QUIET: Duration = Duration::from_millis(15);

/// Draws, then draws what changed, until the process is ended. Comes back only with trouble.
pub(crate) fn watch(
    arguments: &Arguments,
    draw: &DrawArguments,
    prepare: &Prepare,
    console: &mut Console,
) -> Exit {
    let (sender, notices) = mpsc::channel();
    // The watcher lives as long as this: without it no notice comes.
    let _watcher = match watcher(&folders(arguments, draw), sender) {
        Ok(watcher) => watcher,
        Err(trouble) => {
            let outcome = Outcome::trouble(String::new(), trouble);
            console.tell(&report::findings(&outcome, console.colour));
            return outcome.exit;
        }
    };
    let mut seen = Seen::now(arguments, draw);
    make::draw(arguments, draw, prepare, console);
    console.tell("watching for changes; end with Ctrl-C\n");
    while wait(&notices) {
        let now = Seen::now(arguments, draw);
        let changed = now.beside(&seen);
        seen = now;
        if changed.is_empty() {
            continue;
        }
        let mut again = draw.clone();
        again.check.specs = changed;
        make::draw(arguments, &again, prepare, console);
    }
    Exit::Done
}

/// Where notices come from: the folders of the specs and of the data, and whether what lies deeper
/// counts too.
fn folders(arguments: &Arguments, draw: &DrawArguments) -> Vec<(PathBuf, RecursiveMode)> {
    let of_spec = |path: &PathBuf| match path.parent() {
        _ if path.is_dir() => (path.clone(), RecursiveMode::Recursive),
        Some(parent) if !parent.as_os_str().is_empty() => {
            (parent.to_owned(), RecursiveMode::NonRecursive)
        }
        _ => (PathBuf::from("."), RecursiveMode::NonRecursive),
    };
    let usual = Path::new("templates");
    let usual = (arguments.templates.is_none() && usual.is_dir()).then(|| usual.to_owned());
    let data = [arguments.templates.clone(), arguments.shop.clone(), usual].into_iter().flatten();
    let specs = draw.check.specs.iter().map(of_spec);
    specs.chain(data.map(|folder| (folder, RecursiveMode::Recursive))).collect()
}

fn watcher(
    folders: &[(PathBuf, RecursiveMode)],
    sender: mpsc::Sender<notify::Result<Event>>,
) -> Result<RecommendedWatcher, Trouble> {
    let told = |what: &str, error: notify::Error| {
        Trouble::world("watch.refused", format!("{what} cannot be watched: {error}"))
    };
    let mut watcher =
        notify::recommended_watcher(sender).map_err(|error| told("no folder", error))?;
    for (folder, deep) in folders {
        let what = folder.display().to_string();
        watcher.watch(folder, *deep).map_err(|error| told(&what, error))?;
    }
    Ok(watcher)
}

/// Waits for something that may have changed a file, and until it has been quiet; false when no
/// more notices can come.
fn wait(notices: &Receiver<notify::Result<Event>>) -> bool {
    let changes = |notice: &notify::Result<Event>| {
        notice.as_ref().map_or(true, |event| !event.kind.is_access())
    };
    loop {
        match notices.recv() {
            Err(_) => return false,
            Ok(notice) if changes(&notice) => break,
            Ok(_) => {}
        }
    }
    while notices.recv_timeout(QUIET).is_ok() {}
    true
}

/// What the specs and the data said when they were last read.
struct Seen {
    specs: BTreeMap<PathBuf, Option<Vec<u8>>>,
    data: Option<Data>,
}

impl Seen {
    fn now(arguments: &Arguments, draw: &DrawArguments) -> Self {
        let specs = store::find_specs(&draw.check.specs).into_iter().map(|(path, _)| {
            let bytes = store::read(&path).ok().map(|source| source.bytes);
            (path, bytes)
        });
        let data = store::load(arguments.templates.as_deref(), arguments.shop.as_deref());
        Self { specs: specs.collect(), data: data.ok() }
    }

    /// The specs to be drawn again: those that are not as they were, or all when the data are not.
    fn beside(&self, before: &Self) -> Vec<PathBuf> {
        let same_data = self.data == before.data;
        let differs = |(path, bytes): &(&PathBuf, &Option<Vec<u8>>)| {
            bytes.is_some() && !(same_data && before.specs.get(*path) == Some(*bytes))
        };
        self.specs.iter().filter(differs).map(|(path, _)| path.clone()).collect()
    }
}
