//! All variants of a catalogue, each written as soon as it is made; only numbers of it are kept.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;

use super::member::{Done, Fate, Shelves, bring};
use super::shares::{Given, lacking};
use super::tables;
use super::told::Told;
use crate::cli::args::Share;
use crate::cli::batch::{Outcome, STACK, guarded};
use crate::cli::exit::{Exit, Trouble};
use crate::cli::remark::{Remark, remarks};
use crate::cli::store::{Data, SharedFiles};
use crate::note::{Finding, Notes};
use crate::pipeline::{Series, Source};
use crate::release::{Made, PartRow, Use};
use crate::spec::Catalogue;

/// Folder of the kits in a catalogue's folder.
pub(super) const KITS: &str = "kits";

/// Folder of the parts.
pub(super) const PARTS: &str = "parts";

/// Folder with the reasons for refusing variants.
pub(super) const REFUSED: &str = ".refused";

/// A catalogue that is to be made.
pub(super) struct Job<'a> {
    pub(super) catalogue: &'a Catalogue<'a>,
    pub(super) series: &'a Series<'a>,
    pub(super) source: &'a Source,
    pub(super) data: &'a Data,
    /// Where it goes; nowhere when it is only checked.
    pub(super) folder: Option<&'a Path>,
    /// Folders of shares to take variants from.
    pub(super) merged: &'a [PathBuf],
    pub(super) share: Option<Share>,
    /// Whether no other run can write to the folder meanwhile.
    pub(super) alone: bool,
}

/// What is kept of one variant.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) index: usize,
    pub(super) fate: Fate,
    /// How much was said of it.
    pub(super) said: usize,
    pub(super) uses: Vec<Use>,
}

/// What is collected from all threads.
#[derive(Debug, Default)]
pub(super) struct Collected {
    pub(super) told: Told,
    /// Parts by what makes them the same.
    identities: BTreeMap<String, usize>,
    pub(super) parts: Vec<PartRow>,
    pub(super) endings: Vec<String>,
    troubles: BTreeMap<&'static str, (usize, Finding)>,
    worst: Option<Exit>,
}

impl Job<'_> {
    /// Brings every variant to its place, then writes the tables.
    pub(super) fn run(
        &self,
        (jobs, given): (usize, &[Given]),
    ) -> Result<(Outcome, Summary), Trouble> {
        let builder = rayon::ThreadPoolBuilder::new().num_threads(jobs).stack_size(STACK);
        let pool = builder.build().map_err(|error| {
            let message = format!("{jobs} threads could not be started: {error}");
            Trouble::world("batch.no-threads", message).help("ask for fewer with --jobs")
        })?;
        let collected = Mutex::new(Collected::default());
        let own = SharedFiles::of(self.folder.unwrap_or(Path::new("")));
        let merged: Vec<SharedFiles> =
            self.merged.iter().map(|folder| SharedFiles::of(folder)).collect();
        let shelves = Shelves { own: &own, merged: &merged };
        let mine = |index: &usize| self.share.is_none_or(|share| index % share.of == share.one - 1);
        let indices: Vec<usize> = (0..self.catalogue.len()).filter(mine).collect();
        let progress = progress(indices.len());
        let rows: Vec<Option<Row>> = pool.install(|| {
            let work = |index| {
                let row = self.one(index, &shelves, &collected);
                progress.inc(1);
                row
            };
            indices.into_par_iter().map(work).collect()
        });
        progress.finish_and_clear();
        let rows: Vec<Row> = rows.into_iter().flatten().collect();
        let collected = collected.into_inner().unwrap_or_else(PoisonError::into_inner);
        Ok(self.finish(&rows, (collected, given)))
    }

    /// One variant; a panic, and a trouble with files, becomes a finding.
    fn one(&self, index: usize, shelves: &Shelves, collected: &Mutex<Collected>) -> Option<Row> {
        let variant = self.catalogue.variant(index);
        let mut row = None;
        let outcome = guarded(&self.source.name, || match bring(self, &variant, shelves) {
            Ok(done) => {
                let mut all = collected.lock().unwrap_or_else(PoisonError::into_inner);
                row = Some(all.take(index, &variant.number, done));
                Outcome::unmade(String::new(), Exit::Done)
            }
            Err(trouble) => Outcome::trouble(String::new(), trouble),
        });
        let mut all = collected.lock().unwrap_or_else(PoisonError::into_inner);
        for remark in outcome.remarks {
            all.worst = all.worst.max(Some(outcome.exit));
            let kept = all.troubles.entry(remark.finding.check);
            let kept = kept.or_insert_with(|| (index, remark.finding.clone()));
            if index < kept.0 {
                *kept = (index, remark.finding);
            }
        }
        row
    }

    /// Tables and summary.
    fn finish(
        &self,
        rows: &[Row],
        (mut collected, given): (Collected, &[Given]),
    ) -> (Outcome, Summary) {
        let count = |fate| rows.iter().filter(|row| row.fate == fate).count();
        let mut summary = Summary {
            number: self.catalogue.number.clone(),
            variants: rows.len(),
            made: count(Fate::Made),
            unchanged: count(Fate::Unchanged),
            copied: count(Fate::Copied),
            refused: count(Fate::Refused),
            folder: self.folder.map(Path::to_path_buf),
            sentence: String::new(),
        };
        let mut notes = std::mem::take(&mut collected.told).findings();
        lacking(given, summary.made).into_iter().for_each(|finding| notes.add(finding));
        let mut exit = collected.worst.unwrap_or(Exit::Done);
        if notes.has_errors() {
            exit = exit.max(Exit::Refused);
        }
        for (_, finding) in std::mem::take(&mut collected.troubles).into_values() {
            notes.add(finding);
        }
        if exit < Exit::World {
            let (sentence, tables) = self.tables(rows, &collected, &mut notes);
            summary.sentence = sentence;
            exit = exit.max(tables);
        }
        let remarks: Vec<Remark> = remarks(&notes, |file| {
            let mut texts = std::iter::once(self.source).chain(self.data.texts());
            texts.find(|text| text.name == file).map(|text| text.bytes.as_slice())
        });
        let kit = Some(self.catalogue.number.clone());
        let outcome = Outcome { kit, remarks, ..Outcome::unmade(self.source.name.clone(), exit) };
        (outcome, summary)
    }

    /// Writes the tables where there is a place for them: what is common in a sentence, and what
    /// became of it.
    fn tables(&self, rows: &[Row], collected: &Collected, notes: &mut Notes) -> (String, Exit) {
        let Some(folder) = self.folder else { return (String::new(), Exit::Done) };
        match tables::write(self, folder, rows, collected) {
            Ok((sentence, found)) => {
                found.all().iter().for_each(|finding| notes.add(finding.clone()));
                (sentence, if found.has_errors() { Exit::Refused } else { Exit::Done })
            }
            Err(trouble) => {
                notes.add(*trouble.finding);
                (String::new(), trouble.exit)
            }
        }
    }
}

impl Collected {
    /// Keeps of a variant what the tables need.
    fn take(&mut self, index: usize, number: &str, done: Done) -> Row {
        self.told.add(index, number, &done.notes);
        let uses = done.made.as_ref().map_or_else(Vec::new, |made| self.uses(number, made));
        Row { index, fate: done.fate, said: done.notes.len(), uses }
    }

    fn uses(&mut self, number: &str, made: &Made) -> Vec<Use> {
        let mut uses = Vec::new();
        for part in &made.parts {
            let next = self.parts.len();
            let index = *self.identities.entry(part.identity.clone()).or_insert(next);
            if index == next {
                self.parts.push(PartRow {
                    number: part.number.clone(),
                    title: part.title.clone(),
                    sheet: part.sheet.clone(),
                });
            }
            let ending = part.in_kit.strip_prefix(number).unwrap_or(&part.in_kit);
            let ending = ending.trim_start_matches('-');
            let known = self.endings.iter().position(|known| known == ending);
            let ending = known.unwrap_or_else(|| {
                self.endings.push(ending.to_owned());
                self.endings.len() - 1
            });
            uses.push(Use { part: index, quantity: part.quantity, ending });
        }
        uses
    }
}

fn progress(variants: usize) -> ProgressBar {
    let style = ProgressStyle::with_template("{bar:40} {pos} of {len} variants");
    let bar = ProgressBar::new(variants as u64);
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar
}

/// What became of a catalogue.
#[derive(Debug)]
pub(super) struct Summary {
    number: String,
    variants: usize,
    made: usize,
    unchanged: usize,
    copied: usize,
    refused: usize,
    folder: Option<PathBuf>,
    sentence: String,
}

impl Summary {
    /// One or two lines for people.
    pub(super) fn lines(&self) -> String {
        let mut line = format!("{}: {} variants, {} drawn", self.number, self.variants, self.made);
        for (count, word) in [
            (self.unchanged, "unchanged"),
            (self.copied, "taken from shares"),
            (self.refused, "refused"),
        ] {
            if count > 0 {
                // Writing to a string cannot fail.
                let _ = write!(line, ", {count} {word}");
            }
        }
        if let Some(folder) = &self.folder {
            let _ = write!(line, ", in {}", folder.display());
        }
        line.push('\n');
        if !self.sentence.is_empty() {
            let _ = writeln!(line, "{}: {}", self.number, self.sentence);
        }
        line
    }
}
