//! What the engine's laws are tried on: the shop's own data beside a family made for the test.

#![allow(clippy::disallowed_methods, reason = "the shop's data are files")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use blankwright::flat::{Blank, unfold};
use blankwright::fold::{FoldedPart, fold};
use blankwright::kit::{Kit, Part, expand};
use blankwright::mate::{Words, assemble};
use blankwright::note::{Finding, Notes, Severity};
use blankwright::pipeline::{Built, Source, Stock, Want, build};
use blankwright::resolve::{Resolved, bind};
use blankwright::spec::Spec;
use blankwright::template::Template;
use blankwright::{spec, template};
use proptest::test_runner::{Config as ProptestConfig, RngSeed, TestCaseError};

use crate::law_parts::Trial;

/// A file of the repository.
pub(crate) fn beside(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The TOML files of a folder in the order of their names.
pub(crate) fn texts(folder: &str) -> Vec<Source> {
    let mut paths: Vec<PathBuf> =
        fs::read_dir(beside(folder)).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    let source = |path: &PathBuf| Source {
        name: format!("{folder}/{}", path.file_name().unwrap().to_str().unwrap()),
        bytes: fs::read(path).unwrap(),
    };
    paths.iter().map(source).collect()
}

/// The repository's families, shop and containers.
pub(crate) static STOCK: LazyLock<Stock> = LazyLock::new(|| {
    let mut notes = Notes::default();
    let shelf = [texts("templates/shop"), texts("templates/containers")].concat();
    let stock = Stock::read(&texts("templates"), &shelf, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    stock.unwrap()
});

/// The spec of a family made for a test.
pub(crate) const SPEC: &str = "kit = \"OTS-0701\"\ntemplate = \"trial\"\nrevision = \"A\"\n\
                               date = \"2026-03-02\"\ntitle = \"Trial\"\n";

/// The head of a family made for a test, cut from one sheet.
pub(crate) fn head(thickness: f64) -> String {
    format!(
        "[template]\nname = \"trial\"\ntitle = \"Trial\"\nabout = \"For a test.\"\n\n\
         [sheets.plate]\nthickness = {thickness:?}\nmaterial = \"galvanized-dx51d\"\n\
         help = \"All parts.\"\n"
    )
}

/// A kit with all that was worked out from it.
pub(crate) struct Made {
    /// The kit.
    pub(crate) kit: Kit,
    /// Its parts folded.
    pub(crate) folded: Vec<FoldedPart>,
    /// Its parts developed.
    pub(crate) blanks: Vec<Blank>,
}

impl Made {
    /// Each part with its fold and its blank.
    pub(crate) fn parts(&self) -> impl Iterator<Item = (&Part, &FoldedPart, &Blank)> {
        let (folded, blanks) = (self.folded.iter(), self.blanks.iter());
        self.kit
            .parts
            .iter()
            .zip(folded)
            .zip(blanks)
            .map(|((part, fold), blank)| (part, fold, blank))
    }
}

/// Works a family out without a container; the values are changed first. The errors where there are
/// any.
pub(crate) fn make_with(
    family: &str,
    change: impl Fn(&mut Resolved),
) -> Result<Made, Vec<Finding>> {
    let mut notes = Notes::default();
    let made = work_out(family, &change, &mut notes);
    let errors: Vec<Finding> =
        notes.all().iter().filter(|f| f.severity == Severity::Error).cloned().collect();
    made.filter(|_| errors.is_empty()).ok_or(errors)
}

/// The same with the values as they come.
pub(crate) fn make(family: &str) -> Result<Made, Vec<Finding>> {
    make_with(family, |_| ())
}

/// The kit of a spec of one of the repository's families.
pub(crate) fn make_spec(text: &str) -> Made {
    let mut notes = Notes::default();
    let spec = spec::parse("spec.toml", text, &mut notes).unwrap();
    let template = STOCK.family(&spec.template.value).unwrap();
    let made = assembled(&spec, template, &|_| (), &mut notes);
    made.unwrap_or_else(|| panic!("{notes:#?}"))
}

/// A family made for a test, worked out in a container: the spec has more lines than the usual.
pub(crate) fn make_in(family: &str, more: &str) -> Made {
    let mut notes = Notes::default();
    let template = template::parse("trial.toml", family, &mut notes).unwrap();
    let spec = spec::parse("spec.toml", &format!("{SPEC}{more}"), &mut notes).unwrap();
    let made = assembled(&spec, &template, &|_| (), &mut notes);
    made.unwrap_or_else(|| panic!("{notes:#?}"))
}

fn work_out(family: &str, change: &dyn Fn(&mut Resolved), notes: &mut Notes) -> Option<Made> {
    let template = template::parse("trial.toml", family, notes)?;
    let spec = spec::parse("spec.toml", SPEC, notes)?;
    assembled(&spec, &template, change, notes)
}

fn assembled(
    spec: &Spec,
    template: &Template,
    change: &dyn Fn(&mut Resolved),
    notes: &mut Notes,
) -> Option<Made> {
    let shelf = &STOCK.shelf;
    let mut resolved = bind(spec, template, shelf, notes)?;
    change(&mut resolved);
    let draft = expand(template, &resolved, shelf, notes);
    if notes.has_errors() {
        return None;
    }
    let folded: Vec<FoldedPart> = draft.parts.iter().map(fold).collect();
    let words = Words { spec, sha256: "", template, resolved: &resolved, shelf };
    let kit = assemble(&words, draft, &folded, notes);
    let blanks = kit.parts.iter().map(|part| unfold(part).expect("a blank")).collect();
    Some(Made { kit, folded, blanks })
}

/// Builds the test's spec with a family of its own, by the program's whole way.
pub(crate) fn build_trial(family: &str, want: &Want) -> Built {
    let mut notes = Notes::default();
    let family = template::parse("trial.toml", family, &mut notes);
    let stock = Stock { families: vec![family.expect("a family")], ..STOCK.clone() };
    build(&Source { name: "spec.toml".into(), bytes: SPEC.into() }, &stock, want)
}

/// How the laws are tried: the same parts each time, unless `LAWS_SEED` asks for others;
/// `LAWS_TIMES` multiplies their number.
pub(crate) fn config(cases: u32) -> ProptestConfig {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    ProptestConfig {
        cases: cases * number("LAWS_TIMES").map_or(1, |times| times as u32),
        rng_seed: RngSeed::Fixed(number("LAWS_SEED").unwrap_or(6935)),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// A part at random, worked out. One that is told to have no room for a flange, or to run into
/// itself when folded, is no part to try a law on; any other refusal fails the law.
pub(crate) fn made(trial: &Trial) -> Result<Made, TestCaseError> {
    let family = trial.family();
    make(&family).map_err(|why| {
        let no_room = |f: &Finding| {
            f.message.contains("nothing is left of it between its bends")
                || f.message.contains("no size left")
                || f.message.contains("of edge is left to fold")
        };
        match why.iter().all(|f| no_room(f) || f.check == "template.profile-crosses") {
            true => TestCaseError::reject("no room"),
            false => TestCaseError::fail(format!("{family}\n{why:#?}")),
        }
    })
}
