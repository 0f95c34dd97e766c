//! Sheets as they come out: common sheets of kits, what is told when something cannot be laid out,
//! remnants, grain, and what the files say.

use std::collections::BTreeMap;

use blankwright::nest::Effort;
use blankwright::note::{Notes, Severity};
use blankwright::pipeline::{CommonSheets, SheetsAsked, Source, Stock, common_sheets};

use crate::law_stock::texts;

/// The trays of the laboratory, small parts of one sheet.
pub(crate) fn trays(more: &str) -> Source {
    let spec = include_str!("../../sample-specs/lab-tray.toml");
    Source { name: "trays.toml".to_owned(), bytes: spec.replace("width = 600", more).into_bytes() }
}

/// The shop with changes in its file.
pub(crate) fn stock(changes: &[(&str, &str)]) -> Stock {
    let mut shelf = [texts("templates/shop"), texts("templates/containers")].concat();
    let shop = shelf.iter_mut().find(|source| source.name.ends_with("shop.toml")).unwrap();
    let mut text = String::from_utf8(shop.bytes.clone()).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    shop.bytes = text.into_bytes();
    let mut notes = Notes::default();
    let stock = Stock::read(&texts("templates"), &shelf, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    stock.unwrap()
}

pub(crate) fn asked(times: u32, partial: bool) -> SheetsAsked {
    SheetsAsked { effort: Effort::Quick, seed: 1, times, partial }
}

pub(crate) fn laid(stock: &Stock, source: Source, asked: SheetsAsked) -> CommonSheets {
    common_sheets(&[source], stock, &asked, &|count, work| (0..count).for_each(work))
}

fn file<'a>(made: &'a CommonSheets, path: &str) -> &'a [u8] {
    let files = made.files.as_ref().unwrap();
    &files.iter().find(|file| file.path == path).unwrap().bytes
}

fn json(made: &CommonSheets) -> serde_json::Value {
    serde_json::from_slice(file(made, "sheets.json")).unwrap()
}

fn told(made: &CommonSheets) -> Vec<String> {
    let kits = made.kits.iter().flatten().flat_map(|built| built.notes.all());
    let errors = kits.chain(made.notes.all()).filter(|f| f.severity == Severity::Error);
    errors.map(|f| format!("{}: {}", f.check, f.message)).collect()
}

#[test]
fn every_part_lies_as_often_as_it_is_needed() {
    let made = laid(&stock(&[]), trays("width = 600"), asked(7, false));
    assert!(told(&made).is_empty(), "{:?}", told(&made));
    let json = json(&made);
    let mut counts: BTreeMap<String, u64> = BTreeMap::new();
    for sheet in json["sheets"].as_array().unwrap() {
        let copies = sheet["copies"].as_u64().unwrap();
        for part in sheet["parts"].as_array().unwrap() {
            *counts.entry(part["number"].as_str().unwrap().to_owned()).or_default() += copies;
        }
        let path = sheet["file"].as_str().unwrap();
        assert!(file(&made, path).starts_with(b"  0\r\nSECTION"));
    }
    for part in json["parts"].as_array().unwrap() {
        let (needed, there) = (&part["quantity"], &part["laid"]);
        assert_eq!(needed, there);
        assert_eq!(counts[part["number"].as_str().unwrap()], needed.as_u64().unwrap());
        assert_eq!(needed.as_u64().unwrap() % 7, 0);
    }
    assert_eq!(json["kits"][0]["times"], 7);
    let rows = String::from_utf8(file(&made, "sheets.csv").to_vec()).unwrap();
    assert_eq!(rows.lines().count(), 1 + rows.matches("OSL-0410-").count());
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    let stock = stock(&[]);
    let [one, two] = [3, 3].map(|times| laid(&stock, trays("width = 600"), asked(times, false)));
    assert!(one.files.is_some() && one.files == two.files);
}

#[test]
fn a_remnant_is_used_before_whole_sheets() {
    let remnant = "[[shop.remnant]]\nname = \"R-1\"\nmaterial = \"stainless-304\"\n\
                   thickness = 1.5\nsize = [2400, 1000]\nblocked = [[0, 0, 100, 1000]]\n\n[shop.nest]";
    let plain = json(&laid(&stock(&[]), trays("width = 600"), asked(1, false)));
    let (material, thickness) = (&plain["sheets"][0]["material"], &plain["sheets"][0]["thickness"]);
    let id = stock(&[]).shelf.materials.iter().find(|m| m.title == *material).unwrap().id.clone();
    let remnant = remnant
        .replace("stainless-304", &id)
        .replace("thickness = 1.5", &format!("thickness = {thickness}"));
    let stock = stock(&[("[shop.nest]", &remnant)]);
    let made = json(&laid(&stock, trays("width = 600"), asked(1, false)));
    let first = &made["sheets"][0];
    assert_eq!((&first["stock"], &first["stock_remnant"]), (&"remnant R-1".into(), &true.into()));
    assert_eq!((&first["width"], &first["height"]), (&2400.0.into(), &1000.0.into()));
    // The blocked strip is 100 wide; parts keep the gap to it.
    for part in first["parts"].as_array().unwrap() {
        assert!(105.0 - 1e-9 <= part["x"].as_f64().unwrap(), "{part}");
    }
}

#[test]
pub(crate) fn stock_that_runs_out_is_told_and_the_rest_laid_out_on_request() {
    let few = stock(&[("[[shop.sheet]]\n", "[[shop.sheet]]\ncount = 1\n")]);
    let refused = laid(&few, trays("width = 600"), asked(200, false));
    assert!(refused.files.is_none());
    let told_of = told(&refused);
    assert!(told_of.iter().any(|t| t.starts_with("sheets.run-out: OSL-0410-")), "{told_of:?}");
    let partial = laid(&few, trays("width = 600"), asked(200, true));
    assert_eq!(told(&partial), told_of);
    let json = json(&partial);
    let short = json["parts"].as_array().unwrap().iter();
    let short: Vec<bool> = short.map(|p| p["laid"].as_u64() < p["quantity"].as_u64()).collect();
    assert!(short.contains(&true), "{json}");
    let used: u64 =
        json["sheets"].as_array().unwrap().iter().map(|s| s["copies"].as_u64().unwrap()).sum();
    assert!((1..=5).contains(&used), "{used} sheets of at most one of each size");
}

#[test]
fn grain_forbids_quarter_turns() {
    let mut with_grain = stock(&[]);
    for material in &mut with_grain.shelf.materials {
        material.grain = true;
    }
    let made = json(&laid(&with_grain, trays("width = 600"), asked(20, false)));
    for sheet in made["sheets"].as_array().unwrap() {
        for part in sheet["parts"].as_array().unwrap() {
            assert!([0, 180].contains(&part["turn"].as_i64().unwrap()), "{part}");
            assert_eq!(part["mirrored"], false);
        }
    }
}
