//! Everything that laser, brake or drawing are told of a part is compared: each is changed by
//! itself, and the change is told in words with what old pieces are then good for.

use blankwright::compare::{PartChange, State, Verdict};
use serde_json::{Value, json};

use crate::compare::{held, kit, part, says, tray, verdicts};

use Verdict::{Good, Rework, Scrap};

/// The tray with one place of its first part changed; all parents must be there.
fn planted(old: &Value, at: &str, value: Value) -> Value {
    let mut kit = old.clone();
    let (parent, key) = at.rsplit_once('/').unwrap();
    let parent = kit.pointer_mut(&format!("/parts/0{parent}")).unwrap_or_else(|| panic!("{at}"));
    match parent {
        Value::Array(items) => items[key.parse::<usize>().unwrap()] = value,
        parent => parent[key] = value,
    }
    kit
}

#[track_caller]
fn told(old: &Value, new: &Value, words: &str, shelf: [Verdict; 2]) -> PartChange {
    let comparison = held(old, new);
    let it = part(&comparison, "tray").clone();
    says(&it, words);
    assert_eq!(it.state, State::Changed, "{words}");
    assert_eq!(verdicts(&it), shelf, "{words}: {:#?}", it.shelf);
    let others = comparison.parts.iter().filter(|it| it.named().unwrap().name != "tray");
    for other in others {
        assert_eq!((other.state, other.changes.len()), (State::Unchanged, 0), "{words}");
    }
    it
}

/// A change of one figure, the words for it, and what old pieces, flat and folded, are good for.
#[test]
fn what_a_part_is_made_of_and_how() {
    let old = kit(&tray("A", ""));
    let cases = [
        ("/material_id", json!("mild-steel"), "(stainless-304) to ", [Scrap; 2]),
        ("/material", json!("Steel Z140"), " to Steel Z140", [Rework; 2]),
        ("/thickness", json!(2.0), "sheet 1.5 to 2 mm", [Scrap; 2]),
        ("/gauge", json!("16 ga"), "gauge none to 16 ga", [Good; 2]),
        ("/density", json!(7900.0), "density 7930 to 7900 kg/m³", [Good; 2]),
        ("/hand", json!("left"), "hand none to left", [Good; 2]),
        ("/title", json!("Basin"), "title Tray to Basin", [Good; 2]),
        ("/grain", json!(false), "no longer keeps to the grain", [Good; 2]),
        ("/mirror", json!(true), "may now lie face down", [Good; 2]),
        ("/remarks", json!(["Drill after folding."]), "remark added: Drill after", [Good; 2]),
        ("/relations", json!(["Stands on the rack."]), "relation added: Stands", [Good; 2]),
        ("/bends/0/angle", json!(88.0), "90° to 88°", [Rework, Scrap]),
        ("/bends/0/direction", json!("down"), "up to down", [Rework, Scrap]),
        ("/bends/0/inside_radius", json!(3.0), "inside radius 2.5 to 3", [Rework, Scrap]),
        ("/bends/0/allowance", json!(5.0), "allowance ", [Rework, Scrap]),
        ("/bends/0/k", json!(0.5), " to 0.5", [Good; 2]),
        ("/bends/0/k_source", json!("shop table"), "now from shop table", [Good; 2]),
        ("/bends/0/order", json!(99), " to 99", [Good; 2]),
        ("/etch/0/text", json!("UP"), "etched UP, was ", [Rework; 2]),
        ("/etch/0/height", json!(9.0), "etched text stands elsewhere", [Good; 2]),
        ("/holes/0/for", json!("lamp"), "now for lamp", [Good; 2]),
    ];
    for (at, value, words, shelf) in cases {
        told(&old, &planted(&old, at, value), words, shelf);
    }
    let any_way = planted(&old, "/grain", json!(false));
    told(&any_way, &old, "now keeps to the grain", [Rework; 2]);
    let mirrored = planted(&old, "/mirror", json!(true));
    told(&mirrored, &old, "may no longer lie face down", [Rework; 2]);
}

#[test]
fn another_tolerance_asks_for_a_look_at_every_part() {
    let old = kit(&tray("A", ""));
    let mut new = old.clone();
    new["tolerance"] = json!("ISO 2768-f");
    for it in &held(&old, &new).parts {
        says(it, "general tolerance ISO 2768-m to ISO 2768-f");
        assert_eq!(verdicts(it), [Rework; 2]);
        let reasons = &it.shelf.as_ref().unwrap().flat.reasons;
        assert_eq!(reasons[0], "measure: made to ISO 2768-m, ISO 2768-f is asked for");
    }
}

/// The tray's first hole is sunk.
fn sunk(old: &Value, diameter: f64, angle: f64, side: &str) -> Value {
    let sunk = json!({"diameter": diameter, "angle": angle, "side": side});
    planted(old, "/holes/0/countersink", sunk)
}

/// A cone can be opened to one that holds it, and cannot be filled. Diameters and angles are those
/// of common heads; the tray is 1.5 mm thick, its drain holes 6 mm wide.
#[test]
fn countersinks_are_told_and_judged() {
    let plain = kit(&tray("A", ""));
    let hole = &plain["parts"][0]["holes"][0]["size"][0];
    assert_eq!((hole, &plain["parts"][0]["thickness"]), (&json!(6.0), &json!(1.5)));
    let small = sunk(&plain, 8.0, 90.0, "upper");
    let cases = [
        (&plain, &small, "countersink ⌀8 × 90° from the upper side added", Rework),
        (&small, &plain, "countersink ⌀8 × 90° from the upper side gone", Scrap),
        (&small, &sunk(&plain, 9.0, 90.0, "upper"), "now ⌀9 × 90°", Rework),
        (&sunk(&plain, 9.0, 90.0, "upper"), &small, "now ⌀8 × 90°", Scrap),
        (&small, &sunk(&plain, 8.0, 90.0, "lower"), "from the lower side", Scrap),
        // A steeper cone of the same mouth reaches deeper: it holds the flatter one.
        (&small, &sunk(&plain, 8.0, 60.0, "upper"), "now ⌀8 × 60°", Rework),
        (&small, &sunk(&plain, 8.0, 120.0, "upper"), "now ⌀8 × 120°", Scrap),
        // A flatter and wider one may hold it, or not: 1 mm deep, where the old one ends in the
        // hole, ⌀12 × 120° is 8.5 mm wide; ⌀8.2 × 120° has ended before.
        (&small, &sunk(&plain, 12.0, 120.0, "upper"), "now ⌀12 × 120°", Rework),
        (&small, &sunk(&plain, 8.2, 120.0, "upper"), "now ⌀8.2 × 120°", Scrap),
    ];
    for (old, new, words, verdict) in cases {
        let it = told(old, new, words, [verdict; 2]);
        let reason = &it.shelf.as_ref().unwrap().flat.reasons[0];
        let filled = reason.ends_with("(drain) cannot be filled");
        assert_eq!(filled, verdict == Scrap, "{reason}");
        assert!(reason.starts_with("countersink ⌀"), "{reason}");
    }
}

/// What stands on the brake's sheet alone does not make another part.
#[test]
fn what_changes_at_the_brake_is_told() {
    let old = kit(&tray("A", ""));
    let cases = [
        ("/brake/steps/0/punch/name", json!("long nose"), "to long nose"),
        ("/brake/steps/0/die/name", json!("V99"), "to V99"),
        ("/brake/steps/0/angle_set", json!(77.0), "angle to set "),
        ("/brake/steps/0/stop/distance", json!(5.0), "stop 5 mm to "),
        ("/brake/steps/0/bends", json!(["base/elsewhere"]), "at the brake: base/elsewhere, then "),
    ];
    for (at, value, words) in cases {
        let comparison = held(&old, &planted(&old, at, value));
        let it = part(&comparison, "tray");
        says(it, words);
        assert_eq!((it.state, verdicts(it)), (State::Unchanged, [Good; 2]), "{words}");
    }
}

/// The mirror image of a blank: x to width less x, and every list run the other way.
fn mirrored(old: &Value) -> Value {
    let mut new = old.clone();
    let part = &mut new["parts"][0];
    let width = part["blank"]["width"].as_f64().unwrap();
    let over = |x: &Value| json!(width - x.as_f64().unwrap());
    let turned = |list: &Value| -> Value {
        let list = list.as_array().unwrap();
        let n = list.len();
        let corner = |i: usize| {
            let (at, before) = (&list[(n - i) % n], &list[(2 * n - i - 1) % n]);
            json!([over(&at[0]), at[1], before[2]])
        };
        Value::Array((0..n).map(corner).collect())
    };
    part["blank"]["outer"] = turned(&part["blank"]["outer"]);
    for inner in part["blank"]["inner"].as_array_mut().unwrap() {
        if inner.get("loop").is_some() {
            inner["loop"] = turned(&inner["loop"]);
        } else {
            inner["circle"][0] = over(&inner["circle"][0]);
        }
    }
    for (list, at) in [("holes", "centre"), ("etch", "at")] {
        for it in part[list].as_array_mut().unwrap() {
            it[at][0] = over(&it[at][0]);
        }
    }
    for it in part["faces"].as_array_mut().unwrap() {
        for corner in it["outline"].as_array_mut().unwrap() {
            corner[0] = over(&corner[0]);
        }
    }
    for bend in part["bends"].as_array_mut().unwrap() {
        for end in bend["line"].as_array_mut().unwrap() {
            end[0] = over(&end[0]);
        }
    }
    new
}

#[test]
fn the_other_hand_is_told_in_one_sentence() {
    let deed = "cut = { face = \"base\", at = [69, 67], diameter = 8, for = \"sensor\" }";
    let old = kit(&tray("A", &crate::compare::amended("tray", deed).replace("\"B\"", "\"A\"")));
    let new = mirrored(&old);
    let it = told(&old, &new, "mirrored: every edge, hole and bend", [Scrap; 2]);
    assert_eq!(it.changes.len(), 1, "{:#?}", it.changes);
    assert!(it.overlay.is_some());
    let face_down = |kit: &Value| planted(kit, "/mirror", json!(true));
    let (old, new) = (face_down(&old), face_down(&new));
    let it = told(&old, &new, "mirrored", [Rework, Scrap]);
    assert_eq!(it.shelf.unwrap().flat.reasons[0], "turn it over and mark it anew");
}
