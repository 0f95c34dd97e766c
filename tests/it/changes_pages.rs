//! Pages and pictures of a comparison: texts stand free, small differences are shown large, and
//! nothing is told by colour.

use blankwright::compare::Comparison;
use blankwright::draw::{Fill, Item, Shape, Sheet, changes, overlay_picture};
use serde_json::{Value, json};

use crate::compare::{amended, held, kit, tray};
use crate::draw_collisions::collisions;
use crate::family::spec;

/// Every page and every picture of its own.
fn sheets(comparison: &Comparison) -> Vec<Sheet> {
    let mut all = changes(comparison);
    for part in &comparison.parts {
        let picture = |overlay| overlay_picture(comparison, part, overlay);
        all.extend(part.overlay.as_ref().map(picture));
    }
    all
}

fn texts(sheet: &Sheet) -> Vec<&str> {
    let mut all = Vec::new();
    for item in &sheet.items {
        if let Item::Text(text) = item {
            all.push(text.content.as_str());
        }
    }
    all
}

fn door(revision: &str, width: u32) -> Value {
    let lines = format!(
        "[container]\ntype = \"40ft-high-cube\"\nwall = \"left\"\n\
         [opening]\nclear_width = {width}\n"
    );
    kit(&spec("overhead-door", &lines).replace("\"A\"", &format!("\"{revision}\"")))
}

/// The door's header is over 2.4 m long; one hole of it stands 0.4 mm aside.
fn aside(old: &Value) -> Value {
    let mut new = old.clone();
    let parts = new["parts"].as_array_mut().unwrap();
    let header = parts.iter_mut().find(|part| part["name"] == "header").unwrap();
    let x = header["holes"][4]["centre"][0].as_f64().unwrap();
    let inner = header["blank"]["inner"].as_array_mut().unwrap();
    let own = inner.iter_mut().find(|it| it["circle"][0].as_f64() == Some(x)).unwrap();
    own["circle"][0] = json!(x + 0.4);
    let own = own["circle"].clone();
    let holes = header["holes"].as_array_mut().unwrap();
    let hole = holes
        .iter_mut()
        .find(|hole| hole["centre"][0].as_f64() == Some(x) && hole["centre"][1] == own[1]);
    hole.unwrap()["centre"][0] = json!(x + 0.4);
    new
}

#[test]
fn texts_of_a_comparison_stand_free() {
    let old = door("A", 2440);
    let notch = "notch = { on = \"left_side.top\", from = 20, to = 50, depth = 9 }";
    let trays = [kit(&tray("A", "")), kit(&tray("B", &amended("tray", notch)))];
    for (old, new) in [(&old, &door("B", 2450)), (&old, &aside(&old)), (&trays[0], &trays[1])] {
        for sheet in sheets(&held(old, new)) {
            let met: Vec<String> = collisions(&sheet)
                .into_iter()
                // Letters may stand on the blank, never on each other.
                .filter(|words| !words.contains("is crossed by"))
                .collect();
            assert!(met.is_empty(), "{}: {met:#?}", sheet.title);
        }
    }
}

#[test]
fn a_small_difference_in_a_large_blank_is_shown_large() {
    let old = door("A", 2440);
    let comparison = held(&old, &aside(&old));
    let sheet = sheets(&comparison).pop().unwrap();
    let words = texts(&sheet);
    assert!(words.contains(&"Scale 1 : 10"), "{words:?}");
    assert!(words.contains(&"A   2 : 1") || words.contains(&"A   5 : 1"), "{words:?}");
    assert!(!words.iter().any(|it| it.contains("not shown larger")), "{words:?}");
}

/// Holes of the side frame's lip move alike: one picture, and the others are counted.
#[test]
fn what_changed_alike_is_shown_once() {
    let comparison = held(&door("A", 2440), &door("B", 2450));
    let named = |sheet: &&Sheet| sheet.title.contains("Side frame, left");
    let all = sheets(&comparison);
    let sheet = all.iter().rfind(named).unwrap();
    let words = texts(sheet);
    assert!(words.iter().any(|it| it.starts_with("and ") && it.ends_with(" alike")), "{words:?}");
}

/// Old and new differ by kind of line and depth of tint, which print in black; a legend says so.
#[test]
fn a_legend_tells_lines_and_tints() {
    let comparison = held(&door("A", 2440), &door("B", 2450));
    let sheet = sheets(&comparison).pop().unwrap();
    for words in ["revision A", "revision B", "sheet taken away in B", "sheet added in B"] {
        assert!(texts(&sheet).contains(&words), "{words}");
    }
    let mut tints: Vec<u8> = Vec::new();
    for item in &sheet.items {
        if let Item::Shape { shape: Shape::Closed(_), fill: Fill::Tint(tint), .. } = item {
            tints.push(*tint);
        }
    }
    tints.sort_unstable();
    tints.dedup();
    assert!(tints.len() == 2 && tints[0] + 30 <= tints[1], "{tints:?}");
}
