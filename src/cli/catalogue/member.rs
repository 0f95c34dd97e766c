//! One variant: left as it is, copied from a share, or made.

use std::path::{Path, PathBuf};

use super::recall::{recalled, said};
use super::run::{Job, KITS, REFUSED};
use crate::cli::exit::Trouble;
use crate::cli::store::{self, SharedFiles};
use crate::note::Notes;
use crate::pipeline::{self, Member, OutFile, SharedPart};
use crate::release::{MADE_NAME, Made, MadeFile, MadePart, Refused, sha256};
use crate::spec::Variant;

/// What became of a variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    /// Its files stood there already.
    Unchanged,
    /// Its files came from a share.
    Copied,
    /// Its files were made, or would have been.
    Made,
    /// It has errors; it has no files.
    Refused,
}

/// One variant with what is kept of it.
#[derive(Debug)]
pub(super) struct Done {
    pub(super) fate: Fate,
    /// The errors and warnings.
    pub(super) notes: Notes,
    pub(super) made: Option<Made>,
}

/// The folders that a variant may be found in.
pub(super) struct Shelves<'a> {
    /// The catalogue's own shared files.
    pub(super) own: &'a SharedFiles<'a>,
    /// Those of each share that is put together.
    pub(super) merged: &'a [SharedFiles<'a>],
}

/// Brings one variant's files to their place, where there is one.
pub(super) fn bring(job: &Job, variant: &Variant, shelves: &Shelves) -> Result<Done, Trouble> {
    let Some(folder) = job.folder else { return Ok(checked(job, variant)) };
    let inputs = job.series.inputs_of(variant);
    if let Some(made) = standing(folder, variant, &inputs, shelves.own) {
        return Ok(kept(job, variant, Fate::Unchanged, made));
    }
    if let Some(refused) = refusal(folder, variant, &inputs) {
        return Ok(turned_down(job, variant, &refused));
    }
    for (share, files) in job.merged.iter().zip(shelves.merged) {
        if let Some(made) = standing(share, variant, &inputs, files)
            && copy([share, folder], variant, &made, shelves.own)?
        {
            return Ok(kept(job, variant, Fate::Copied, made));
        }
        if let Some(refused) = refusal(share, variant, &inputs) {
            store::put(&refusal_path(folder, &variant.number), &refused.bytes())?;
            return Ok(turned_down(job, variant, &refused));
        }
    }
    make(job, variant, (folder, inputs), shelves.own)
}

/// A variant whose files are there; what was said of it is said again.
fn kept(job: &Job, variant: &Variant, fate: Fate, made: Made) -> Done {
    Done { fate, notes: recalled(job, variant, &made.said), made: Some(made) }
}

/// A variant that is refused for the reasons that were kept.
fn turned_down(job: &Job, variant: &Variant, refused: &Refused) -> Done {
    Done { fate: Fate::Refused, notes: recalled(job, variant, &refused.said), made: None }
}

/// Where the reasons for refusing a variant are kept.
pub(super) fn refusal_path(folder: &Path, number: &str) -> PathBuf {
    folder.join(REFUSED).join(format!("{number}.json"))
}

/// Why a variant was refused, where that was found from the same inputs.
fn refusal(folder: &Path, variant: &Variant, inputs: &str) -> Option<Refused> {
    let record = store::bytes_of(&refusal_path(folder, &variant.number))?;
    Refused::read(&record).filter(|refused| refused.inputs == inputs)
}

/// A variant worked out, with nothing written.
fn checked(job: &Job, variant: &Variant) -> Done {
    let Member { notes, .. } = pipeline::checked(variant, job.series);
    let fate = if notes.has_errors() { Fate::Refused } else { Fate::Made };
    Done { fate, notes, made: None }
}

/// The record of a variant whose files are all as they were made, from the same inputs.
fn standing(folder: &Path, variant: &Variant, inputs: &str, shared: &SharedFiles) -> Option<Made> {
    let own = folder.join(KITS).join(&variant.number);
    let record = store::bytes_of(&own.join(MADE_NAME))?;
    let made = Made::read(&record)?;
    let is_whole = |file: &MadeFile| {
        store::bytes_of(&own.join(&file.path)).is_some_and(|bytes| sha256(&bytes) == file.sha256)
    };
    let mut parts = made.parts.iter().flat_map(|part| &part.files);
    let whole = made.inputs == inputs
        && made.bytes() == record
        && made.files.iter().all(is_whole)
        && parts.all(|file| shared.holds(&file.path, &file.sha256));
    whole.then_some(made)
}

/// Copies a variant from a share; false where a file changed meanwhile.
fn copy(
    [from, to]: [&Path; 2],
    variant: &Variant,
    made: &Made,
    shared: &SharedFiles,
) -> Result<bool, Trouble> {
    for file in made.parts.iter().flat_map(|part| &part.files) {
        if shared.holds(&file.path, &file.sha256) {
            continue;
        }
        match store::bytes_of(&from.join(&file.path)) {
            Some(bytes) if sha256(&bytes) == file.sha256 => {
                shared.put(&file.path, &bytes, &file.sha256)?;
            }
            _ => return Ok(false),
        }
    }
    let own = from.join(KITS).join(&variant.number);
    let mut files = Vec::new();
    for file in &made.files {
        match store::bytes_of(&own.join(&file.path)) {
            Some(bytes) if sha256(&bytes) == file.sha256 => {
                files.push(OutFile { path: file.path.clone(), bytes });
            }
            _ => return Ok(false),
        }
    }
    files.push(OutFile { path: MADE_NAME.to_owned(), bytes: made.bytes() });
    store::write(&to.join(KITS), &variant.number, &files)?;
    Ok(true)
}

/// Makes a variant. Its parts are written first: a kit's folder never names a part that is not
/// there.
fn make(
    job: &Job,
    variant: &Variant,
    (folder, inputs): (&Path, String),
    shared: &SharedFiles,
) -> Result<Done, Trouble> {
    let Member { notes, files, parts } = pipeline::member(variant, job.series);
    let said = said(job, variant, &notes);
    let Some(mut files) = files else {
        let refused = Refused::new(inputs, said);
        store::put(&refusal_path(folder, &variant.number), &refused.bytes())?;
        return Ok(turned_down(job, variant, &refused));
    };
    let mut rows = Vec::new();
    for part in parts {
        let row = made_part(&part);
        for (file, made) in part.files.iter().zip(&row.files) {
            shared.put(&file.path, &file.bytes, &made.sha256)?;
        }
        rows.push(row);
    }
    let own = files.iter().map(made_file).collect();
    let made = Made::new(inputs, own, rows, said);
    files.push(OutFile { path: MADE_NAME.to_owned(), bytes: made.bytes() });
    store::write(&folder.join(KITS), &variant.number, &files)?;
    Ok(kept(job, variant, Fate::Made, made))
}

fn made_file(file: &OutFile) -> MadeFile {
    MadeFile { path: file.path.clone(), sha256: sha256(&file.bytes) }
}

fn made_part(part: &SharedPart) -> MadePart {
    MadePart {
        number: part.number.clone(),
        in_kit: part.in_kit.clone(),
        title: part.title.clone(),
        quantity: part.quantity,
        sheet: part.sheet.clone(),
        identity: part.identity.clone(),
        files: part.files.iter().map(made_file).collect(),
    }
}
