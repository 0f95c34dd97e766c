//! The command `prove`: exit statuses, what it says, and several folders at once.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::fs;

use blankwright::cli::Exit;
use serde_json::Value;

use crate::cli_bench::{Bench, Ran, call};
use crate::prove_edit::Pairs;
use crate::prove_files::{Files, SAMPLES};

/// The smallest sample kit.
fn sample() -> Files {
    let size = |files: &&Files| files.0.values().map(Vec::len).sum::<usize>();
    SAMPLES.iter().min_by_key(size).unwrap().clone()
}

fn put(bench: &Bench, folder: &str, files: &Files) {
    for (path, bytes) in &files.0 {
        let path = bench.path(folder).join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
}

/// Moves the first hole of the first part that has one.
fn moved(mut files: Files) -> (String, Files) {
    for path in files.dxfs() {
        let mut pairs = Pairs::of(&files.0[&path]);
        let circle =
            pairs.entities("CUT_INSIDE").into_iter().find(|span| pairs.kind(span) == "CIRCLE");
        if let Some(circle) = circle {
            let at = pairs.groups(&circle, 10)[0];
            pairs.add(at, 0.2);
            files.0.insert(path.clone(), pairs.bytes());
            return (path, files);
        }
    }
    panic!("no part has a round hole");
}

fn prove(bench: &Bench, folders: &[&str], more: &[&str]) -> Ran {
    let paths: Vec<String> =
        folders.iter().map(|folder| bench.path(folder).display().to_string()).collect();
    let paths: Vec<&str> = paths.iter().map(String::as_str).collect();
    call(&[&["blankwright", "prove"], paths.as_slice(), more].concat())
}

#[test]
fn a_kit_as_written_is_proved() {
    let bench = Bench::new();
    put(&bench, "kit", &sample());
    let ran = prove(&bench, &["kit"], &[]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    let number = sample().json()["kit"].as_str().unwrap().to_owned();
    assert!(ran.out.starts_with(&format!("{number}: proved in ")), "{}", ran.out);
}

#[test]
fn a_hole_moved_is_told_with_file_and_numbers() {
    let bench = Bench::new();
    let (file, files) = moved(sample());
    put(&bench, "kit", &files);
    let ran = prove(&bench, &["kit"], &[]);
    assert_eq!(ran.exit, Exit::Refused);
    assert!(ran.out.contains(": not proved in "), "{}", ran.out);
    for word in ["error[proof.contour]", &file, "CIRCLE", "0.2 mm off", "draw the kit again"] {
        assert!(ran.err.contains(word), "{word} is not in\n{}", ran.err);
    }
}

#[test]
fn the_worst_of_several_folders_counts() {
    let bench = Bench::new();
    put(&bench, "good", &sample());
    put(&bench, "bad", &moved(sample()).1);
    bench.put("other/notes.txt", "no kit");
    bench.put("foreign/kit.json", "{\"format\": \"of another program\"}");
    assert_eq!(prove(&bench, &["bad", "good"], &[]).exit, Exit::Refused);
    for folder in ["other", "foreign"] {
        let ran = prove(&bench, &["bad", folder, "good"], &[]);
        assert_eq!(ran.exit, Exit::Unusable, "{folder}");
        assert!(ran.err.contains("prove.no-kit"), "{}", ran.err);
        assert_eq!(ran.out.lines().count(), 2);
    }
    assert_eq!(prove(&bench, &["good", "nowhere"], &[]).exit, Exit::World);
    assert_eq!(prove(&bench, &["good", "other/notes.txt"], &[]).exit, Exit::Unusable);
}

#[test]
fn machines_get_an_array() {
    let bench = Bench::new();
    put(&bench, "good", &sample());
    put(&bench, "bad", &moved(sample()).1);
    let findings = |folder| -> Value {
        let ran = prove(&bench, &[folder], &["--format", "json"]);
        assert_eq!(ran.err, "");
        serde_json::from_str(&ran.out).unwrap()
    };
    assert_eq!(findings("good"), serde_json::json!([]));
    let bad = findings("bad");
    let first = bad.as_array().unwrap().first().unwrap();
    assert_eq!((&first["severity"], &first["check"]), (&"error".into(), &"proof.contour".into()));
    assert!(first["file"].as_str().unwrap().ends_with("bad"));
}
