//! The command `prove`: from kits' folders to what the proof says of them.

use std::path::Path;

use super::args::{Arguments, Format, ProveArguments};
use super::ask::about_data;
use super::batch::{Outcome, guarded, hush_caught_panics};
use super::catalogue::{prove_all, record_of};
use super::exit::{Exit, Trouble};
use super::make::as_json;
use super::parcel::INPUTS;
use super::remark::remarks;
use super::{Console, plain, report, store};
use crate::note::Notes;
use crate::pipeline::{OutFile, Source, Stock};
use crate::prove::{Found, Proof, Scope, prove as prove_files, prove_sheets};
use crate::reading::{is_kit_file, is_sheets_file};
use crate::release::{MANIFEST, SEAL};
use crate::shelf::Shelf;

/// Proves each folder; the worst counts.
pub(crate) fn prove(arguments: &Arguments, asked: &ProveArguments, console: &mut Console) -> Exit {
    let outcomes = outcomes(arguments, asked);
    match asked.format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => as_text(&outcomes, console),
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Done)
}

fn outcomes(arguments: &Arguments, asked: &ProveArguments) -> Vec<Outcome> {
    let data = match store::load(arguments.templates.as_deref(), arguments.shop.as_deref()) {
        Ok(data) => data,
        Err(trouble) => return vec![Outcome::trouble(String::new(), trouble)],
    };
    let mut notes = Notes::default();
    let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
    let stock = Stock::read(&[], &shelf, &mut notes);
    let mut outcomes: Vec<Outcome> = about_data(&data, &notes).into_iter().collect();
    let Some(stock) = stock else { return outcomes };
    hush_caught_panics();
    for folder in &asked.folders {
        let name = folder.to_string_lossy().into_owned();
        outcomes.push(match record_of(folder) {
            Some(record) => prove_all((folder, &record), &|kit, name| one(kit, name, &stock.shelf)),
            None => guarded(&name, || one(folder, &name, &stock.shelf)),
        });
    }
    outcomes
}

/// Proves one folder.
fn one(folder: &Path, name: &str, shelf: &Shelf) -> Outcome {
    let files: Vec<OutFile> = match store::read_kit(folder) {
        Ok(files) => kit_alone(files),
        Err(trouble) => return Outcome::trouble(name.to_owned(), trouble),
    };
    let found: Vec<Found> =
        files.iter().map(|file| Found { path: &file.path, bytes: &file.bytes }).collect();
    let holds = |path: &str, ours: fn(&[u8]) -> bool| {
        found.iter().any(|file| file.path == path && ours(file.bytes))
    };
    if !holds("kit.json", is_kit_file) {
        if holds("sheets.json", is_sheets_file) {
            return common(&found, name, shelf);
        }
        let message = format!("{name} is no kit's folder: it has no kit.json of this program");
        let trouble = Trouble::unusable("prove.no-kit", message);
        let help = "name a folder that `draw` or `sheets` wrote";
        return Outcome::trouble(name.to_owned(), trouble.help(help));
    }
    let proof = prove_files(&found, shelf, Scope::Folder);
    let exit = if proof.holds() { Exit::Done } else { Exit::Refused };
    let Proof { notes, kit, .. } = proof;
    Outcome { kit, remarks: remarks(&notes, |_| None), ..Outcome::unmade(name.to_owned(), exit) }
}

/// Proves a folder of common sheets.
fn common(found: &[Found], name: &str, shelf: &Shelf) -> Outcome {
    let (kits, notes) = prove_sheets(found, shelf);
    let exit = if notes.has_errors() { Exit::Refused } else { Exit::Done };
    let kit = kits.map(|kits| format!("sheets of {kits}"));
    Outcome { kit, remarks: remarks(&notes, |_| None), ..Outcome::unmade(name.to_owned(), exit) }
}

/// The files of the kit itself: a release holds its manifest and its inputs besides.
fn kit_alone(mut files: Vec<OutFile>) -> Vec<OutFile> {
    if files.iter().any(|file| file.path == MANIFEST) {
        let of_release = |path: &str| path == MANIFEST || path == SEAL || path.starts_with(INPUTS);
        files.retain(|file| !of_release(&file.path));
    }
    files
}

fn as_text(outcomes: &[Outcome], console: &mut Console) {
    for outcome in outcomes {
        let findings = report::findings(outcome, console.colour);
        console.tell(&findings);
    }
    let lines: String = outcomes.iter().filter_map(result).map(|line| line + "\n").collect();
    console.say(&lines);
}

/// One line on what became of a folder.
fn result(outcome: &Outcome) -> Option<String> {
    let kit = outcome.kit.as_ref()?;
    let words = if outcome.exit == Exit::Done { "proved" } else { "not proved" };
    Some(plain::line(&format!("{kit}: {words} in {}", outcome.file)))
}
