//! A place to run the shell from the inside, with a maker of kits that does as the spec's bytes
//! say.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use blankwright::cli::{Build, Console, Data, Exit, Prepare, run};
use blankwright::note::{Finding, Notes, Place};
use blankwright::pipeline::{Built, OutFile, Source, Trial, Want};
use tempfile::TempDir;

/// A stream whose text can be read afterwards.
#[derive(Clone, Default)]
struct Stream(Arc<Mutex<Vec<u8>>>);

impl Write for Stream {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Stream {
    fn text(&self) -> String {
        String::from_utf8(self.0.lock().unwrap().clone()).unwrap()
    }
}

/// What one run came to.
pub(crate) struct Ran {
    pub(crate) exit: Exit,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// A folder with `specs` in it, and the runs made there.
pub(crate) struct Bench {
    pub(crate) folder: TempDir,
}

impl Bench {
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn put(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        path
    }

    /// Draws `specs` to `out`.
    pub(crate) fn draw(&self, more: &[&str]) -> Ran {
        let (specs, out) = (self.path("specs"), self.path("out"));
        let line = ["blankwright", "draw", specs.to_str().unwrap(), "--out", out.to_str().unwrap()];
        call(&[&line, more].concat())
    }

    pub(crate) fn kits(&self) -> Vec<String> {
        names(&self.path("out"))
    }
}

pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

pub(crate) fn call(line: &[&str]) -> Ran {
    call_with(line, &prepare)
}

/// The same with another maker of kits.
pub(crate) fn call_with(line: &[&str], prepare: &Prepare) -> Ran {
    let (out, err) = (Stream::default(), Stream::default());
    let mut console =
        Console { out: Box::new(out.clone()), err: Box::new(err.clone()), colour: false };
    let line: Vec<OsString> = line.iter().map(OsString::from).collect();
    let exit = run(line, prepare, &mut console);
    Ran { exit, out: out.text(), err: err.text() }
}

#[expect(clippy::unnecessary_wraps, reason = "the shell takes makers that may refuse")]
fn prepare(_data: &Data, _notes: &mut Notes) -> Option<Box<Build<'static>>> {
    Some(Box::new(make))
}

/// Makes a kit as its text asks: `kit = "NUMBER"`, then a word for what goes wrong.
fn make(source: &Source, want: &Want, _trial: &Trial) -> Built {
    let text = String::from_utf8_lossy(&source.bytes).into_owned();
    let kit = text.split('"').nth(1).unwrap_or_default().to_owned();
    let mut notes = Notes::default();
    if text.contains("refuse") {
        let finding = Finding::error("fit.demo", "the frame meets the rail").about("frame");
        notes.add(finding.measured(0.4, 0.1, "mm").source("design").help("make it narrower"));
    }
    if let Some(at) = text.find("typo") {
        let place = Place { file: Arc::from(source.name.as_str()), span: at..at + 4 };
        notes.add(Finding::error("spec.demo", format!("what is {}", &text[at..])).at(Some(place)));
    }
    if text.contains("remark") {
        notes.add(Finding::warning("fab.demo", "a narrow web"));
    }
    assert!(!text.contains("panic"), "no rule for {kit}");
    let files = match want {
        Want::Files(only) if !notes.has_errors() => Some(files(&kit, only.part(&kit, "K-01"))),
        _ => None,
    };
    let parts = vec!["K-01".to_owned()];
    Built { notes, kit: Some(kit), parts, files, ..Built::default() }
}

fn files(kit: &str, part: bool) -> Vec<OutFile> {
    let json = format!("{{\n  \"format\": \"blankwright-kit/1\",\n  \"kit\": \"{kit}\"\n}}\n");
    let mut files = vec![OutFile { path: "kit.json".to_owned(), bytes: json.into_bytes() }];
    if part {
        files.push(OutFile { path: "parts/K-01.dxf".to_owned(), bytes: vec![b'0'; 100_000] });
    }
    files
}
