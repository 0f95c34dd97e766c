//! The commands `draw`, `release` and `check`: from paths to outcomes, and what is said about them.

use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

use indicatif::{ProgressBar, ProgressStyle};

use super::args::{Arguments, CheckArguments, DrawArguments, Format, ReleaseArguments};
use super::ask::about_data;
use super::batch::{self, Batch, Build, Outcome, Spec, Task};
use super::catalogue;
use super::clash::clashes;
use super::earlier::attach;
use super::exit::{Exit, Trouble};
use super::release::Freezer;
use super::store::{self, Data, Lock, Origin};
use super::{Console, Prepare, plain, report};
use crate::note::Notes;
use crate::pipeline::{FileKind, Only, Source, Want};
use crate::release::{Placed, findings_json};

/// Works kits out and writes a folder for each.
pub(crate) fn draw(
    arguments: &Arguments,
    draw: &DrawArguments,
    prepare: &Prepare,
    console: &mut Console,
) -> Exit {
    let wanted = draw.wanted();
    let proved = !draw.no_proof;
    let job = Job {
        arguments,
        check: &draw.check,
        out: Some(&draw.out),
        want: &wanted,
        proved,
        release: None,
    };
    finish(&job, job.outcomes(prepare, console), console)
}

/// Works kits out and freezes their revisions.
pub(crate) fn release(
    arguments: &Arguments,
    asked: &ReleaseArguments,
    prepare: &Prepare,
    console: &mut Console,
) -> Exit {
    let job = Job {
        arguments,
        check: &asked.check,
        out: Some(&asked.to),
        want: &Only::default(),
        proved: true,
        release: Some(asked),
    };
    finish(&job, job.outcomes(prepare, console), console)
}

/// Works kits out and writes nothing.
pub(crate) fn check(
    arguments: &Arguments,
    check: &CheckArguments,
    prepare: &Prepare,
    console: &mut Console,
) -> Exit {
    let want = &Only::default();
    let job = Job { arguments, check, out: None, want, proved: true, release: None };
    finish(&job, job.outcomes(prepare, console), console)
}

/// One command, as it was asked for.
struct Job<'a> {
    arguments: &'a Arguments,
    check: &'a CheckArguments,
    out: Option<&'a Path>,
    want: &'a Only,
    proved: bool,
    /// Set when revisions are to be frozen in `out`.
    release: Option<&'a ReleaseArguments>,
}

impl Job<'_> {
    /// What became of the data texts, where there is something to say, and of every spec.
    fn outcomes(&self, prepare: &Prepare, console: &mut Console) -> Vec<Outcome> {
        let data = match store::load(
            self.arguments.templates.as_deref(),
            self.arguments.shop.as_deref(),
        ) {
            Ok(data) => data,
            Err(trouble) => return vec![Outcome::trouble(String::new(), trouble)],
        };
        self.explain(&data, console);
        let mut notes = Notes::default();
        let build = prepare(&data, &mut notes);
        let about_data = about_data(&data, &notes);
        // A draw makes what it can; a release with data that is not whole is none.
        let hindered = self.release.is_some() && notes.has_errors();
        match build.filter(|_| !hindered) {
            Some(build) => {
                about_data.into_iter().chain(self.make_all(&data, &*build, console)).collect()
            }
            None => about_data.into_iter().collect(),
        }
    }

    fn explain(&self, data: &Data, console: &mut Console) {
        if !self.arguments.verbose {
            return;
        }
        for (set, origin) in ["families", "containers", "shop"].iter().zip(&data.origins) {
            let from = match origin {
                Origin::Folder(folder) => folder.display().to_string(),
                Origin::BuiltIn => "built-in data".to_owned(),
            };
            console.tell(&plain::lines(&format!("{set}: {from}\n")));
        }
    }

    fn make_all(&self, data: &Data, build: &Build, console: &mut Console) -> Vec<Outcome> {
        let lock = match self.out.map(|out| lock(out, console)).transpose() {
            Ok(lock) => lock,
            Err(trouble) => return vec![Outcome::trouble(String::new(), trouble)],
        };
        if let (Some(asked), Some(Lock { held: true, .. })) = (self.release, &lock) {
            // Nobody else writes here: what is half written was left by a run that was stopped.
            store::sweep(&asked.to);
        }
        let texts: Vec<Source> = data.texts().cloned().collect();
        let missing = self.missing_parts(&texts, build);
        if !missing.is_empty() {
            return missing;
        }
        let want = match (self.out, self.proved) {
            (None, _) => Want::Findings,
            (Some(_), true) => Want::Files(self.want.clone()),
            (Some(_), false) => Want::Unproved(self.want.clone()),
        };
        let tasks = tasks(&self.check.specs);
        let tasks = attach(tasks, self.check.since.as_ref(), (data, build));
        let (tasks, large) = self.large_checked(tasks, data, console);
        let progress = progress(tasks.len());
        let done = || progress.inc(1);
        let (builds, out, freezer) = (self.check.builds, self.out, self.freezer(data));
        let batch = Batch { build, want, builds, out, freezer, data: &texts, done: &done };
        let outcomes = batch::run(&batch, tasks, self.jobs());
        progress.finish_and_clear();
        let mut outcomes =
            outcomes.unwrap_or_else(|trouble| vec![Outcome::trouble(String::new(), trouble)]);
        outcomes.extend(large);
        outcomes
    }

    /// How revisions are frozen, where that is asked for.
    fn freezer<'j>(&'j self, data: &'j Data) -> Option<Freezer<'j>> {
        let asked = self.release?;
        Some(Freezer { to: &asked.to, data, allow_warnings: asked.allow_warnings })
    }

    /// Parts that are asked for by number and belong to no kit, looked for before anything is
    /// written. Where a kit could not be worked out its own errors are enough.
    fn missing_parts(&self, texts: &[Source], build: &Build) -> Vec<Outcome> {
        let of_parts = [FileKind::Dxf, FileKind::Svg, FileKind::Pdf];
        if self.want.parts.is_empty() || !of_parts.iter().any(|&kind| self.want.kind(kind)) {
            return Vec::new();
        }
        let want = Want::Findings;
        let (out, freezer) = (None, None);
        let batch = Batch { build, want, builds: 0, out, freezer, data: texts, done: &|| () };
        let Ok(outcomes) = batch::run(&batch, tasks(&self.check.specs), self.jobs()) else {
            return Vec::new();
        };
        missing_parts(self.want, &outcomes)
    }

    /// Catalogues that are too large to be held whole are checked apart; they are not drawn here.
    fn large_checked(
        &self,
        tasks: Vec<Task>,
        data: &Data,
        console: &mut Console,
    ) -> (Vec<Task>, Vec<Outcome>) {
        if self.out.is_some() {
            return (tasks, Vec::new());
        }
        let is_large =
            |task: &Task| task.as_ref().is_ok_and(|spec| catalogue::is_large(&spec.source));
        let (large, tasks): (Vec<Task>, Vec<Task>) = tasks.into_iter().partition(is_large);
        let checked = large.into_iter().filter_map(Result::ok);
        let outcomes = checked
            .map(|spec| catalogue::check(&spec.source, data, self.jobs(), console))
            .collect();
        (tasks, outcomes)
    }

    fn jobs(&self) -> usize {
        let all = || thread::available_parallelism().map_or(1, NonZero::get);
        self.check.jobs.map_or_else(all, usize::from)
    }
}

pub(crate) fn lock(out: &Path, console: &mut Console) -> Result<Lock, Trouble> {
    store::create(out)?;
    Ok(Lock::on(out, || {
        let message = format!("waiting for another run that writes to {}\n", out.display());
        console.tell(&plain::lines(&message));
    }))
}

/// Every spec that is asked for, read; those that clash are not to be made.
pub(crate) fn tasks(specs: &[PathBuf]) -> Vec<Task> {
    let mut tasks: Vec<Task> = Vec::new();
    for (path, found) in store::find_specs(specs) {
        let read = found.and_then(|()| store::read(&path));
        let name = path.to_string_lossy().into_owned();
        let spec = read.map(|source| Spec { source, clash: None, earlier: Arc::from([]) });
        tasks.push(spec.map_err(|trouble| Box::new(Outcome::trouble(name, trouble))));
    }
    let specs = tasks.iter().enumerate().filter_map(|(i, task)| Some((i, task.as_ref().ok()?)));
    let sources: Vec<(usize, &Source)> = specs.map(|(i, spec)| (i, &spec.source)).collect();
    for (index, finding) in clashes(&sources) {
        if let Ok(spec) = &mut tasks[index] {
            spec.clash = Some(finding);
        }
    }
    tasks
}

/// Shown on stderr when that is a terminal, and only when there is something to wait for.
fn progress(tasks: usize) -> ProgressBar {
    if tasks < 2 {
        return ProgressBar::hidden();
    }
    let style = ProgressStyle::with_template("{bar:40} {pos} of {len} kits");
    let bar = ProgressBar::new(tasks as u64);
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar
}

/// What is told of numbers that no kit has a part of, when every kit could be worked out.
fn missing_parts(want: &Only, outcomes: &[Outcome]) -> Vec<Outcome> {
    if outcomes.iter().any(|outcome| outcome.parts.is_empty()) {
        return Vec::new();
    }
    let missing = want.parts.iter().filter(|part| {
        let one = Only { kinds: Vec::new(), parts: vec![String::clone(part)] };
        !outcomes.iter().any(|outcome| outcome.has_part(&one))
    });
    let known: Vec<&str> =
        outcomes.iter().flat_map(|outcome| &outcome.parts).map(String::as_str).collect();
    let there = match known.get(..MOST_NAMED) {
        Some(first) => format!("{}, and {} more", first.join(", "), known.len() - MOST_NAMED),
        None => known.join(", "),
    };
    let trouble = |part: &String| {
        let message = format!("no kit has a part {part}; nothing was written");
        Trouble::unusable("args.no-part", message).help(format!("there are: {there}"))
    };
    missing.map(|part| Outcome::trouble(String::new(), trouble(part))).collect()
}

/// Numbers that one message names at most.
const MOST_NAMED: usize = 40;

/// Says what became of everything; the worst counts.
fn finish(job: &Job, outcomes: Vec<Outcome>, console: &mut Console) -> Exit {
    match job.check.format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => as_text(&outcomes, console),
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Done)
}

fn as_text(outcomes: &[Outcome], console: &mut Console) {
    for outcome in outcomes {
        let findings = report::findings(outcome, console.colour);
        console.tell(&findings);
    }
    let results = outcomes.iter().filter(|outcome| !outcome.file.is_empty()).map(report::result);
    let lines: String = results.map(|line| line + "\n").collect();
    console.say(&lines);
}

pub(crate) fn as_json(outcomes: &[Outcome]) -> String {
    let rows: Vec<Placed> = outcomes.iter().flat_map(placed).collect();
    plain::json(&String::from_utf8_lossy(&findings_json(&rows)))
}

fn placed(outcome: &Outcome) -> impl Iterator<Item = Placed<'_>> {
    outcome.remarks.iter().map(|remark| Placed {
        finding: &remark.finding,
        file: remark.spot.as_ref().map_or(&outcome.file, |spot| &spot.file),
        at: remark.spot.as_ref().map(|spot| (spot.line, spot.column)),
    })
}
