//! A kit to compare with or to follow, from a path: a spec that is worked out, a kit's own file, a
//! drawn or released kit's folder, or a folder of such folders.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::batch::{Build, Outcome, Spec, Task};
use super::exit::{Exit, Trouble};
use super::remark::remarks;
use super::store::{self, Data};
use crate::note::{Finding, Notes};
use crate::pipeline::{Earlier, FileKind, Only, OutFile, Source, Trial, Want};
use crate::spec::{previous, read_text};

/// Specs that name the spec before them are followed this far back.
const MOST_BACK: usize = 40;

/// What specs are worked out with.
pub(crate) type With<'a> = (&'a Data, &'a Build<'a>);

/// Every kit at a path; else what is to be told about it.
pub(crate) fn kits_at(path: &Path, with: With) -> Result<Vec<Earlier>, Box<Outcome>> {
    kits_back(path, with, MOST_BACK)
}

fn kits_back(path: &Path, with: With, back: usize) -> Result<Vec<Earlier>, Box<Outcome>> {
    let name = path.to_string_lossy().into_owned();
    let in_trouble = |trouble| Box::new(Outcome::trouble(name.clone(), trouble));
    if path.extension() == Some(OsStr::new("toml")) {
        return from_spec(path, &name, with, back);
    }
    let files = store::kit_files(path).map_err(in_trouble)?;
    let read = |file: &OutFile| match Earlier::of_bytes(&file.bytes) {
        Ok(kit) => Ok(kit),
        Err(why) => {
            let trouble = Trouble::unusable("compare.read", format!("{} {why}", file.path));
            Err(in_trouble(trouble.help("draw the kit again with this program")))
        }
    };
    let kits = files.iter().map(read).collect::<Result<Vec<_>, _>>()?;
    if kits.is_empty() {
        let message = format!("{name} holds no kit.json, nor does a folder in it");
        return Err(in_trouble(Trouble::unusable("compare.no-kit", message).help(named(path))));
    }
    for (at, kit) in kits.iter().enumerate() {
        if let Some(twin) = kits[..at].iter().position(|it| it.kit.number() == kit.kit.number()) {
            let both = format!("{} and {}", files[twin].path, files[at].path);
            let message = format!("{name} holds {} twice: {both}", kit.kit.number());
            return Err(in_trouble(
                Trouble::unusable("compare.twice", message).help("name the folder of one of them"),
            ));
        }
    }
    Ok(kits)
}

/// What to name in the place of a path that holds no kit: one of its releases, if it holds any.
fn named(path: &Path) -> String {
    let found = store::find_releases(path).map_or_else(|_| Vec::new(), |found| found.releases);
    match found.last() {
        Some(last) => format!("name one revision, such as {}", last.folder.display()),
        None => "name a spec, or a folder that `draw` or `release` wrote".to_owned(),
    }
}

/// The kits at a path and those that were released together with one that stands there.
fn with_mates(path: &Path, with: With, back: usize) -> Result<Vec<Earlier>, Box<Outcome>> {
    let mut kits = kits_back(path, with, back)?;
    let mates = store::released_beside(path);
    kits.extend(mates.iter().filter_map(|file| Earlier::of_bytes(&file.bytes).ok()));
    Ok(kits)
}

/// Works a spec's kits out; their findings are told only where they keep them from being compared.
fn from_spec(
    path: &Path,
    name: &str,
    (data, build): With,
    back: usize,
) -> Result<Vec<Earlier>, Box<Outcome>> {
    let in_trouble = |trouble| Box::new(Outcome::trouble(name.to_owned(), trouble));
    let source = store::read(path).map_err(in_trouble)?;
    let before = followed(&source, (data, build), back)?;
    let want = Want::Unproved(Only { kinds: vec![FileKind::Json], parts: Vec::new() });
    let mut first = build(&source, &want, &Trial { earlier: &before, ..Trial::none() });
    let others = std::mem::take(&mut first.others);
    let mut kits = Vec::new();
    for built in std::iter::once(first).chain(others) {
        let file = built.files.as_ref().and_then(|files| files.first());
        let Some(kit) = file.and_then(|file| Earlier::of_bytes(&file.bytes).ok()) else {
            let texts: Vec<_> = std::iter::once(&source).chain(data.texts()).collect();
            let remarks = remarks(&built.notes, |file| {
                texts.iter().find(|text| text.name == file).map(|text| text.bytes.as_slice())
            });
            let exit = Exit::of(&built.notes).max(Exit::Refused);
            return Err(Box::new(Outcome { remarks, ..Outcome::unmade(name.to_owned(), exit) }));
        };
        kits.push(kit);
    }
    Ok(kits)
}

/// The kits that a spec names as those before its own; none where it names none.
fn followed(source: &Source, with: With, back: usize) -> Result<Vec<Earlier>, Box<Outcome>> {
    let mut notes = Notes::default();
    let text = read_text(&source.name, &source.bytes, &mut notes);
    let Some((said, span)) = text.and_then(|text| previous(&source.name, text)) else {
        return Ok(Vec::new());
    };
    let beside = Path::new(&source.name).parent().unwrap_or(Path::new(""));
    let path = beside.join(&said);
    let at = Some(crate::note::Place { file: Arc::from(source.name.as_str()), span });
    if back == 0 {
        let message = "the revisions before this one lead round in a circle, or too far back";
        let finding = Finding::error("spec.previous", message).at(at);
        return Err(told(source, finding.help("name the folder of the released revision")));
    }
    with_mates(&path, with, back - 1).map_err(|outcome| {
        let why = outcome.remarks.first().map_or("", |remark| remark.finding.message.as_str());
        let message = format!("the revision before this one cannot be read: {why}");
        told(source, Finding::error("spec.previous", message).about("previous").at(at))
    })
}

/// An outcome with one finding in a spec's own text.
fn told(source: &Source, finding: Finding) -> Box<Outcome> {
    let mut notes = Notes::default();
    notes.add(finding);
    let remarks = remarks(&notes, |_| Some(source.bytes.as_slice()));
    Box::new(Outcome { remarks, ..Outcome::unmade(source.name.clone(), Exit::Unusable) })
}

/// Gives every spec the kits that its own follow: those at `since` where that is given, else those
/// that it names itself. A spec whose earlier kits cannot be read is not made.
pub(crate) fn attach(tasks: Vec<Task>, since: Option<&PathBuf>, with: With) -> Vec<Task> {
    let at = |path: &PathBuf| with_mates(path, with, MOST_BACK);
    let shared = since.map(|path| at(path).map(Arc::<[Earlier]>::from));
    let earlier = |spec: &Spec| match &shared {
        Some(kits) => kits.clone(),
        None => followed(&spec.source, with, MOST_BACK).map(Arc::from),
    };
    let given = |task: Task| {
        let spec = task?;
        let earlier = earlier(&spec)?;
        Ok(Spec { earlier, ..spec })
    };
    tasks.into_iter().map(given).collect()
}
