//! Many specs at once: the one place where work is shared out between threads.

use std::any::Any;
use std::cell::{Cell, RefCell};
use std::panic::{self, AssertUnwindSafe};
use std::path::Path;
use std::sync::{Arc, Once};

use rayon::prelude::*;

use super::exit::{Exit, Trouble};
use super::release::{Freezer, release};
use super::remark::{Remark, remarks};
use super::store::{self, Written};
use crate::note::{Finding, Notes};
use crate::pipeline::{Built, Earlier, Only, Source, Trial, Want};

/// How one spec becomes one kit's files.
pub type Build<'a> = dyn Fn(&Source, &Want, &Trial) -> Built + Sync + 'a;

/// What is to be done with every spec.
pub(crate) struct Batch<'a> {
    /// How a kit is made.
    pub build: &'a Build<'a>,
    /// What is asked for.
    pub want: Want,
    /// How many kits are built by chance to try the tolerances; 0 for none.
    pub builds: u32,
    /// Where kits are written; nowhere when only checks are asked for.
    pub out: Option<&'a Path>,
    /// Where and how revisions are frozen, when that is asked for.
    pub freezer: Option<Freezer<'a>>,
    /// The data texts, which findings may point into.
    pub data: &'a [Source],
    /// Called as each spec is done.
    pub done: &'a (dyn Fn() + Sync),
}

/// A spec to be made, or what became of a path that could not be read as one.
pub(crate) type Task = Result<Spec, Box<Outcome>>;

/// A spec as it was read.
pub(crate) struct Spec {
    /// Its text.
    pub(crate) source: Source,
    /// Why it must not be written, though it may be worked out: another spec is for the same kit.
    pub(crate) clash: Option<Finding>,
    /// The kits of the revision before.
    pub(crate) earlier: Arc<[Earlier]>,
}

/// What became of one spec.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Outcome {
    /// The spec's file.
    pub file: String,
    /// The kit's number, once known.
    pub kit: Option<String>,
    /// What it does to the exit status.
    pub exit: Exit,
    /// Everything there is to say about it.
    pub remarks: Vec<Remark>,
    /// Numbers of its parts, once known.
    pub parts: Vec<String>,
    /// What was written.
    pub written: Option<Written>,
}

impl Outcome {
    /// A spec, or a path that should have been one, with which nothing could be done.
    pub(crate) fn trouble(file: String, trouble: Trouble) -> Self {
        let Trouble { exit, finding } = trouble;
        let remarks = vec![Remark { finding: *finding, spot: None }];
        Self { remarks, ..Self::unmade(file, exit) }
    }

    /// A spec that was not made, with nothing said about it yet.
    pub(crate) fn unmade(file: String, exit: Exit) -> Self {
        Self { file, kit: None, exit, remarks: Vec::new(), parts: Vec::new(), written: None }
    }

    /// Whether a part that is asked for is one of its own.
    pub(crate) fn has_part(&self, want: &Only) -> bool {
        let Some(kit) = &self.kit else { return false };
        self.parts.iter().any(|number| want.part(kit, number))
    }
}

/// Stack of each thread, bytes: ample, since running out of it would end the whole run.
pub(crate) const STACK: usize = 16 << 20;

/// Threads for the work, `jobs` of them.
pub(crate) fn pool(jobs: usize) -> Result<rayon::ThreadPool, Trouble> {
    let builder = rayon::ThreadPoolBuilder::new().num_threads(jobs).stack_size(STACK);
    builder.build().map_err(|error| {
        Trouble::world("batch.no-threads", format!("{jobs} threads could not be started: {error}"))
            .help("ask for fewer with --jobs")
    })
}

/// Makes every kit, `jobs` at a time, each written as soon as it is made. The outcomes stand in the
/// order of the tasks and do not depend on `jobs`.
pub(crate) fn run(batch: &Batch, tasks: Vec<Task>, jobs: usize) -> Result<Vec<Outcome>, Trouble> {
    let pool = pool(jobs)?;
    hush_caught_panics();
    Ok(pool.install(|| {
        let work = |task: Task| {
            let outcomes = task.map_or_else(|outcome| vec![*outcome], |spec| make(batch, &spec));
            (batch.done)();
            outcomes
        };
        let all: Vec<Vec<Outcome>> = tasks.into_par_iter().map(work).collect();
        all.into_iter().flatten().collect()
    }))
}

/// Makes the kits of one spec. A panic is a bug of ours; it is caught here so that the other specs'
/// kits arrive.
fn make(batch: &Batch, spec: &Spec) -> Vec<Outcome> {
    let mut others = Vec::new();
    let first = guarded(&spec.source.name, || {
        let (first, more) = build_and_write(batch, spec);
        others = more;
        first
    });
    std::iter::once(first).chain(others).collect()
}

/// Does something with one file or folder; a panic becomes its outcome.
pub(crate) fn guarded(file: &str, work: impl FnOnce() -> Outcome) -> Outcome {
    // A thread that waits for pieces of one kit may make another one meanwhile.
    let before = MAKING.replace(true);
    let made = panic::catch_unwind(AssertUnwindSafe(work));
    MAKING.set(before);
    made.unwrap_or_else(|payload| {
        let finding = Box::new(internal(&*payload));
        Outcome::trouble(file.to_owned(), Trouble { exit: Exit::Refused, finding })
    })
}

/// What became of a spec's first kit, and of its others.
fn build_and_write(batch: &Batch, spec: &Spec) -> (Outcome, Vec<Outcome>) {
    let source = &spec.source;
    let want = if spec.clash.is_none() { &batch.want } else { &Want::Findings };
    let trial = Trial { builds: batch.builds, share: &share, earlier: &spec.earlier };
    let mut built = (batch.build)(source, want, &trial);
    let others = std::mem::take(&mut built.others);
    let all = std::iter::once(built).chain(others);
    let mut outcomes = match &batch.freezer {
        Some(freezer) => release(freezer, batch, spec, all.collect()),
        None => all.map(|built| written(batch, spec, built)).collect(),
    };
    let first = outcomes.remove(0);
    (first, outcomes)
}

/// Writes one kit that was built.
fn written(batch: &Batch, spec: &Spec, mut built: Built) -> Outcome {
    spec.clash.iter().for_each(|clash| built.notes.add(clash.clone()));
    placed(built, batch.out, (&spec.source, batch.data))
}

/// Moves a kit that was built to its place, where there is one and nothing speaks against it. The
/// texts are those that findings may point into: its spec, and the data.
pub(crate) fn placed(
    built: Built,
    out: Option<&Path>,
    (source, data): (&Source, &[Source]),
) -> Outcome {
    let Built { mut notes, kit, parts, files, .. } = built;
    let mut exit = Exit::of(&notes);
    let mut written = None;
    if let (Some(out), Some(kit), Some(files), Exit::Done) = (out, &kit, files, exit) {
        match store::write(out, kit, &files) {
            Ok(done) => written = Some(done),
            Err(trouble) => {
                exit = trouble.exit;
                notes.add(*trouble.finding);
            }
        }
    }
    let remarks = told(&notes, source, data);
    let kit = kit.filter(|number| !number.is_empty());
    Outcome { file: source.name.clone(), kit, exit, remarks, parts, written }
}

/// Shares the pieces of one kit's work out among the threads that make kits.
pub(crate) fn share(count: usize, work: &(dyn Fn(usize) + Sync)) {
    (0..count).into_par_iter().for_each(|piece| {
        let before = MAKING.replace(true);
        work(piece);
        MAKING.set(before);
    });
}

/// What there is to say about a kit, with the lines of the texts it is about.
pub(crate) fn told(notes: &Notes, source: &Source, data: &[Source]) -> Vec<Remark> {
    remarks(notes, |file| {
        let mut texts = std::iter::once(source).chain(data);
        texts.find(|text| text.name == file).map(|text| text.bytes.as_slice())
    })
}

thread_local! {
    /// Whether this thread is making a kit, so that its panics are caught.
    static MAKING: Cell<bool> = const { Cell::new(false) };
    /// Where this thread's last caught panic began.
    static PANICKED_AT: RefCell<String> = const { RefCell::new(String::new()) };
}

/// From now on a panic that is going to be caught leaves its place behind instead of being printed;
/// others are printed as ever.
pub(crate) fn hush_caught_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let usual = panic::take_hook();
        panic::set_hook(Box::new(move |info| match info.location() {
            Some(at) if MAKING.get() => PANICKED_AT.set(format!("{}:{}", at.file(), at.line())),
            _ => usual(info),
        }));
    });
}

fn internal(payload: &(dyn Any + Send)) -> Finding {
    let text = payload.downcast_ref::<String>().map(String::as_str);
    let said =
        text.or_else(|| payload.downcast_ref::<&str>().copied()).unwrap_or("no reason given");
    let at = PANICKED_AT.take();
    Finding::error("internal", format!("a fault of this program stopped the kit: {said} ({at})"))
        .help("nothing of this kit was written; please report the spec and this message")
}
