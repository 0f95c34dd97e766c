//! Catalogues drawn again: what was refused and why is kept and said in every run, shares are held
//! against what they were made from, and a folder is proved as a whole.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use blankwright::cli::Exit;
use serde_json::Value;

use crate::catalogue::{TRAYS, bench, made, run, said, tree};
use crate::cli_bench::{Bench, call, names};

/// One of two depths is beyond its family's limit.
fn half_refused() -> String {
    TRAYS.replace("tray.depth = 300", "tray.depth = 3000")
}

/// A window whose head is screened with a warning at its wider width.
const WINDOWS: &str = r#"
kit = "OSL-0700"
template = "window"
revision = "A"
date = "2026-11-28"
container = { type = "40ft", wall = "left" }
opening = { sill_height = 1050, clear_height = 900 }
[sweep]
opening.clear_width = [800, 1340]
"#;

#[test]
fn what_is_said_is_said_in_every_run() {
    let bench = bench(&half_refused());
    let first = run(&bench, "out", &[]);
    assert!(first.err.contains("trays.toml:15:14") || first.err.contains(":14"), "{}", first.err);
    let again = run(&bench, "out", &[]);
    assert_eq!((again.exit, &again.err), (Exit::Refused, &first.err));

    bench.put("trays.toml", WINDOWS);
    let first = run(&bench, "windows", &[]);
    assert!(first.err.contains("warning[load.screen]: OSL-0700-1340"), "{}", first.err);
    let again = run(&bench, "windows", &[]);
    assert_eq!(said(&again), "OSL-0700: 2 variants, 0 drawn, 2 unchanged");
    assert_eq!((again.exit, again.err), (Exit::Done, first.err));
}

#[test]
fn a_refusal_is_not_tried_again_until_something_changes() {
    let bench = bench(&half_refused());
    run(&bench, "out", &[]);
    let folder = bench.path("out/OSL-0500/.refused");
    assert_eq!(names(&folder).len(), 3);
    // Another reason in the record is what the next run tells: nothing was worked out.
    let record = folder.join("OSL-0500-W-400.json");
    let text = fs::read_to_string(&record).unwrap();
    fs::write(&record, text.replace("is 3000 mm", "is far too much")).unwrap();
    let ran = run(&bench, "out", &[]);
    assert!(ran.err.contains("`tray.depth` is far too much"), "{}", ran.err);
    // A record that names no error, or does not read, is no reason.
    for broken in ["{}", &text.replace("\"error\"", "\"warning\""), &text[..text.len() / 2]] {
        fs::write(&record, broken).unwrap();
        let ran = run(&bench, "out", &[]);
        assert!(ran.err.contains("`tray.depth` is 3000 mm"), "{}", ran.err);
        assert_eq!(fs::read_to_string(&record).unwrap(), text);
    }
    // Another value: the old reason is gone, and with the last refusal its record.
    bench.put("trays.toml", &half_refused().replace("3000", "4000"));
    assert!(run(&bench, "out", &[]).err.contains("`tray.depth` is 4000 mm"));
    bench.put("trays.toml", TRAYS);
    assert_eq!(run(&bench, "out", &[]).exit, Exit::Done);
    assert!(names(&folder).is_empty());
}

#[test]
fn a_reason_that_was_kept_points_at_the_place_of_today() {
    let bench = bench(&half_refused());
    run(&bench, "out", &[]);
    let moved = format!("# Three lines\n# more at\n# its top.\n{}", half_refused());
    bench.put("trays.toml", &moved);
    let kept = run(&bench, "out", &[]);
    let afresh = run(&bench, "afresh", &[]);
    assert_eq!(kept.err, afresh.err);
    let line = 1 + moved.lines().position(|line| line.contains("3000")).unwrap();
    assert!(kept.err.contains(&format!("trays.toml:{line}:14")), "{}", kept.err);
    // What is kept is the same whichever way it came about.
    assert!(made(&bench, "out") == made(&bench, "afresh"));
}

/// Draws all shares of a catalogue to a folder.
fn shares(bench: &Bench, to: &str, of: usize) {
    for one in 1..=of {
        run(bench, to, &["--share", &format!("{one}/{of}")]);
    }
}

fn merge(bench: &Bench, out: &str, from: &str) -> crate::cli_bench::Ran {
    run(bench, out, &["--merge", bench.path(from).to_str().unwrap()])
}

#[test]
fn shares_come_to_the_bytes_of_one_run() {
    let bench = bench(&half_refused());
    run(&bench, "one", &[]);
    let one = made(&bench, "one");
    for of in [3, 16] {
        let to = format!("shares{of}");
        shares(&bench, &to, of);
        // A share that is drawn twice is what it was.
        let before = tree(&bench.path(&to));
        shares(&bench, &to, of);
        assert!(tree(&bench.path(&to)) == before);
        let out = format!("merged{of}");
        let ran = merge(&bench, &out, &to);
        assert_eq!(said(&ran), "OSL-0500: 6 variants, 0 drawn, 3 taken from shares, 3 refused");
        assert!(!ran.err.contains("catalogue.shares"), "{}", ran.err);
        assert!(made(&bench, &out) == one, "{of} shares give other bytes than one run");
    }
}

#[test]
fn a_share_that_is_missing_or_was_stopped_is_told() {
    let bench = bench(TRAYS);
    run(&bench, "one", &[]);
    let one = made(&bench, "one");
    shares(&bench, "shares", 3);
    let third = bench.path("shares/OSL-0500.share-3-of-3");
    fs::remove_dir_all(bench.path("shares/OSL-0500.share-2-of-3")).unwrap();
    fs::remove_dir_all(third.join("kits/OSL-0500-D-600")).unwrap();
    let record = fs::read_to_string(third.join(".catalogue.json")).unwrap();
    fs::write(third.join(".catalogue.json"), record.replace("true", "false")).unwrap();
    let ran = merge(&bench, "merged", "shares");
    let told = "warning[catalogue.shares]: 3 variants are in none of the shares and had to be drawn \
                here; missing of 3 shares: 2; not finished: 3";
    assert!(ran.err.contains(told), "{}", ran.err);
    assert_eq!(ran.exit, Exit::Done);
    assert!(made(&bench, "merged") == one);
}

#[test]
fn a_share_made_from_something_else_is_refused() {
    let bench = bench(TRAYS);
    shares(&bench, "shares", 2);
    let refused = |more: &[&str], why: &str| {
        let from = bench.path("shares");
        let ran = run(&bench, "merged", &[&["--merge", from.to_str().unwrap()], more].concat());
        assert_eq!(ran.exit, Exit::Unusable, "{}", ran.err);
        assert!(
            ran.err.contains("error[catalogue.other-share]") && ran.err.contains(why),
            "{}",
            ran.err
        );
        assert!(!bench.path("merged").exists(), "something was written");
    };
    refused(&["--only", "json"], "holds other files (json, dxf) than are asked for (json)");
    bench.put("trays.toml", &TRAYS.replace("to = 600", "to = 700"));
    refused(&[], "was drawn from another text of the spec");
    bench.put("trays.toml", TRAYS);
    let record = bench.path("shares/OSL-0500.share-2-of-2/.catalogue.json");
    let text = fs::read_to_string(&record).unwrap();
    let json: Value = serde_json::from_str(&text).unwrap();
    for (key, why) in [
        ("program", "was drawn by another version of the program"),
        ("data_sha256", "was drawn with other families, containers or shop data"),
        ("catalogue", "is of another catalogue, 0"),
        ("format", "has no record of its making"),
    ] {
        let own = json[key].as_str().unwrap();
        fs::write(&record, text.replace(&format!("\"{own}\""), "\"0\"")).unwrap();
        refused(&[], why);
    }
    let nowhere = bench.path("nowhere");
    let ran = run(&bench, "merged", &["--merge", nowhere.to_str().unwrap()]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("error[catalogue.no-share]"), "{}", ran.err);
}

#[test]
fn a_part_on_the_shelf_keeps_its_number() {
    let bench = bench(TRAYS);
    run(&bench, "out", &[]);
    let numbers = || {
        let list = fs::read_to_string(bench.path("out/OSL-0500/uses.csv")).unwrap();
        let row = |line: &str| {
            let cells: Vec<&str> = line.split(',').collect();
            ((cells[0].to_owned(), cells[2].to_owned()), cells[1].to_owned())
        };
        list.lines().skip(1).map(row).collect::<BTreeMap<_, _>>()
    };
    let before = numbers();
    let more = "[[variant]]\nsuffix = \"M\"\ntray.depth = 350\n\n[[variant]]\nsuffix = \"W\"";
    let wider = TRAYS
        .replace("[[variant]]\nsuffix = \"W\"", more)
        .replace("from = 400, to = 600, step = 100", "from = 350, to = 700, step = 50");
    bench.put("trays.toml", &wider.replace("Sample tray", "Sample tray, more of them"));
    run(&bench, "out", &[]);
    let after = numbers();
    assert_eq!(after.len(), before.len() / 6 * 24);
    for (of, number) in &before {
        assert_eq!(after.get(of), Some(number), "{of:?}");
    }
}

#[test]
fn a_catalogue_is_proved_as_a_whole() {
    let bench = bench(&half_refused());
    run(&bench, "out", &[]);
    let folder = bench.path("out/OSL-0500");
    let prove = || call(&["blankwright", "prove", folder.to_str().unwrap()]);
    let ran = prove();
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    assert!(ran.out.starts_with("OSL-0500, 3 kits: proved in"), "{}", ran.out);
    let whole = tree(&folder);
    let kit = "kits/OSL-0500-D-500/kit.json";
    let part = whole.keys().find(|path| path.starts_with("parts/")).unwrap();
    let (record, uses) = (".catalogue.json", "uses.csv");
    let text = |path: &str| String::from_utf8(whole[path].clone()).unwrap();
    for (path, spoilt, code) in [
        (kit, text(kit).replace("\"quantity\": 1", "\"quantity\": 2"), "error[proof."),
        (part, text(part).replacen("\nCUT_INSIDE", "\nETCH", 1), "error[proof."),
        (record, text(record).replace("true", "false"), "error[proof.catalogue]: the run that"),
        (
            uses,
            text(uses).replacen(",1\r\n", ",2\r\n", 1),
            "error[proof.catalogue]: uses.csv lacks",
        ),
        ("parts/OSL-P-000000000.dxf", text(part), "error[proof.catalogue]: parts/OSL-P-000000000"),
    ] {
        assert!(whole.get(path).is_none_or(|bytes| *bytes != spoilt.as_bytes()), "{path}");
        fs::write(folder.join(path), spoilt).unwrap();
        let ran = prove();
        assert_eq!(ran.exit, Exit::Refused, "{path}: {}", ran.out);
        assert!(ran.err.contains(code), "{path}: {}", ran.err);
        run(&bench, "out", &[]);
        assert!(tree(&folder) == whole, "{path} was not put right");
    }
}

/// Where the links of a page lead, but for those inside of it.
fn links(page: &str) -> Vec<String> {
    let all = page.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let shown = all.map(|link| link.replace("&#x2f;", "/"));
    shown.filter(|link| !link.starts_with('#')).collect()
}

fn assert_links(page: &Path) {
    let text = fs::read_to_string(page).unwrap();
    let found = links(&text);
    assert!(found.iter().any(|link| link.contains("parts/")), "{}: {found:?}", page.display());
    for link in found {
        assert!(page.parent().unwrap().join(&link).is_file(), "{}: {link}", page.display());
    }
}

#[test]
fn pages_lead_to_the_files_of_shared_parts() {
    let bench = bench(TRAYS);
    run(&bench, "out", &["--only", "dxf,svg,html"]);
    let folder = bench.path("out/OSL-0500");
    assert_links(&folder.join("commonality.html"));
    assert_links(&folder.join("kits/OSL-0500-D-400/index.html"));
    let page = fs::read_to_string(folder.join("kits/OSL-0500-D-400/index.html")).unwrap();
    assert!(links(&page).contains(&"../../commonality.html".to_owned()));
    let part = names(&folder.join("parts")).into_iter().find(|name| name.ends_with(".svg"));
    let preview = fs::read_to_string(folder.join("parts").join(part.unwrap())).unwrap();
    assert!(preview.contains("pieces: uses.csv") && !preview.contains(" pc "));
}

#[test]
fn a_kit_that_is_sold_is_drawn_whole() {
    let bench = bench(&half_refused());
    let ran = run(&bench, "sold", &["--kits", "OSL-0500-D-500,OSL-0500-D-400"]);
    assert_eq!(
        (ran.exit, names(&bench.path("sold"))),
        (Exit::Done, vec!["OSL-0500-D-400".into(), "OSL-0500-D-500".into()]),
        "{}",
        ran.err
    );
    let kit = bench.path("sold/OSL-0500-D-500");
    let own = tree(&kit);
    for there in ["kit.json", "drawings.pdf", "quote.pdf", "sheets.pdf", "sheets/sheet-01.dxf"] {
        assert!(own.contains_key(there), "{:?}", own.keys());
    }
    assert_links(&kit.join("index.html"));
    assert_eq!(call(&["blankwright", "prove", kit.to_str().unwrap()]).exit, Exit::Done);
    // Its parts are those of the catalogue, to the byte.
    run(&bench, "out", &[]);
    let shared = tree(&bench.path("out/OSL-0500"));
    let parts = own.iter().filter(|(path, _)| path.starts_with("parts/") && path.ends_with("dxf"));
    assert!(parts.clone().count() > 0 && parts.clone().all(|(path, bytes)| shared[path] == *bytes));

    let ran = run(&bench, "none", &["--kits", "OSL-0500-D-50"]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("did you mean OSL-0500-D-500?"), "{}", ran.err);
    let ran = run(&bench, "none", &["--kits", "OSL-0500-W-500"]);
    assert_eq!((ran.exit, names(&bench.path("none")).len()), (Exit::Unusable, 0), "{}", ran.err);
}

#[test]
fn sheets_are_laid_out_for_each_kit_when_asked_for() {
    let bench = bench(TRAYS);
    run(&bench, "out", &["--sheets"]);
    let kit = bench.path("out/OSL-0500/kits/OSL-0500-D-400");
    let files: Vec<String> = tree(&kit).into_keys().collect();
    let expected = [".made.json", "kit.json", "sheets.csv", "sheets.pdf", "sheets/sheet-01.dxf"];
    assert_eq!(files, expected);
    let json: Value = serde_json::from_slice(&fs::read(kit.join("kit.json")).unwrap()).unwrap();
    assert_eq!(json["sheets"].as_array().unwrap().len(), 1);
    let folder = bench.path("out/OSL-0500");
    assert_eq!(call(&["blankwright", "prove", folder.to_str().unwrap()]).exit, Exit::Done);
    assert_eq!(
        said(&run(&bench, "out", &["--sheets"])),
        "OSL-0500: 6 variants, 0 drawn, 6 unchanged"
    );
    run(&bench, "out", &[]);
    assert_eq!(names(&kit), [".made.json", "kit.json"]);
}
