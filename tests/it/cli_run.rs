//! The shell from the inside: what is written, what is left alone, what is said.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::fs;

use blankwright::cli::Exit;

use crate::cli_bench::{Bench, call, names};

#[test]
fn every_kit_gets_its_folder() {
    let bench = Bench::new();
    bench.put("specs/b.toml", "kit = \"K2\"");
    bench.put("specs/deep/a.toml", "kit = \"K3\"");
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.put("specs/.hidden/c.toml", "kit = \"K4\"");
    bench.put("specs/notes.txt", "not a spec");
    let ran = bench.draw(&[]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    assert_eq!(bench.kits(), ["K1", "K2", "K3"]);
    assert_eq!(names(&bench.path("out/K2")), ["kit.json", "parts"]);
    let kits: Vec<&str> = ran.out.lines().map(|line| line.split(':').next().unwrap()).collect();
    assert_eq!(kits, ["K1", "K2", "K3"]);
}

#[test]
fn the_worst_counts_and_the_others_arrive() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.put("specs/b.toml", "kit = \"K2\" # refuse");
    assert_eq!(bench.draw(&[]).exit, Exit::Refused);
    bench.put("specs/c.toml", "kit = \"K3\"\n  typo");
    let ran = bench.draw(&[]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("c.toml:2:3"), "{}", ran.err);
    assert_eq!(bench.kits(), ["K1"]);
    bench.put("out/K4/kit.json", "{\"kit\": \"of another program\"}");
    bench.put("specs/d.toml", "kit = \"K4\"");
    assert_eq!(bench.draw(&[]).exit, Exit::World);
    assert_eq!(bench.kits(), ["K1", "K4"]);
}

#[test]
fn a_panic_stops_one_kit_alone() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\" # panic");
    bench.put("specs/b.toml", "kit = \"K2\"");
    let ran = bench.draw(&[]);
    assert_eq!(ran.exit, Exit::Refused);
    assert!(ran.err.contains("error[internal]") && ran.err.contains("no rule for K1"));
    assert!(ran.err.contains("cli_bench.rs:"), "{}", ran.err);
    assert_eq!(bench.kits(), ["K2"]);
}

#[test]
fn a_refused_kit_leaves_the_older_issue() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.draw(&[]);
    bench.put("specs/a.toml", "kit = \"K1\" # refuse");
    let ran = bench.draw(&[]);
    assert_eq!(names(&bench.path("out/K1")), ["kit.json", "parts"]);
    assert!(ran.out.contains("K1: refused, 1 error"), "{}", ran.out);
}

#[test]
fn two_specs_for_one_kit_are_both_named_and_neither_written() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.put("specs/b.toml", "title = 'x'\nkit = \"k1\"\nx = 'typo'");
    bench.put("specs/c.toml", "kit = \"K2\"");
    let ran = bench.draw(&[]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("a.toml:1:7") && ran.err.contains("b.toml:2:7"), "{}", ran.err);
    // What else is wrong with them is told in the same run.
    assert!(ran.err.contains("b.toml:3:6"), "{}", ran.err);
    assert_eq!(bench.kits(), ["K2"]);
}

#[test]
fn one_file_named_twice_is_one_spec() {
    let bench = Bench::new();
    let spec = bench.put("specs/a.toml", "kit = \"K1\"");
    let ran = bench.draw(&[spec.to_str().unwrap()]);
    assert_eq!((ran.exit, ran.out.lines().count()), (Exit::Done, 1));
}

#[test]
fn a_redrawn_folder_holds_the_new_files_alone() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.draw(&[]);
    bench.put("out/K1/parts/K-99.dxf", "of an older issue");
    bench.draw(&[]);
    assert_eq!(names(&bench.path("out/K1/parts")), ["K-01.dxf"]);
    assert_eq!(bench.kits(), ["K1"]);
}

#[test]
fn what_the_user_put_there_is_never_lost() {
    for stranger in ["K1/photo.jpg", "K1/site/notes.md", "K1/parts/deep/x.dxf"] {
        let bench = Bench::new();
        bench.put("specs/a.toml", "kit = \"K1\"");
        bench.draw(&[]);
        let kept = bench.put(&format!("out/{stranger}"), "mine");
        let ran = bench.draw(&[]);
        assert_eq!(ran.exit, Exit::World);
        assert!(ran.err.contains("error[write.foreign]"), "{}", ran.err);
        assert!(kept.is_file() && bench.kits() == ["K1"]);
    }
}

#[test]
fn a_folder_or_file_that_is_no_kit_is_left_alone() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.put("specs/b.toml", "kit = \"K2\"");
    bench.put("specs/c.toml", "kit = \"K3\"");
    bench.put("out/K1", "a file");
    bench.put("out/K2/diary.txt", "a folder of someone's");
    let ran = bench.draw(&[]);
    assert_eq!(ran.exit, Exit::World);
    assert_eq!(ran.err.matches("error[write.foreign]").count(), 2);
    assert_eq!(fs::read_to_string(bench.path("out/K1")).unwrap(), "a file");
    assert_eq!(names(&bench.path("out/K2")), ["diary.txt"]);
    assert_eq!(names(&bench.path("out/K3")), ["kit.json", "parts"]);
}

#[test]
fn what_a_stopped_run_left_is_put_right() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\" # refuse");
    bench.put("specs/b.toml", "kit = \"K2\"");
    // Stopped between the two moves: the older issue is aside, the new one not yet in place.
    bench.put("out/.K2.old/kit.json", "{\n  \"format\": \"blankwright-kit/1\"\n}");
    bench.put("out/.K2.new/kit.json", "{ half");
    bench.draw(&[]);
    assert_eq!(bench.kits(), ["K2"]);
    assert_eq!(names(&bench.path("out/K2")), ["kit.json", "parts"]);
}

#[test]
fn an_output_path_that_is_a_file_is_said_so() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\"");
    bench.put("out", "a file");
    let ran = bench.draw(&[]);
    assert_eq!(ran.exit, Exit::World);
    assert!(ran.err.contains("error[write.not-a-folder]"), "{}", ran.err);
    assert_eq!(fs::read_to_string(bench.path("out")).unwrap(), "a file");
}

#[test]
fn an_output_path_under_a_file_is_said_so() {
    let bench = Bench::new();
    let spec = bench.put("specs/a.toml", "kit = \"K1\"");
    let file = bench.put("file", "a file");
    let out = file.join("out");
    let ran = call(&["x", "draw", spec.to_str().unwrap(), "--out", out.to_str().unwrap()]);
    assert_eq!(ran.exit, Exit::World);
    assert!(ran.err.contains("error[write.not-a-folder]"), "{}", ran.err);
}

#[test]
fn results_do_not_depend_on_jobs() {
    let bench = Bench::new();
    for n in 0..40 {
        let ending = ["", " # refuse", " # typo", " # remark", " # panic"][n % 5];
        bench.put(&format!("specs/{n:02}.toml"), &format!("kit = \"K{n:02}\"{ending}"));
    }
    let one = bench.draw(&["--jobs", "1"]);
    let kits = bench.kits();
    let many = bench.draw(&["--jobs", "7"]);
    assert_eq!((one.exit, one.out, one.err), (many.exit, many.out, many.err));
    assert_eq!((kits.len(), kits), (16, bench.kits()));
}

#[test]
fn the_json_form_is_one_array_with_every_key() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\" # refuse");
    bench.put("specs/b.toml", "kit = \"K2\" # \u{9b}31m typo\u{1b}[31m");
    let ran = bench.draw(&["--format", "json"]);
    assert_eq!(ran.err, "");
    let rows: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let [refused, typo] = [&rows[0], &rows[1]];
    for key in [
        "check", "severity", "file", "line", "column", "subject", "found", "limit", "unit",
        "source", "message", "help",
    ] {
        assert!(refused.get(key).is_some(), "{key} is missing");
    }
    assert_eq!((&refused["found"], &refused["line"]), (&0.4.into(), &serde_json::Value::Null));
    assert!(refused["file"].as_str().unwrap().ends_with("a.toml"));
    assert_eq!((&typo["line"], &typo["column"]), (&1.into(), &19.into()));
    assert_eq!(typo["message"], "what is typo\u{1b}[31m");
    assert!(ran.out.chars().all(|c| c == '\n' || !c.is_control()));
}

#[test]
fn no_control_character_reaches_the_terminal() {
    let bench = Bench::new();
    let evil = "\u{1b}]0;owned\u{7}\u{1b}[31m\u{9b}2J\u{202e}\r\u{8}";
    bench.put("specs/a.toml", &format!("kit = \"K1{evil}\" # refuse"));
    bench.put("specs/b.toml", &format!("kit = \"K2\" # {evil} typo {evil}"));
    bench.put(&format!("specs/c{evil}.toml"), "kit = \"K3\" # typo");
    let ran = bench.draw(&[]);
    let missing = call(&["x", "check", &format!("nowhere{evil}")]);
    let flag = call(&["x", &format!("--{evil}"), "check", evil]);
    for text in [ran.out, ran.err, missing.out, missing.err, flag.err] {
        let hostile = text.chars().find(|&c| c != '\n' && (c.is_control() || c == '\u{202e}'));
        assert_eq!(hostile, None, "{text:?}");
    }
}

#[test]
fn a_check_writes_nothing() {
    let bench = Bench::new();
    let spec = bench.put("specs/a.toml", "kit = \"K1\" # remark");
    let ran = call(&["x", "check", spec.to_str().unwrap()]);
    assert_eq!((ran.exit, ran.out.as_str()), (Exit::Done, "K1: no errors, 1 warning\n"));
    assert!(ran.err.starts_with("warning[fab.demo]: a narrow web\n"), "{}", ran.err);
    assert_eq!(names(bench.folder.path()), ["specs"]);
}

#[test]
fn a_part_that_no_kit_has_is_named() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K\"");
    let ran = bench.draw(&["--parts", "01"]);
    assert_eq!((ran.exit, names(&bench.path("out/K")).len()), (Exit::Done, 2));
    let ran = bench.draw(&["--parts", "K-01,K-7"]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("no kit has a part K-7") && !ran.err.contains("part K-01"));
}

#[test]
fn findings_tell_the_numbers_and_the_way_out() {
    let bench = Bench::new();
    bench.put("specs/a.toml", "kit = \"K1\" # refuse");
    let err = bench.draw(&[]).err;
    for line in ["= about: frame", "= found: 0.4 mm, limit 0.1 mm", "= help: make it narrower"] {
        assert!(err.contains(line), "{line:?} is not in\n{err}");
    }
    bench.put("specs/a.toml", "kit = \"K1\"\n  x = \"typo\"");
    let err = bench.draw(&[]).err;
    assert!(err.contains("2 |   x = \"typo\"\n  |        ^^^^"), "{err}");
}
