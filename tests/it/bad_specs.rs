//! Specs and families with one fault each, through the program as it is started:
//! `tests/cases/bad/<name>.toml`, `tests/cases/families/bad/<name>.toml` and
//! `tests/cases/refused/<name>.toml`, each beside the plain text of what is told about it.
//! `ACCEPT=1 cargo test bad_specs` writes the texts anew, for review.

#![allow(clippy::disallowed_methods, reason = "cases are files")]

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

use crate::law_stock::{SPEC, beside};

/// What a run came to: the exit status, and its findings as lines.
pub(crate) struct Told {
    pub(crate) code: Option<i32>,
    pub(crate) text: String,
}

/// Draws a spec in a folder; whatever is wrong, nothing may be written and nothing may break.
pub(crate) fn draw(folder: &Path, spec: &str, families: Option<&str>) -> Told {
    let mut program = Command::new(env!("CARGO_BIN_EXE_blankwright"));
    program.current_dir(folder).args(["draw", spec, "--format", "json", "--out", "made"]);
    if let Some(families) = families {
        program.args(["--templates", families]);
    }
    let output = program.output().unwrap();
    let (out, err) = (String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr));
    assert_eq!(err.unwrap(), "", "{spec}");
    let rows: Value =
        serde_json::from_str(&out).unwrap_or_else(|why| panic!("{spec}: {why} {out}"));
    let mut text = format!("exit {}\n", output.status.code().unwrap());
    for row in rows.as_array().unwrap() {
        text.push_str(&line(row));
    }
    let made = folder.join("made");
    if output.status.code() != Some(0) && made.exists() {
        let left: Vec<PathBuf> =
            fs::read_dir(made).unwrap().map(|entry| entry.unwrap().path()).collect();
        let kits = left.iter().filter(|path| path.is_dir());
        assert_eq!(kits.count(), 0, "{spec}: {left:?}");
    }
    Told { code: output.status.code(), text }
}

/// `severity[check] file:line:column message`, and the way out below.
fn line(row: &Value) -> String {
    let word = |key: &str| row[key].as_str().unwrap_or("").to_owned();
    let mut place = word("file");
    if let (Some(line), Some(column)) = (row["line"].as_u64(), row["column"].as_u64()) {
        write!(place, ":{line}:{column}").unwrap();
    }
    let head = format!("{}[{}] {place} {}\n", word("severity"), word("check"), word("message"));
    head + &format!("    help: {}\n", word("help"))
}

/// The cases of a folder by name.
fn cases(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(beside(folder)).unwrap();
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    paths
}

/// Holds what is told about each case against the text beside it.
fn compare(folder: &str, exits: i32, run: impl Fn(&TempDir, &Path) -> Told) {
    let paths = cases(folder);
    assert!(!paths.is_empty());
    let mut wrong = Vec::new();
    for path in paths {
        let yard = tempfile::tempdir().unwrap();
        let told = run(&yard, &path);
        let beside = path.with_extension("txt");
        if std::env::var_os("ACCEPT").is_some() {
            fs::write(&beside, &told.text).unwrap();
        }
        let name = path.file_name().unwrap().to_str().unwrap();
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        if expected != told.text {
            wrong.push(format!("{name}\n--- expected\n{expected}--- found\n{}", told.text));
        }
        let faults = faults(&told, exits);
        wrong.extend(faults.into_iter().map(|why| format!("{name}: {why}\n{}", told.text)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What every finding of a bad case owes its reader.
fn faults(told: &Told, exits: i32) -> Vec<String> {
    let mut faults = Vec::new();
    if told.code != Some(exits) {
        faults.push(format!("exit {:?}, not {exits}", told.code));
    }
    let lines: Vec<&str> = told.text.lines().skip(1).collect();
    if lines.is_empty() {
        faults.push("nothing is told".to_owned());
    }
    for pair in lines.chunks(2).filter(|pair| pair[0].starts_with("error")) {
        let place = pair[0].split(' ').nth(1).unwrap();
        let numbers: Vec<&str> = place.rsplit(':').take(2).collect();
        if exits == 2 && !numbers.iter().all(|n| n.parse::<u32>().is_ok_and(|n| 0 < n)) {
            faults.push(format!("no line and column: {}", pair[0]));
        }
        if pair[1].trim() == "help:" {
            faults.push(format!("no way out: {}", pair[0]));
        }
        if pair[0].contains("[internal]") {
            faults.push("a fault of the program".to_owned());
        }
    }
    faults
}

fn draw_copy(yard: &TempDir, path: &Path) -> Told {
    let name = path.file_name().unwrap().to_str().unwrap();
    fs::copy(path, yard.path().join(name)).unwrap();
    draw(yard.path(), name, None)
}

#[test]
fn every_bad_spec_is_told_as_written_beside_it() {
    compare("tests/cases/bad", 2, draw_copy);
}

#[test]
fn every_refused_kit_is_told_as_written_beside_it() {
    compare("tests/cases/refused", 1, draw_copy);
}

fn draw_family(yard: &TempDir, path: &Path) -> Told {
    let families = yard.path().join("families");
    fs::create_dir(&families).unwrap();
    fs::copy(path, families.join(path.file_name().unwrap())).unwrap();
    fs::write(yard.path().join("spec.toml"), SPEC).unwrap();
    draw(yard.path(), "spec.toml", Some("families"))
}

#[test]
fn every_bad_family_is_told_as_written_beside_it() {
    compare("tests/cases/families/bad", 2, draw_family);
}

#[test]
fn every_family_whose_kit_is_refused_is_told_as_written_beside_it() {
    compare("tests/cases/families/refused", 1, draw_family);
}
