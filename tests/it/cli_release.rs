//! The commands `release` and `verify` from the inside: what is frozen, what is refused, what a
//! stopped run leaves.

#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;

use blankwright::cli::{Build, Data, Exit};
use blankwright::note::{Finding, Notes};
use blankwright::pipeline::{Built, OutFile, Source, Trial, Want};
use blankwright::release::{Program, Recorded, seal};

use crate::cli_bench::{Bench, Ran, call_with, names};

/// Makes a kit for every word of the spec's text; some words say what goes wrong with it.
fn make(source: &Source, _want: &Want, _trial: &Trial) -> Built {
    let text = String::from_utf8_lossy(&source.bytes).into_owned();
    let mut kits = text.split_whitespace().map(kit);
    let first = kits.next().unwrap_or_default();
    Built { others: kits.collect(), ..first }
}

fn kit(word: &str) -> Built {
    let (number, fault) = word.split_once(':').unwrap_or((word, ""));
    let mut notes = Notes::default();
    match fault {
        "error" => notes.add(Finding::error("fit.demo", "the frame meets the rail")),
        "warning" => notes.add(Finding::warning("fab.demo", "a narrow web")),
        "panic" => panic!("no rule for {number}"),
        _ => {}
    }
    let json = format!(
        "{{\"format\": \"blankwright-kit/1\", \"kit\": \"{number}\", \"title\": \"Mat\", \
         \"revision\": \"B\", \"template\": \"mat\"}}\n"
    );
    let path = if fault == "headless" { "mat.json" } else { "kit.json" };
    let files = vec![
        OutFile { path: path.to_owned(), bytes: json.into_bytes() },
        OutFile { path: "parts/K-01.dxf".to_owned(), bytes: vec![b'0'; 1000] },
    ];
    let files = (!notes.has_errors()).then_some(files);
    Built { notes, kit: Some(number.to_owned()), files, ..Built::default() }
}

#[expect(clippy::unnecessary_wraps, reason = "the shell takes makers that may refuse")]
fn prepare(_data: &Data, _notes: &mut Notes) -> Option<Box<Build<'static>>> {
    Some(Box::new(make))
}

fn run(bench: &Bench, spec: &str, more: &[&str]) -> Ran {
    let spec = bench.put("mat.toml", spec);
    let to = bench.path("to");
    let (spec, to) = (spec.to_str().unwrap(), to.to_str().unwrap());
    call_with(&[&["blankwright", "release", spec, "--to", to], more].concat(), &prepare)
}

fn verify(path: &Path) -> Ran {
    call_with(&["blankwright", "verify", path.to_str().unwrap()], &prepare)
}

#[test]
fn a_kit_is_frozen() {
    let bench = Bench::new();
    let ran = run(&bench, "K1", &[]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    assert!(ran.out.starts_with("K1: revision B released, 5 files in "), "{}", ran.out);
    let place = bench.path("to/K1/B");
    let own = ["inputs", "kit.json", "manifest.json", "manifest.sha256", "parts"];
    assert_eq!(names(&place), own);
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&place) & 0o222, 0);
    assert_eq!(mode(&place.join("parts/K-01.dxf")) & 0o222, 0);
    for path in [place.as_path(), &bench.path("to/K1"), &bench.path("to")] {
        let ran = verify(path);
        assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""), "{}", path.display());
        assert!(
            ran.out.starts_with("K1: revision B is as it was released, 5 files"),
            "{}",
            ran.out
        );
    }
}

#[test]
fn the_kits_of_one_spec_are_one_folder_and_its_links() {
    let bench = Bench::new();
    let ran = run(&bench, "K1 K2 K3", &[]);
    assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
    assert_eq!(names(&bench.path("to")), ["K1", "K2", "K3", "together"]);
    assert_eq!(names(&bench.path("to/together/K1/B")), ["K1", "K2", "K3"]);
    let link = fs::read_link(bench.path("to/K3/B")).unwrap();
    assert_eq!(link, Path::new("../together/K1/B/K3"));
    assert_eq!(verify(&bench.path("to")).out.lines().count(), 3);
    assert_eq!(verify(&bench.path("to/K2/B")).exit, Exit::Done);
    let ran = run(&bench, "K3", &[]);
    assert_eq!(ran.exit, Exit::Refused);
    assert!(ran.err.contains("revision B of K3 is already released"), "{}", ran.err);
}

#[test]
fn one_that_is_refused_keeps_the_others_back() {
    let bench = Bench::new();
    for (spec, code) in [
        ("K1 K2:error", "error[fit.demo]"),
        ("K1:warning K2", "error[release.warnings]"),
        ("K1 K2:panic", "error[internal]"),
        ("K1 K2:headless", "error[release.no-kit]"),
    ] {
        let ran = run(&bench, spec, &[]);
        assert_eq!(ran.exit, Exit::Refused, "{spec}: {}", ran.err);
        assert!(ran.err.contains(code), "{spec}: {}", ran.err);
        assert_eq!(names(&bench.path("to")), [""; 0], "{spec}");
    }
    assert_eq!(run(&bench, "K1:warning K2", &["--allow-warnings"]).exit, Exit::Done);
}

#[test]
fn the_next_run_takes_away_what_a_stopped_one_left() {
    let bench = Bench::new();
    bench.put("to/K1/.B.0.new/parts/K-01.dxf", "0");
    bench.put("to/K9/.A.12.new/kit.json", "{}");
    bench.put("to/together/K4/.C.0.new/K4/kit.json", "{}");
    fs::create_dir_all(bench.path("to/K5")).unwrap();
    symlink("../together/K4/C/K5", bench.path("to/K5/C")).unwrap();
    let closed = fs::Permissions::from_mode(0o555);
    fs::set_permissions(bench.path("to/K1/.B.0.new/parts"), closed.clone()).unwrap();
    fs::set_permissions(bench.path("to/K1/.B.0.new"), closed).unwrap();
    let ran = verify(&bench.path("to"));
    assert_eq!(ran.exit, Exit::Done);
    assert_eq!(ran.err.matches("note[verify.leftover]").count(), 3, "{}", ran.err);
    assert_eq!(ran.err.matches("warning[verify.nowhere]").count(), 1, "{}", ran.err);
    assert_eq!(run(&bench, "K2", &[]).exit, Exit::Done);
    assert_eq!(names(&bench.path("to")), ["K2", "together"]);
    assert_eq!(verify(&bench.path("to")).err, "");
}

#[test]
fn what_only_looks_like_a_leftover_stays() {
    let bench = Bench::new();
    for path in ["to/K1/.B.new/x", "to/K1/B.0.new/x", "to/notes/.B.0.new/x", "to/K1/.b.0.new/x"] {
        bench.put(path, "somebody's");
    }
    bench.put("to/K1/.B.0.new", "a file");
    fs::create_dir_all(bench.path("to/K3")).unwrap();
    symlink("../elsewhere/B", bench.path("to/K3/B")).unwrap();
    assert_eq!(run(&bench, "K2", &[]).exit, Exit::Done);
    assert_eq!(names(&bench.path("to/K1")), [".B.0.new", ".B.new", ".b.0.new", "B.0.new"]);
    assert_eq!(names(&bench.path("to/notes")), [".B.0.new"]);
    assert_eq!(names(&bench.path("to/K3")), ["B"]);
}

#[test]
fn making_again_tells_what_comes_out_otherwise() {
    let bench = Bench::new();
    assert_eq!(run(&bench, "K1", &[]).exit, Exit::Done);
    let to = bench.path("to");
    let line = ["blankwright", "verify", to.to_str().unwrap(), "--rebuild"];
    let ran = call_with(&line, &prepare);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    assert!(ran.out.contains("made again byte for byte"), "{}", ran.out);
    let ran = call_with(&line, &other);
    assert_eq!(ran.exit, Exit::Refused);
    assert!(!ran.err.contains("likely cause"), "the same program made it");
    for path in ["parts/K-01.dxf", "manifest.json", "manifest.sha256"] {
        let told = format!("made again from the recorded inputs, {path} comes out in other bytes");
        assert!(ran.err.contains(&told), "{}", ran.err);
    }
    let none = |_: &Data, _: &mut Notes| None;
    let ran = call_with(&line, &none);
    assert!(ran.err.contains("nothing can be made of the recorded inputs"), "{}", ran.err);
}

/// Puts other words into the manifest of the release of `K1`, and makes its list of digests anew.
fn retold(bench: &Bench, from: &str, to: &str) {
    let place = bench.path("to/K1/B");
    let text = fs::read_to_string(place.join("manifest.json")).unwrap();
    assert!(text.contains(from), "{text}");
    let manifest = text.replace(from, to).into_bytes();
    let files = Recorded::read(&manifest).unwrap().files;
    let list = seal(&manifest, &files);
    for (name, bytes) in [("manifest.json", manifest), ("manifest.sha256", list)] {
        let path = place.join(name);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
        fs::write(&path, bytes).unwrap();
    }
}

#[test]
fn another_program_is_named_where_it_matters() {
    let own = Program::running();
    let build = format!("\"build\": \"{}\"", own.build);
    let version = format!("\"version\": \"{}\"", own.version);
    for (from, to, check) in [
        (&build, "\"build\": \"0123456789abcdef\"", "verify.build"),
        (&version, "\"version\": \"0.0.9\"", "verify.version"),
        // As releases were before builds were recorded.
        (&format!(",\n    {build}"), "", "verify.build"),
    ] {
        let bench = Bench::new();
        assert_eq!(run(&bench, "K1", &[]).exit, Exit::Done);
        retold(&bench, from, to);
        let folder = bench.path("to");
        let line = ["blankwright", "verify", folder.to_str().unwrap(), "--rebuild"];
        let ran = call_with(&line, &prepare);
        assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
        assert!(ran.err.contains(&format!("warning[{check}]")), "{}", ran.err);
        assert!(ran.err.contains("all bytes come out the same"), "{}", ran.err);
        assert!(ran.out.contains("made again byte for byte"), "{}", ran.out);
        let ran = call_with(&line, &other);
        assert_eq!(ran.exit, Exit::Refused);
        assert_eq!(ran.err.matches("error[").count(), 3, "{}", ran.err);
        assert!(ran.err.contains("the likely cause of what comes out"), "{}", ran.err);
    }
}

/// As [`prepare`], with one byte that differs.
#[expect(clippy::unnecessary_wraps, reason = "the shell takes makers that may refuse")]
fn other(_: &Data, _: &mut Notes) -> Option<Box<Build<'static>>> {
    Some(Box::new(|source, want, trial| {
        let mut built = make(source, want, trial);
        built.files.as_mut().unwrap()[1].bytes[7] = b'1';
        built
    }))
}
