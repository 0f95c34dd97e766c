//! The command `catalogue`: every variant of one spec, equal parts drawn once, only what changed
//! drawn again.

mod member;
mod proof;
mod recall;
mod run;
mod shares;
mod tables;
mod told;
mod whole;

use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::thread;

use super::args::{Arguments, CatalogueArguments, Format};
use super::ask::about_data;
use super::batch::{Outcome, hush_caught_panics};
use super::exit::{Exit, Trouble};
use super::make::{self, as_json};
use super::remark::remarks;
use super::store::{self, Data, Lock};
use super::{Console, plain, report};
use crate::note::Notes;
use crate::pipeline::{self, Inputs, Series, Source, Stock, Wish};
use crate::release::{RUN_NAME, RunRecord, sha256};
use crate::spec::{self, Catalogue, SweepTexts};
pub(super) use proof::{prove_all, record_of};
use run::{Job, Summary};

/// Draws a catalogue, a share of it, or puts shares together.
pub(crate) fn catalogue(
    arguments: &Arguments,
    asked: &CatalogueArguments,
    console: &mut Console,
) -> Exit {
    let data = match store::load(arguments.templates.as_deref(), arguments.shop.as_deref()) {
        Ok(data) => data,
        Err(trouble) => return tell(asked.format, vec![unplaced(trouble)], "", console),
    };
    let mut notes = Notes::default();
    let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
    let stock = Stock::read(&data.families, &shelf, &mut notes);
    let mut outcomes: Vec<Outcome> = about_data(&data, &notes).into_iter().collect();
    let Some(stock) = stock else { return tell(asked.format, outcomes, "", console) };
    let source = match store::read(&asked.spec) {
        Ok(source) => source,
        Err(trouble) => {
            outcomes.push(unplaced(trouble));
            return tell(asked.format, outcomes, "", console);
        }
    };
    let place = Place { asked: Some(asked), jobs: jobs(asked.jobs) };
    let made = place.made((&source, &data, &stock), console);
    outcomes.extend(made.outcomes);
    tell(asked.format, outcomes, &made.lines, console)
}

/// Works every variant of a catalogue out and writes nothing. `data` was read before, and found to
/// be whole.
pub(super) fn check(source: &Source, data: &Data, jobs: usize, console: &mut Console) -> Outcome {
    let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
    match Stock::read(&data.families, &shelf, &mut Notes::default()) {
        Some(stock) => {
            let made = Place { asked: None, jobs }.made((source, data, &stock), console);
            let unmade = || Outcome::unmade(source.name.clone(), Exit::Done);
            made.outcomes.into_iter().next().unwrap_or_else(unmade)
        }
        None => Outcome::unmade(source.name.clone(), Exit::Unusable),
    }
}

/// Whether a source is a catalogue with more variants than are worked out as kits of their own.
pub(super) fn is_large(source: &Source) -> bool {
    numbers(source).is_some_and(|numbers| pipeline::MOST_ALONE < numbers.len())
}

/// The kit numbers of a catalogue's variants; none where the source is none, or is not whole.
pub(super) fn numbers(source: &Source) -> Option<Vec<String>> {
    let text = std::str::from_utf8(&source.bytes).ok().filter(|text| spec::holds_variants(text))?;
    let texts = SweepTexts::default();
    let catalogue = Catalogue::read(&source.name, text, &texts, &mut Notes::default())?;
    Some((0..catalogue.len()).map(|index| catalogue.number_of(index)).collect())
}

fn jobs(asked: Option<u16>) -> usize {
    asked.map_or_else(|| thread::available_parallelism().map_or(1, NonZero::get), usize::from)
}

fn unplaced(trouble: Trouble) -> Outcome {
    Outcome::trouble(String::new(), trouble)
}

/// Where a catalogue goes; nowhere when it is only checked.
struct Place<'a> {
    asked: Option<&'a CatalogueArguments>,
    jobs: usize,
}

impl Place<'_> {
    fn made(
        &self,
        (source, data, stock): (&Source, &Data, &Stock),
        console: &mut Console,
    ) -> Answer {
        let mut notes = Notes::default();
        let text = spec::read_text(&source.name, &source.bytes, &mut notes);
        let texts = SweepTexts::default();
        let catalogue = text.and_then(|text| {
            if spec::holds_variants(text) || notes.has_errors() {
                pipeline::open(&source.name, text, (&texts, stock), &mut notes)
            } else {
                notes.add(told::no_variants(&source.name));
                None
            }
        });
        let Some(catalogue) = catalogue else {
            let remarks = remarks(&notes, |_| Some(&source.bytes));
            let exit = Exit::of(&notes);
            return Answer::of(Outcome { remarks, ..Outcome::unmade(source.name.clone(), exit) });
        };
        let shelf: Vec<&Source> = data.shop.iter().chain(&data.containers).collect();
        let inputs = Inputs { program: PROGRAM, families: &data.families, shelf: shelf.as_slice() };
        let wish = self.asked.map_or_else(Wish::default, CatalogueArguments::wish);
        let series = Series::of(&catalogue, stock, &inputs, wish);
        hush_caught_panics();
        let made = match self.asked.filter(|asked| !asked.kits.is_empty()) {
            Some(asked) => self.whole(asked, (&catalogue, &series), (source, data), console),
            None => self.run((&catalogue, &series), (source, data, &inputs), console),
        };
        made.unwrap_or_else(|trouble| Answer::of(Outcome::trouble(source.name.clone(), trouble)))
    }

    /// Draws single kits whole.
    fn whole(
        &self,
        asked: &CatalogueArguments,
        (catalogue, series): (&Catalogue, &Series),
        (source, data): (&Source, &Data),
        console: &mut Console,
    ) -> Result<Answer, Trouble> {
        let _lock = make::lock(&asked.out, console)?;
        let wanted = (asked.kits.as_slice(), asked.out.as_path());
        let outcomes = whole::draw((catalogue, series), (source, data), wanted, self.jobs)?;
        let lines = outcomes.iter().map(|outcome| report::result(outcome) + "\n").collect();
        Ok(Answer { outcomes, lines })
    }

    fn run(
        &self,
        (catalogue, series): (&Catalogue, &Series),
        (source, data, inputs): (&Source, &Data, &Inputs),
        console: &mut Console,
    ) -> Result<Answer, Trouble> {
        let share = self.asked.and_then(|asked| asked.share);
        let folder = self.asked.map(|asked| shares::folder(&asked.out, &catalogue.number, share));
        let record = RunRecord {
            catalogue: catalogue.number.clone(),
            share: share.map(|share| [share.one, share.of]),
            program: PROGRAM.to_owned(),
            spec_sha256: sha256(&source.bytes),
            data_sha256: inputs.data_digest(),
            wish: series.wish().words(),
            ..RunRecord::default()
        };
        let given = match self.asked {
            Some(asked) => shares::given(&asked.merge, &record)?,
            None => Vec::new(),
        };
        let lock = folder.as_deref().map(|folder| lock(folder, console)).transpose()?;
        let merged: Vec<PathBuf> = given.iter().map(|given| given.folder.clone()).collect();
        let job = Job {
            catalogue,
            series,
            source,
            data,
            folder: folder.as_deref(),
            merged: &merged,
            share,
            alone: lock.as_ref().is_some_and(|lock| lock.held),
        };
        let Some(folder) = folder.as_deref() else {
            return job.run((self.jobs, &given)).map(Answer::from);
        };
        store::put(&folder.join(UNFINISHED), WARNING.as_bytes())?;
        store::put(&folder.join(RUN_NAME), &record.bytes())?;
        let done = job.run((self.jobs, &given))?;
        if done.0.exit < Exit::World {
            let finished = RunRecord { finished: true, ..record };
            store::put(&folder.join(RUN_NAME), &finished.bytes())?;
            store::remove_file(&folder.join(UNFINISHED))?;
        }
        Ok(Answer::from(done))
    }
}

/// Stands in a catalogue's folder while a run is at work, and after one that was stopped.
const UNFINISHED: &str = "UNFINISHED.txt";

/// What it says to people.
const WARNING: &str = "The run that writes here has not come to its end: kits of two runs may \
                       stand side by side.\nIf none is at work, run the same `blankwright \
                       catalogue` again.\n";

/// What there is to say.
struct Answer {
    outcomes: Vec<Outcome>,
    /// What became of everything, line by line.
    lines: String,
}

impl Answer {
    fn of(outcome: Outcome) -> Self {
        Self { outcomes: vec![outcome], lines: String::new() }
    }
}

impl From<(Outcome, Summary)> for Answer {
    fn from((outcome, summary): (Outcome, Summary)) -> Self {
        Self { outcomes: vec![outcome], lines: summary.lines() }
    }
}

/// What tells one version of the program from another.
const PROGRAM: &str = concat!(env!("CARGO_PKG_VERSION"), " ", env!("BLANKWRIGHT_SOURCES"));

fn lock(folder: &Path, console: &mut Console) -> Result<Lock, Trouble> {
    store::create(&folder.join(run::KITS))?;
    store::create(&folder.join(run::PARTS))?;
    store::create(&folder.join(run::REFUSED))?;
    Ok(Lock::on(folder, || {
        let message = format!("waiting for another run that writes to {}\n", folder.display());
        console.tell(&plain::lines(&message));
    }))
}

/// Says what became of everything; the worst counts.
fn tell(format: Format, outcomes: Vec<Outcome>, lines: &str, console: &mut Console) -> Exit {
    match format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => {
            for outcome in &outcomes {
                let findings = report::findings(outcome, console.colour);
                console.tell(&findings);
            }
            console.say(&plain::lines(lines));
        }
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Done)
}
