//! Two revisions of a kit held against each other: each kind of change is found, and what old
//! pieces are good for is right.

use blankwright::compare::{Comparison, PartChange, SAME, State, Verdict, compare};
use blankwright::reading::KitRow;
use serde_json::{Value, json};

use crate::family::told;

/// A tray's spec of a revision, with more lines.
pub(crate) fn tray(revision: &str, lines: &str) -> String {
    format!(
        "kit = \"OTS-0902\"\ntemplate = \"sample-tray\"\nrevision = \"{revision}\"\n\
         date = \"2026-11-20\"\n\n{lines}"
    )
}

/// An amendment of the tray, of revision B.
pub(crate) fn amended(part: &str, deed: &str) -> String {
    let revision = "reason = \"came back from the laboratory\"\nrevision = \"B\"\n";
    format!("[[amendments]]\npart = \"{part}\"\n{deed}\n{revision}\n")
}

pub(crate) fn kit(text: &str) -> Value {
    let (notes, kit) = told(text);
    kit.unwrap_or_else(|| panic!("{text}\n{notes:#?}"))
}

fn row(kit: &Value) -> KitRow {
    KitRow::of_bytes(&serde_json::to_vec(kit).unwrap()).unwrap()
}

pub(crate) fn held(old: &Value, new: &Value) -> Comparison {
    compare(&row(old), &row(new))
}

/// The tray before and after; `lines` say what differs.
fn changed(lines: &str) -> Comparison {
    held(&kit(&tray("A", "")), &kit(&tray("B", lines)))
}

pub(crate) fn part<'a>(comparison: &'a Comparison, name: &str) -> &'a PartChange {
    let named = |it: &&PartChange| it.named().is_some_and(|it| it.name == name);
    comparison.parts.iter().find(named).unwrap_or_else(|| panic!("no part {name}"))
}

pub(crate) fn verdicts(part: &PartChange) -> [Verdict; 2] {
    let shelf = part.shelf.as_ref().unwrap();
    [shelf.flat.verdict, shelf.folded.verdict]
}

#[track_caller]
pub(crate) fn says(part: &PartChange, words: &str) {
    assert!(part.changes.iter().any(|it| it.contains(words)), "{words}: {:#?}", part.changes);
}

#[test]
fn nothing_changes_between_a_kit_and_itself() {
    let tray = kit(&tray("A", ""));
    let comparison = held(&tray, &tray);
    assert!(comparison.values.is_empty() && comparison.fasteners.is_empty());
    for part in &comparison.parts {
        assert_eq!((part.state, part.changes.len()), (State::Unchanged, 0));
        assert_eq!(verdicts(part), [Verdict::Good; 2]);
    }
}

#[test]
fn a_higher_side_is_told_as_a_longer_leg_and_makes_scrap() {
    let comparison = changed("[tray]\nheight = 95\n");
    let it = part(&comparison, "tray");
    assert_eq!(it.state, State::Changed);
    says(it, "leg front 90 to 95");
    says(it, "blank ");
    assert_eq!(verdicts(it), [Verdict::Scrap; 2]);
    assert!(comparison.values.iter().any(|value| value.name == "tray.height"));
    assert_eq!(part(&comparison, "lid").state, State::Unchanged);
}

#[test]
fn a_part_that_is_left_out_is_gone_and_one_that_comes_is_added() {
    let (with, without) = (kit(&tray("A", "")), kit(&tray("B", "[lid]\nfitted = false\n")));
    assert_eq!(part(&held(&with, &without), "lid").state, State::Gone);
    assert_eq!(part(&held(&without, &with), "lid").state, State::Added);
}

#[test]
fn a_drilled_hole_is_rework_and_an_old_one_in_the_way_is_scrap() {
    let cut = "cut = { face = \"base\", at = [69, 67], diameter = 8, for = \"sensor\" }";
    let it = changed(&amended("tray", cut));
    let drilled = part(&it, "tray");
    says(drilled, "amendment of B: ⌀8 mm cut in base at 69, 67 mm (came back from the laboratory)");
    says(drilled, "1 hole in base (sensor): ⌀8 added");
    assert_eq!(verdicts(drilled), [Verdict::Rework; 2]);
    let back = held(&kit(&tray("B", &amended("tray", cut))), &kit(&tray("C", "")));
    let filled = part(&back, "tray");
    says(filled, "⌀8 gone");
    says(filled, "amendment taken back, of B: ⌀8 mm cut in base");
    assert_eq!(verdicts(filled), [Verdict::Scrap; 2]);
}

#[test]
fn a_moved_hole_is_told_with_its_way_and_is_scrap() {
    let deed = "move = { face = \"base\", hole = \"drain\", near = [40, 40], by = [3.2, 0] }";
    let comparison = changed(&amended("tray", deed));
    let it = part(&comparison, "tray");
    says(it, "moved 3.2 mm (X ");
    assert_eq!(verdicts(it), [Verdict::Scrap; 2]);
    assert!(it.overlay.as_ref().is_some_and(|it| !it.removed.is_empty() && !it.added.is_empty()));
}

#[test]
fn an_opened_hole_is_rework_where_it_covers_the_old_one() {
    let deed = "enlarge = { face = \"base\", hole = \"drain\", near = [40, 40], slot = [9, 18] }";
    let comparison = changed(&amended("tray", deed));
    let it = part(&comparison, "tray");
    says(it, "now slot 9 × 18");
    assert_eq!(verdicts(it), [Verdict::Rework; 2]);
    assert!(it.shelf.as_ref().unwrap().flat.reasons[0].starts_with("open ⌀"));
}

#[test]
fn a_notch_is_rework_where_no_bend_is_cut() {
    let deed = "notch = { on = \"left_side.top\", from = 20, to = 50, depth = 9 }";
    let comparison = changed(&amended("tray", deed));
    let it = part(&comparison, "tray");
    says(it, "cut away at the edge of left side");
    assert_eq!(verdicts(it), [Verdict::Rework; 2]);
}

#[test]
fn another_sheet_is_scrap() {
    let old = kit(&tray("A", ""));
    let parts = old["parts"].as_array().unwrap();
    let lid = parts.iter().position(|part| part["name"] == "lid").unwrap();
    let new = edited(&old, &format!("/parts/{lid}/thickness"), |_| 2.0);
    let comparison = held(&old, &new);
    let it = part(&comparison, "lid");
    says(it, "sheet 1.5 to 2 mm");
    assert_eq!(verdicts(it), [Verdict::Scrap; 2]);
}

/// The tray with a number of its first part changed by hand.
fn edited(kit: &Value, at: &str, change: impl Fn(f64) -> f64) -> Value {
    let mut kit = kit.clone();
    let value = kit.pointer_mut(at).unwrap_or_else(|| panic!("{at}"));
    *value = json!(change(value.as_f64().unwrap()));
    kit
}

#[test]
fn another_angle_leaves_the_blank_and_spoils_the_fold() {
    let old = kit(&tray("A", ""));
    let new = edited(&old, "/parts/0/bends/0/angle", |angle| angle - 5.0);
    let it = held(&old, &new);
    let it = part(&it, "tray");
    says(it, "90° to 85°");
    assert_eq!(verdicts(it), [Verdict::Rework, Verdict::Scrap]);
}

#[test]
fn another_number_is_another_mark_and_no_more() {
    let old = kit(&tray("A", ""));
    let text = serde_json::to_string(&old).unwrap().replace("OTS-0902-01", "OTS-0902-07");
    let comparison = held(&old, &serde_json::from_str(&text).unwrap());
    let it = part(&comparison, "tray");
    says(it, "etched OTS-0902-07, was OTS-0902-01");
    says(it, "was OTS-0902-01");
    assert_eq!(verdicts(it), [Verdict::Rework; 2]);
}

#[test]
fn a_part_under_another_name_is_known_by_its_blank() {
    let old = kit(&tray("A", ""));
    let text = serde_json::to_string(&old).unwrap().replace("\"lid\"", "\"cover\"");
    let comparison = held(&old, &serde_json::from_str(&text).unwrap());
    assert_eq!(part(&comparison, "cover").old.as_ref().unwrap().name, "lid");
    assert!(comparison.parts.iter().all(|part| part.state == State::Unchanged));
}

/// Paths of all numbers below a value.
fn numbers(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Number(_) => found.push(path.to_owned()),
        Value::Array(items) => {
            let items = items.iter().enumerate();
            items.for_each(|(i, item)| numbers(item, &format!("{path}/{i}"), found));
        }
        Value::Object(map) => {
            map.iter().for_each(|(key, item)| numbers(item, &format!("{path}/{key}"), found));
        }
        _ => {}
    }
}

/// Whatever number of a blank, its bends or its etching differs by a hundred-thousandth of a
/// millimetre, the part is not silently good.
#[test]
fn no_difference_passes_as_good_in_silence() {
    let old = kit(&tray("A", ""));
    let part_of = |key: &str| format!("/parts/0/{key}");
    let mut paths = Vec::new();
    for key in ["blank/outer", "blank/inner", "bends", "etch", "thickness"] {
        let at = part_of(key);
        numbers(old.pointer(&at).unwrap(), &at, &mut paths);
    }
    // The neutral factor and the order do not shape the part by themselves.
    paths.retain(|path| !path.ends_with("/k") && !path.ends_with("/order"));
    assert!(paths.len() > 200, "{}", paths.len());
    // Of the many drain holes every seventh number.
    let mut count = 0;
    paths.retain(|path| {
        count += 1;
        !path.contains("/inner/") || count % 7 == 0
    });
    let bulge = |path: &str| path.contains("/outer/") && path.ends_with("/2");
    for path in paths.iter().filter(|path| !bulge(path)) {
        let new = edited(&old, path, |value| value + 1e-5);
        let comparison = held(&old, &new);
        let it = part(&comparison, "tray");
        assert_eq!(it.state, State::Changed, "{path}");
        let shelf = it.shelf.as_ref().unwrap();
        for judged in [&shelf.flat, &shelf.folded] {
            let silent = judged.verdict == Verdict::Good && judged.reasons.is_empty();
            assert!(!silent, "{path}: {:?}", it.changes);
        }
        assert!(!it.changes.is_empty(), "{path}");
    }
}

/// Below what counts as the same nothing is told: rounding along another chain of sums.
#[test]
fn rounding_is_no_change() {
    let old = kit(&tray("A", ""));
    let new = edited(&old, "/parts/0/blank/inner/0/circle/0", |x| x + SAME / 10.0);
    assert_eq!(part(&held(&old, &new), "tray").state, State::Unchanged);
}
