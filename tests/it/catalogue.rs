//! Catalogues from the command line: the same bytes however the work is shared out, numbers that
//! stay, and what changed, and only that, drawn again.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use blankwright::cli::Exit;
use serde_json::Value;

use crate::cli_bench::{Bench, Ran, call, names};

/// Two lids' worth of trays: three widths of each of two depths.
pub(crate) const TRAYS: &str = r#"
kit = "OSL-0500"
template = "sample-tray"
revision = "A"
title = "Sample tray"
date = "2026-11-25"

[[variant]]
suffix = "D"
tray.depth = 400

[[variant]]
suffix = "W"
tray.depth = 300

[sweep]
tray.width = { from = 400, to = 600, step = 100 }
"#;

const ONE_MORE: &str = r#"
[[variant]]
suffix = "A"
tray.depth = 250
sweep.tray.width = [300]
"#;

pub(crate) fn run(bench: &Bench, out: &str, more: &[&str]) -> Ran {
    let (spec, out) = (bench.path("trays.toml"), bench.path(out));
    let line = ["blankwright", "catalogue", spec.to_str().unwrap(), "--out", out.to_str().unwrap()];
    call(&[&line, more].concat())
}

pub(crate) fn bench(text: &str) -> Bench {
    let bench = Bench::new();
    bench.put("trays.toml", text);
    bench
}

/// Every file below a folder with its bytes.
pub(crate) fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    for name in names(folder) {
        let path = folder.join(&name);
        if path.is_dir() {
            let below = tree(&path).into_iter();
            files.extend(below.map(|(path, bytes)| (format!("{name}/{path}"), bytes)));
        } else {
            files.insert(name, fs::read(path).unwrap());
        }
    }
    files
}

pub(crate) fn made(bench: &Bench, out: &str) -> BTreeMap<String, Vec<u8>> {
    tree(&bench.path(out).join("OSL-0500"))
}

pub(crate) fn said(ran: &Ran) -> &str {
    ran.out.split(", in ").next().unwrap()
}

#[test]
fn threads_and_shares_do_not_show() {
    let bench = bench(TRAYS);
    let ran = run(&bench, "one", &["--jobs", "1"]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    assert_eq!(said(&ran), "OSL-0500: 6 variants, 6 drawn");
    let one = made(&bench, "one");
    assert!(one.contains_key("kits/OSL-0500-D-400/kit.json"), "{:?}", one.keys());

    assert_eq!(run(&bench, "eight", &["--jobs", "8"]).exit, Exit::Done);
    assert!(made(&bench, "eight") == one, "eight threads give other bytes than one");

    for share in ["1/3", "2/3", "3/3"] {
        let ran = run(&bench, "shares", &["--share", share]);
        assert_eq!(said(&ran), "OSL-0500: 2 variants, 2 drawn");
    }
    let shares = bench.path("shares");
    let ran = run(&bench, "merged", &["--merge", shares.to_str().unwrap()]);
    assert_eq!(said(&ran), "OSL-0500: 6 variants, 0 drawn, 6 taken from shares");
    assert!(made(&bench, "merged") == one, "merged shares give other bytes than one run");

    let part = shares.join("OSL-0500.share-2-of-3");
    fs::remove_dir_all(part).unwrap();
    let ran = run(&bench, "partly", &["--merge", shares.to_str().unwrap()]);
    assert_eq!(said(&ran), "OSL-0500: 6 variants, 2 drawn, 4 taken from shares");
    assert!(made(&bench, "partly") == one, "what a share lacks is drawn as in one run");
}

#[test]
fn a_variant_more_leaves_the_others_as_they_are() {
    let bench = bench(TRAYS);
    run(&bench, "out", &[]);
    let before = made(&bench, "out");
    // Before all others in the file, so that every one of them moves.
    let at = TRAYS.find("[[variant]]").unwrap();
    bench.put("trays.toml", &format!("{}{ONE_MORE}{}", &TRAYS[..at], &TRAYS[at..]));
    let ran = run(&bench, "out", &[]);
    assert_eq!(said(&ran), "OSL-0500: 7 variants, 1 drawn, 6 unchanged");
    let after = made(&bench, "out");
    let kept = |path: &&String| path.starts_with("kits/") || path.starts_with("parts/");
    for path in before.keys().filter(kept) {
        assert!(after.get(path) == before.get(path), "{path} changed");
    }
    run(&bench, "afresh", &[]);
    assert!(made(&bench, "afresh") == after, "a run from nothing gives other bytes");

    bench.put("trays.toml", TRAYS);
    run(&bench, "out", &[]);
    assert!(made(&bench, "out") == before, "what no variant has any more is left over");
}

#[test]
fn what_was_tampered_with_is_drawn_again() {
    let bench = bench(TRAYS);
    run(&bench, "out", &[]);
    let whole = made(&bench, "out");
    let ran = run(&bench, "out", &[]);
    assert_eq!(said(&ran), "OSL-0500: 6 variants, 0 drawn, 6 unchanged");
    let folder = bench.path("out").join("OSL-0500");
    let own = folder.join("kits/OSL-0500-W-500");
    let shared = whole.keys().find(|path| path.starts_with("parts/")).unwrap();
    for (path, least) in [
        (own.join("kit.json"), 1),
        (own.join(".made.json"), 1),
        (folder.join(shared), 1),
        (folder.join("uses.csv"), 0),
    ] {
        for change in ["more", "gone"] {
            match change {
                "more" => fs::write(&path, [&fs::read(&path).unwrap()[..], b" "].concat()).unwrap(),
                _ => fs::remove_file(&path).unwrap(),
            }
            let ran = run(&bench, "out", &[]);
            assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
            let drawn = 6 - unchanged(&ran);
            assert!(least <= drawn && drawn < 6, "{change} {}: {}", path.display(), ran.out);
            assert!(made(&bench, "out") == whole, "{change} {}", path.display());
        }
    }
}

fn unchanged(ran: &Ran) -> usize {
    let word = ran.out.split(", ").find_map(|words| words.strip_suffix(" unchanged"));
    word.map_or(0, |count| count.parse().unwrap())
}

#[test]
fn another_shop_draws_again_what_follows_from_it() {
    let bench = bench(TRAYS);
    let shop = bench.path("shop");
    fs::create_dir_all(&shop).unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/shop");
    for name in names(&root) {
        fs::copy(root.join(&name), shop.join(&name)).unwrap();
    }
    let with = ["--shop", shop.to_str().unwrap()];
    run(&bench, "out", &with);
    let before = made(&bench, "out");
    assert_eq!(unchanged(&run(&bench, "out", &with)), 6);
    let owner = "Saltmarsh Modular";
    let file = names(&shop).into_iter().map(|name| shop.join(name));
    let file = file.into_iter().find(|path| fs::read_to_string(path).unwrap().contains(owner));
    let file = file.unwrap();
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replace(owner, "Saltmarsh Modular, Otter Sound yard")).unwrap();
    let ran = run(&bench, "out", &with);
    assert_eq!(said(&ran), "OSL-0500: 6 variants, 6 drawn");
    let after = made(&bench, "out");
    let changed = |path: &str| before[path] != after[path];
    assert!(changed("kits/OSL-0500-D-400/kit.json"), "the owner stands in kit.json");
    let parts: Vec<&String> = before.keys().filter(|path| path.starts_with("parts/")).collect();
    assert!(parts.iter().all(|path| !changed(path)), "the owner is lasered on no part");
    run(&bench, "afresh", &with);
    assert!(made(&bench, "afresh") == after);
}

#[test]
fn equal_parts_have_one_number_and_different_parts_have_two() {
    let bench = bench(TRAYS);
    run(&bench, "out", &[]);
    let kits = bench.path("out").join("OSL-0500/kits");
    let mut shapes: BTreeMap<String, Value> = BTreeMap::new();
    let mut numbers: BTreeMap<String, String> = BTreeMap::new();
    let mut uses = 0;
    for kit in names(&kits) {
        let text = fs::read(kits.join(&kit).join("kit.json")).unwrap();
        let json: Value = serde_json::from_slice(&text).unwrap();
        assert_eq!(json["catalogue"]["number"], "OSL-0500");
        for (i, part) in json["parts"].as_array().unwrap().iter().enumerate() {
            let number = part["number"].as_str().unwrap().to_owned();
            let both = &json["catalogue"]["parts"][i];
            assert_eq!(both["number"], part["number"]);
            let in_kit = both["number_in_kit"].as_str().unwrap();
            assert!(in_kit.starts_with(&format!("{kit}-0")), "{in_kit}");
            let etched = part["etch"].to_string();
            let shape = serde_json::json!([part["blank"], part["bends"], part["title"], etched]);
            let same = shapes.entry(number.clone()).or_insert_with(|| shape.clone());
            assert!(*same == shape, "{number} is two parts");
            // Without what is etched, which the number is part of.
            let bare = serde_json::json!([part["blank"], part["bends"], part["title"]]).to_string();
            let known = numbers.entry(bare).or_insert_with(|| number.clone());
            assert_eq!(*known, number, "one part has two numbers");
            uses += 1;
        }
    }
    assert!(numbers.len() < uses, "no part serves two kits");
    let files = names(&bench.path("out").join("OSL-0500/parts"));
    let expected: Vec<String> = shapes.keys().map(|number| format!("{number}.dxf")).collect();
    assert_eq!(files, expected);
    let table = fs::read_to_string(bench.path("out").join("OSL-0500/uses.csv")).unwrap();
    assert_eq!(table.lines().count(), uses + 1);
}

#[test]
fn a_kit_of_a_catalogue_is_proved_with_its_shared_parts() {
    let bench = bench(TRAYS);
    run(&bench, "out", &[]);
    let folder = bench.path("out").join("OSL-0500");
    let kit = folder.join("kits/OSL-0500-D-500");
    let prove = || call(&["blankwright", "prove", kit.to_str().unwrap()]);
    let ran = prove();
    assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
    let json: Value = serde_json::from_slice(&fs::read(kit.join("kit.json")).unwrap()).unwrap();
    let part = json["parts"][0]["number"].as_str().unwrap();
    fs::remove_file(folder.join(format!("parts/{part}.dxf"))).unwrap();
    let ran = prove();
    assert_eq!(ran.exit, Exit::Refused);
    assert!(ran.err.contains("error[proof.files]") && ran.err.contains(part), "{}", ran.err);
}

#[test]
fn a_refused_variant_is_told_and_the_others_are_drawn() {
    let bench = bench(&TRAYS.replace("tray.depth = 300", "tray.depth = 3000"));
    for _ in 0..2 {
        let ran = run(&bench, "out", &[]);
        assert_eq!(ran.exit, Exit::Refused);
        let told = "error[spec.range]: OSL-0500-W-400, and likewise 2 more: `tray.depth` is 3000";
        assert!(ran.err.contains(told), "{}", ran.err);
        assert_eq!(ran.err.matches("error[").count(), 1);
    }
    let out = bench.path("out").join("OSL-0500");
    let kits = names(&out.join("kits"));
    assert_eq!(kits, ["OSL-0500-D-400", "OSL-0500-D-500", "OSL-0500-D-600"]);
    let findings = fs::read_to_string(out.join("findings.csv")).unwrap();
    assert_eq!(findings.matches("error,spec.range").count(), 3, "{findings}");
    // Made before, refused now: what stood there goes.
    bench.put("trays.toml", TRAYS);
    assert_eq!(run(&bench, "out", &[]).exit, Exit::Done);
    bench.put("trays.toml", &TRAYS.replace("tray.depth = 300", "tray.depth = 3000"));
    run(&bench, "out", &[]);
    assert_eq!(names(&out.join("kits")), kits);
}
