//! Specs as files, and what reading them says: `tests/cases/spec/<name>.toml` beside `<name>.txt`.
//! `ACCEPT=1 cargo test spec_cases` writes the texts anew, for review.

#![allow(clippy::disallowed_methods, reason = "cases are files")]

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use blankwright::note::Notes;
use blankwright::spec::{self, Change, Given, LARGEST, Raw, Spec};

/// Line and column, from 1, of a byte.
fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (line, column)
}

fn told(text: &str, notes: &Notes) -> String {
    let mut out = String::new();
    for finding in notes.sorted() {
        let place = finding.place.as_ref().expect("every finding about a spec has a place");
        let (line, column) = line_and_column(text, place.span.start);
        let found = text[place.span.clone()].lines().next().unwrap_or("");
        let (severity, check) = (finding.severity.word(), finding.check);
        writeln!(out, "{line}:{column} {severity}[{check}] {}", finding.message).unwrap();
        writeln!(out, "    at: {found}").unwrap();
        writeln!(out, "    help: {}", finding.help).unwrap();
    }
    out
}

fn raw(value: &Raw) -> String {
    match value {
        Raw::Number(number) => format!("{number}"),
        Raw::Text(text) => format!("{text:?}"),
        Raw::Flag(flag) => format!("{flag}"),
        Raw::List(items) => {
            let items: Vec<String> = items.iter().map(|item| raw(&item.value)).collect();
            format!("[{}]", items.join(", "))
        }
        Raw::Table(given) => {
            let given: Vec<String> =
                given.iter().map(|g| g.path.clone() + "=" + &raw(&g.value)).collect();
            format!("{{{}}}", given.join(", "))
        }
    }
}

fn all_given(out: &mut String, title: &str, given: &[Given]) {
    for one in given {
        writeln!(out, "{title} {} = {}", one.path, raw(&one.value)).unwrap();
    }
}

fn shown(spec: &Spec) -> String {
    let mut out = String::new();
    let words = [&spec.kit, &spec.template, &spec.revision, &spec.title, &spec.site, &spec.date];
    let words: Vec<&str> = words.iter().map(|said| said.value.as_str()).collect();
    writeln!(out, "{} {:?}", words.join(" | "), spec.units).unwrap();
    if let Some(container) = &spec.container {
        let wall = container.wall.as_ref().map(|said| said.value.as_str());
        writeln!(out, "container {} {wall:?}", container.kind.value).unwrap();
        if let Some(survey) = &container.survey {
            let centres: Vec<f64> = survey.centres.iter().map(|c| c.value).collect();
            let length = survey.length.as_ref().map(|said| said.value);
            writeln!(out, "survey {:?} {length:?} {centres:?}", survey.from).unwrap();
        }
    }
    let material = spec.sheet.material.as_ref().map(|said| said.value.as_str());
    let thickness = spec.sheet.thickness.as_ref().map(|said| said.value);
    writeln!(out, "sheet {material:?} {thickness:?}").unwrap();
    for part in &spec.sheet.parts {
        let material = part.material.as_ref().map(|said| said.value.as_str());
        let thickness = part.thickness.as_ref().map(|said| said.value);
        writeln!(out, "sheet of {} {material:?} {thickness:?}", part.part.value).unwrap();
    }
    all_given(&mut out, "given", &spec.given);
    all_given(&mut out, "override", &spec.overrides);
    for accept in &spec.accepts {
        writeln!(out, "accept {}: {}", accept.check.value, accept.reason.value).unwrap();
    }
    for line in &spec.revisions {
        let (index, date, text) = (&line.index.value, &line.date.value, &line.text.value);
        writeln!(out, "revision {index} {date} {text}").unwrap();
    }
    for amendment in &spec.amendments {
        let (part, reason) = (&amendment.part.value, &amendment.reason.value);
        writeln!(out, "amendment {part} {} {reason}", amendment.revision.value).unwrap();
        let Change::Move { hole, by } = &amendment.change else { continue };
        let purpose = hole.hole.as_ref().map_or("", |said| said.value.as_str());
        let [x, y] = by.value;
        writeln!(out, "  moves {purpose} in {} by {x}, {y}", hole.face.value).unwrap();
    }
    out
}

fn result(name: &str, bytes: &[u8]) -> String {
    let mut notes = Notes::default();
    let text = spec::read_text(name, bytes, &mut notes).unwrap();
    match spec::parse(name, text, &mut notes) {
        Some(spec) if !notes.has_errors() => told(text, &notes) + &shown(&spec),
        _ => told(text, &notes),
    }
}

fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/spec");
    let mut paths: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|e| e == "toml"));
    paths.sort();
    paths
}

#[test]
fn every_case_reads_as_written_beside_it() {
    let cases = cases();
    assert!(cases.len() >= 20, "{} cases", cases.len());
    let mut wrong = Vec::new();
    for path in cases {
        let name = path.file_name().unwrap().to_str().unwrap();
        let found = result(name, &fs::read(&path).unwrap());
        let beside = path.with_extension("txt");
        if std::env::var_os("ACCEPT").is_some() {
            fs::write(&beside, &found).unwrap();
        }
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        if found != expected {
            wrong.push(format!("{name}\n--- expected\n{expected}--- found\n{found}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_finding_never_points_outside_its_file_or_between_letters() {
    for path in cases() {
        let text = fs::read_to_string(&path).unwrap();
        let mut notes = Notes::default();
        spec::parse("case.toml", &text, &mut notes);
        for finding in notes.all() {
            let span = finding.place.clone().unwrap().span;
            assert!(text.get(span.clone()).is_some(), "{path:?}: {span:?} {finding:?}");
        }
    }
}

fn only_finding(bytes: &[u8]) -> (String, std::ops::Range<usize>) {
    let mut notes = Notes::default();
    if let Some(text) = spec::read_text("odd.toml", bytes, &mut notes) {
        assert!(spec::parse("odd.toml", text, &mut notes).is_none());
    }
    assert_eq!(notes.len(), 1, "{notes:#?}");
    let finding = &notes.all()[0];
    (finding.check.to_owned(), finding.place.clone().unwrap().span)
}

#[test]
fn bytes_that_are_no_text_are_refused_at_their_place() {
    assert_eq!(only_finding(b"kit = \"\xff\"\n"), ("spec.encoding".to_owned(), 7..8));
    // A letter cut off at the end of the file.
    assert_eq!(only_finding(b"kit = \"\xc3"), ("spec.encoding".to_owned(), 7..8));
    // UTF-16 with its mark.
    assert_eq!(only_finding(b"\xff\xfek\0i\0t\0").0, "spec.encoding");
}

#[test]
fn a_file_over_the_limit_is_refused_before_it_is_parsed() {
    let at_limit = vec![b'#'; LARGEST];
    assert_eq!(only_finding(&at_limit).0, "spec.empty");
    let over = vec![b'#'; LARGEST + 1];
    assert_eq!(only_finding(&over).0, "spec.too-large");
}

#[test]
fn endless_brackets_are_a_fault_and_not_a_crash() {
    for opening in ["a = [", "a = { a = ", "[[", "a."] {
        let text = opening.repeat(100_000 / opening.len());
        let mut notes = Notes::default();
        assert!(spec::parse("deep.toml", &text, &mut notes).is_none());
        assert!(notes.has_errors());
        assert!(notes.len() <= 8, "{} findings", notes.len());
    }
}

#[test]
fn the_nearest_word_is_suggested_only_when_it_is_near() {
    let known = ["clear_width", "clear_height", "lip", "margin"];
    assert_eq!(spec::nearest("clear_widht", known), Some("clear_width"));
    assert_eq!(spec::nearest("Clear-Width", known), Some("clear_width"));
    assert_eq!(spec::nearest("clear_hight", known), Some("clear_height"));
    assert_eq!(spec::nearest("lpi", known), Some("lip"));
    assert_eq!(spec::nearest("thickness", known), None);
    assert_eq!(spec::nearest("", known), None);
    assert_eq!(spec::nearest("x", known), None);
}
