//! Making a release again from its recorded inputs.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::Prepare;
use super::batch::share;
use super::parcel::{Recipe, parcels};
use super::store::{self, Data, Origin};
use crate::note::{Finding, Notes, Severity};
use crate::pipeline::{Built, Earlier, Only, OutFile, Source, Trial, Want};
use crate::release::{MANIFEST, Program, Recorded, RecordedInput, SEAL, sha256};

/// Role of the revision before among the inputs.
const PREVIOUS: &str = "previous";

/// Makes a release again and compares every byte with what was recorded; its files must have been
/// found whole. Says whether all bytes are the same.
pub(crate) fn rebuild(
    folder: &Path,
    recorded: &Recorded,
    prepare: &Prepare,
    notes: &mut Notes,
) -> bool {
    let mut differs = Notes::default();
    match make(folder, recorded, prepare) {
        Ok(files) => compare(folder, recorded, &files, &mut differs),
        Err(finding) => differs.add(*finding),
    }
    let same = !differs.has_errors();
    if recorded.program != Program::running() {
        notes.add(other_program(&recorded.program, same));
    }
    differs.all().iter().for_each(|finding| notes.add(finding.clone()));
    same
}

/// Says that another program made the release than the one that makes it again.
fn other_program(then: &Program, same: bool) -> Finding {
    let now = Program::running();
    let check = if then.version == now.version { "verify.build" } else { "verify.version" };
    let both = format!(
        "it was made by {} of this program, and is made again by {}",
        then.named(),
        now.named()
    );
    if same {
        let message = format!("{both}: all bytes come out the same");
        return Finding::warning(check, message)
            .help("nothing is to be done: it can be made again");
    }
    let message = format!("{both}: the likely cause of what comes out otherwise");
    Finding::warning(check, message).help(format!("make it again with {}", then.named()))
}

/// The files that come of the recorded inputs.
fn make(
    folder: &Path,
    recorded: &Recorded,
    prepare: &Prepare,
) -> Result<Vec<OutFile>, Box<Finding>> {
    let (spec, data) = recall(folder, recorded)?;
    let earlier = followed(folder, recorded)?;
    let mut notes = Notes::default();
    let build = prepare(&data, &mut notes).ok_or_else(|| first_error(&notes))?;
    let trial = Trial { builds: recorded.builds, share: &share, earlier: &earlier };
    let mut built = build(&spec, &Want::Files(Only::default()), &trial);
    let others = std::mem::take(&mut built.others);
    let all: Vec<Built> = std::iter::once(built).chain(others).collect();
    if let Some(refused) = all.iter().find(|built| built.notes.has_errors()) {
        return Err(first_error(&refused.notes));
    }
    // The manifest that comes out names the program that was recorded: what differs is then what
    // the running one makes, and not its name.
    let (builds, program) = (recorded.builds, &recorded.program);
    let recipe = Recipe { spec: &spec, data: &data, builds, earlier: &earlier, program };
    let made = parcels(&recipe, &all).map_err(|trouble| trouble.finding)?;
    let own = made.into_iter().find(|parcel| parcel.kit == recorded.kit);
    own.map(|parcel| parcel.files).ok_or_else(|| {
        let message = format!("its spec makes no kit {}", recorded.kit);
        Box::new(Finding::error("verify.rebuild", message))
    })
}

/// The recorded spec and data texts, in their order.
fn recall(folder: &Path, recorded: &Recorded) -> Result<(Source, Data), Box<Finding>> {
    let mut spec = None;
    let (mut families, mut containers, mut shop) = (Vec::new(), Vec::new(), Vec::new());
    let mut origins: [Origin; 3] = std::array::from_fn(|_| Origin::BuiltIn);
    for input in &recorded.inputs {
        let source = one_input(folder, input)?;
        let (set, at) = match input.role.as_str() {
            "spec" => {
                spec = Some(source);
                continue;
            }
            "template" => (&mut families, 0),
            "container" => (&mut containers, 1),
            PREVIOUS => continue,
            _ => (&mut shop, 2),
        };
        set.push(source);
        if !input.built_in {
            origins[at] = Origin::Folder(PathBuf::new());
        }
    }
    let spec = spec.ok_or_else(|| {
        Box::new(Finding::error("verify.rebuild", "the manifest names no spec among the inputs"))
    })?;
    Ok((spec, Data { families, containers, shop, origins }))
}

/// What a kit says of the revision before its own.
#[derive(Deserialize)]
struct Following {
    previous: Option<Before>,
}

#[derive(Deserialize)]
struct Before {
    revision: String,
    kit_sha256: String,
}

/// The kits of the revision before, which the release followed.
fn followed(folder: &Path, recorded: &Recorded) -> Result<Vec<Earlier>, Box<Finding>> {
    let inputs = recorded.inputs.iter().filter(|input| input.role == PREVIOUS);
    let read = |input: &RecordedInput| {
        let files =
            store::kit_files(&folder.join(&input.path)).map_err(|trouble| trouble.finding)?;
        let bytes = files.first().map_or(&[][..], |file| &file.bytes);
        let kit = Earlier::of_bytes(bytes).ok();
        kit.filter(|kit| kit.sha256 == input.sha256).ok_or_else(|| not_recorded(input))
    };
    let kits = inputs.map(read).collect::<Result<Vec<_>, _>>()?;
    let own = store::read(&folder.join("kit.json")).map_err(|trouble| trouble.finding)?;
    let said = serde_json::from_slice::<Following>(&own.bytes).ok();
    match said.and_then(|said| said.previous) {
        Some(before) if !kits.iter().any(|kit| kit.sha256 == before.kit_sha256) => {
            let Before { revision, kit_sha256 } = before;
            let kit = &recorded.kit;
            let message = format!(
                "revision {revision} of {kit}, which it follows, is not among its inputs: its \
                 kit.json of SHA-256 {kit_sha256}"
            );
            Err(Box::new(
                Finding::error("verify.rebuild", message)
                    .about(kit.clone())
                    .help("fetch the release from a copy that is whole"),
            ))
        }
        _ => Ok(kits),
    }
}

fn not_recorded(input: &RecordedInput) -> Box<Finding> {
    let message = format!("{} is not the input that the manifest records", input.path);
    Box::new(Finding::error("verify.rebuild", message).about(&*input.path))
}

fn one_input(folder: &Path, input: &RecordedInput) -> Result<Source, Box<Finding>> {
    let Source { bytes, .. } =
        store::read(&folder.join(&input.path)).map_err(|trouble| trouble.finding)?;
    if sha256(&bytes) != input.sha256 {
        return Err(not_recorded(input));
    }
    // A set of data may hold files of one name with another: their places keep them apart.
    Ok(Source { name: input.name.clone(), bytes })
}

fn first_error(notes: &Notes) -> Box<Finding> {
    let error = notes.all().iter().find(|finding| finding.severity == Severity::Error);
    let said = error.map_or("no reason given", |finding| &finding.message);
    let message = format!("nothing can be made of the recorded inputs: {said}");
    Box::new(Finding::error("verify.rebuild", message))
}

/// Holds what was made against what was recorded.
fn compare(folder: &Path, recorded: &Recorded, files: &[OutFile], notes: &mut Notes) {
    let made: BTreeMap<&str, String> =
        files.iter().map(|file| (file.path.as_str(), sha256(&file.bytes))).collect();
    let listed = recorded.files.iter().map(|file| (file.path.as_str(), file.sha256.clone()));
    let own = [MANIFEST, SEAL].map(|name| (name, store::digest(&folder.join(name))));
    let own = own.into_iter().filter_map(|(name, digest)| Some((name, digest?)));
    let released: BTreeMap<&str, String> = listed.chain(own).collect();
    let help = if recorded.program == Program::running() {
        "this program made it: an input was changed together with the manifest; fetch the release \
         from a copy that is whole"
            .to_owned()
    } else {
        format!("make it again with {}, which made it", recorded.program.named())
    };
    let both = released.keys().chain(made.keys()).collect::<std::collections::BTreeSet<_>>();
    for path in both {
        let said = match (released.get(path), made.get(path)) {
            (Some(then), Some(now)) if then == now => continue,
            (Some(_), Some(_)) => "comes out in other bytes",
            (Some(_), None) => "does not come out",
            _ => "comes out besides",
        };
        let message = format!("made again from the recorded inputs, {path} {said}");
        notes.add(Finding::error("verify.rebuild", message).about(*path).help(help.clone()));
    }
}
