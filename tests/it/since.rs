//! A revision that follows another: what did not change keeps number, revision and bytes, and the
//! revision tables fill themselves.

use blankwright::pipeline::{Built, Earlier, Only, Source, Trial, Want, build_tried};
use serde_json::Value;

use crate::compare::{amended, tray};
use crate::family::spec;
use crate::law_stock::STOCK;

const NOTCH: &str = "notch = { on = \"left_side.top\", from = 20, to = 50, depth = 9 }";

fn drawn(text: &str, earlier: &[Earlier]) -> Built {
    let source = Source { name: "trial.toml".into(), bytes: text.as_bytes().to_vec() };
    let trial = Trial { earlier, ..Trial::none() };
    build_tried(&source, &STOCK, &Want::Unproved(Only::default()), &trial)
}

fn bytes<'a>(built: &'a Built, path: &str) -> &'a [u8] {
    let files = built.files.as_ref().unwrap_or_else(|| panic!("{:#?}", built.notes));
    &files.iter().find(|file| file.path == path).unwrap().bytes
}

fn kit(built: &Built) -> Value {
    serde_json::from_slice(bytes(built, "kit.json")).unwrap()
}

fn earlier(built: &Built) -> [Earlier; 1] {
    [Earlier::of_bytes(bytes(built, "kit.json")).unwrap()]
}

/// Each part's name with its number and revision.
fn issued(kit: &Value) -> Vec<[String; 3]> {
    let text = |part: &Value, key: &str| part[key].as_str().unwrap().to_owned();
    let parts = kit["parts"].as_array().unwrap().iter();
    parts.map(|part| ["name", "number", "revision"].map(|key| text(part, key))).collect()
}

fn part<'a>(kit: &'a Value, name: &str) -> &'a Value {
    kit["parts"].as_array().unwrap().iter().find(|part| part["name"] == name).unwrap()
}

#[test]
fn what_did_not_change_keeps_revision_and_bytes() {
    let first = drawn(&tray("A", ""), &[]);
    let second = drawn(&tray("B", &amended("tray", NOTCH)), &earlier(&first));
    let kit = kit(&second);
    for [name, number, revision] in issued(&kit) {
        assert_eq!(revision, if name == "tray" { "B" } else { "A" }, "{name}");
        if revision == "A" {
            for path in [format!("parts/{number}.dxf"), format!("parts/{number}.svg")] {
                assert!(bytes(&first, &path) == bytes(&second, &path), "{path}");
            }
        }
    }
    assert_eq!(kit["previous"]["revision"], "A");
    let rows = kit["revisions"].as_array().unwrap();
    let texts: Vec<&str> = rows.iter().map(|row| row["text"].as_str().unwrap()).collect();
    let notch =
        "notch 30 × 9 mm, top edge of left side, 20 to 50 mm (came back from the laboratory)";
    assert_eq!(texts, [&format!("01: {notch}")], "said once");
    assert_eq!(part(&kit, "tray")["revisions"].as_array().unwrap().len(), 1);
    assert_eq!(part(&kit, "tray")["revisions"][0]["text"], notch);
    let again = drawn(&tray("B", &amended("tray", NOTCH)), &earlier(&first));
    assert!(again.files == second.files, "the same input gives the same bytes");
}

#[test]
fn a_third_revision_carries_the_second_ones_lines_on() {
    let first = drawn(&tray("A", ""), &[]);
    let second = drawn(&tray("B", &amended("tray", NOTCH)), &earlier(&first));
    let more = amended("tray", NOTCH) + "[tray]\nrim = 20\n";
    let third = kit(&drawn(&tray("C", &more), &earlier(&second)));
    let rows = third["parts"][0]["revisions"].as_array().unwrap();
    let indexes: Vec<&str> = rows.iter().map(|row| row["index"].as_str().unwrap()).collect();
    assert_eq!(indexes, ["B", "C"]);
    assert!(rows[1]["text"].as_str().unwrap().contains("leg front rim 18 to 20"), "{rows:?}");
    let lid = &issued(&third).into_iter().find(|part| part[0] == "lid").unwrap();
    assert_eq!(lid[2], "A");
    let last = third["revisions"].as_array().unwrap().last().unwrap();
    assert_eq!(last["text"], "Since B: tray.rim 18 to 20; changed 01");
}

/// An amendment has its own line; the line on the revision before tells the rest and nothing twice.
#[test]
fn an_amended_part_that_changed_besides_has_both_lines() {
    let first = drawn(&tray("A", ""), &[]);
    let hole = "cut = { face = \"base\", at = [69, 67], diameter = 8, for = \"sensor\" }";
    let lines = amended("tray", NOTCH) + &amended("tray", hole) + "[tray]\nrim = 20\n";
    let second = kit(&drawn(&tray("B", &lines), &earlier(&first)));
    let rows = part(&second, "tray")["revisions"].as_array().unwrap();
    let texts: Vec<&str> = rows.iter().map(|row| row["text"].as_str().unwrap()).collect();
    assert_eq!(texts.len(), 3, "{texts:#?}");
    assert!(texts[0].starts_with("notch 30 × 9 mm, top edge of left side"), "{texts:#?}");
    assert!(texts[1].starts_with("⌀8 mm cut in base"), "{texts:#?}");
    assert!(texts[2].starts_with("Since A: "), "{texts:#?}");
    assert!(texts[2].contains("leg front rim 18 to 20"), "{texts:#?}");
    assert!(!texts[2].contains("amendment"), "{texts:#?}");
    assert!(!texts[2].contains("cut away") && !texts[2].contains("sensor"), "{texts:#?}");
    let rows = second["revisions"].as_array().unwrap();
    assert_eq!(rows.last().unwrap()["text"], "Since A: tray.rim 18 to 20; changed 01");
    assert_eq!(rows.len(), 3);
}

#[test]
fn numbers_stay_where_a_part_comes_between() {
    let lines = |foam: u32| {
        format!(
            "[container]\ntype = \"40ft-high-cube\"\nwall = \"left\"\n[foam]\nthickness = {foam}\n"
        )
    };
    let first = drawn(&spec("overhead-door", &lines(0)), &[]);
    let text = spec("overhead-door", &lines(50)).replace("revision = \"A\"", "revision = \"B\"");
    let alone = kit(&drawn(&text, &[]));
    let second = kit(&drawn(&text, &earlier(&first)));
    let number = |kit: &Value, name: &str| {
        issued(kit).into_iter().find(|part| part[0] == name).map(|part| part[1].clone())
    };
    let first = kit(&first);
    let outside = number(&first, "outside-trim-left");
    let highest = issued(&first).iter().map(|part| part[1].clone()).max();
    assert_ne!(number(&alone, "outside-trim-left"), outside, "the inside trim comes before it");
    assert_eq!(number(&second, "outside-trim-left"), outside);
    assert!(number(&second, "inside-trim-left") > highest, "a new part takes a new number");
    let numbers: Vec<String> = issued(&second).into_iter().map(|part| part[1].clone()).collect();
    assert!(numbers.is_sorted(), "{numbers:?}");
}

#[test]
fn one_letter_cannot_stand_for_two_contents() {
    let first = drawn(&tray("B", ""), &[]);
    let again = drawn(&tray("B", &amended("tray", NOTCH)), &earlier(&first));
    assert!(again.notes.all().iter().any(|it| it.check == "since.revision"));
    assert!(again.files.is_none());
    let same = drawn(&tray("B", ""), &earlier(&first));
    assert!(same.files.is_some(), "{:#?}", same.notes);
}

#[test]
fn a_kit_that_was_not_there_has_nothing_to_follow() {
    let first = drawn(&tray("A", ""), &[]);
    let other = tray("A", "").replace("OTS-0902", "OTS-0903");
    let told = drawn(&other, &earlier(&first));
    assert!(told.notes.all().iter().any(|it| it.check == "since.kit"), "{:#?}", told.notes);
}
