//! Amendments: what came back from the site goes through the model, so that checks, proof and
//! drawings see it.

use blankwright::note::{Finding, Severity};
use blankwright::pipeline::{Only, Source, Want, build};
use serde_json::Value;

use crate::compare::{amended, tray};
use crate::family::told;
use crate::law_stock::STOCK;

fn errors(text: &str) -> Vec<Finding> {
    let (notes, _) = told(text);
    notes.into_iter().filter(|finding| finding.severity == Severity::Error).collect()
}

/// The one error of a tray with these amendments, and the text it points at.
#[track_caller]
fn refused(lines: &str) -> (Finding, String) {
    let text = tray("B", lines);
    let mut all = errors(&text);
    assert_eq!(all.len(), 1, "{all:#?}");
    let finding = all.remove(0);
    let place = finding.place.clone().expect("an amendment's error stands at its place");
    let at = text[place.span].to_owned();
    (finding, at)
}

/// Where the handles' holes stand on a side of the tray, for the two ends of a joint.
fn joint_hole(kit: &Value) -> (String, String) {
    let joint = &kit["joints"][0];
    let member = |i: usize| &joint["pairs"][0][i];
    let part = |i: usize| {
        let number = &member(i)["part"];
        let part = kit["parts"].as_array().unwrap().iter().find(|it| it["number"] == *number);
        let part = part.unwrap();
        let holes = part["holes"].as_array().unwrap();
        let hole = holes.iter().find(|it| it["id"] == member(i)["hole"]).unwrap();
        let choice = format!("face = {}, hole = {}", hole["face"], hole["id"]);
        (part["name"].as_str().unwrap().to_owned(), choice)
    };
    let deed = |(name, choice): (String, String)| {
        amended(&name, &format!("move = {{ {choice}, by = [2, 0] }}"))
    };
    (deed(part(0)), deed(part(1)))
}

#[test]
fn a_joint_whose_one_hole_moves_is_not_coaxial() {
    let kit = told(&tray("A", "")).1.unwrap();
    let (one, other) = joint_hole(&kit);
    for alone in [&one, &other] {
        let checks: Vec<_> = errors(&tray("B", alone)).iter().map(|it| it.check).collect();
        assert!(checks.contains(&"fit.coaxial"), "{checks:?}");
    }
}

#[test]
fn a_joint_whose_holes_move_together_fits() {
    let kit = told(&tray("A", "")).1.unwrap();
    let (one, other) = joint_hole(&kit);
    // Two faces may look along opposite directions: one of the two signs moves them together.
    let flipped = other.replace("by = [2, 0]", "by = [-2, 0]");
    let fits = |other: &String| {
        let all = errors(&tray("B", &format!("{one}{other}")));
        !all.iter().any(|it| it.check == "fit.coaxial")
    };
    assert!(fits(&other) != fits(&flipped), "one way alone is the same way");
}

#[test]
fn amendments_are_proved_from_the_written_files() {
    let lines =
        amended("tray", "notch = { on = \"left_side.top\", from = 20, to = 50, depth = 9 }")
            + &amended("lid", "cut = { face = \"sheet\", at = [60, 60], rectangle = [20, 30] }")
            + &amended(
                "tray",
                "enlarge = { face = \"base\", hole = \"drain\", every = true, diameter = 9 }",
            );
    let source = Source { name: "trial.toml".into(), bytes: tray("B", &lines).into_bytes() };
    let built = build(&source, &STOCK, &Want::Files(Only::default()));
    assert!(built.files.is_some(), "{:#?}", built.notes);
    let files = built.files.unwrap();
    let kit: Value = serde_json::from_slice(&files[0].bytes).unwrap();
    let rows = kit["amendments"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    assert_eq!(rows[0]["text"], "notch 30 × 9 mm, top edge of left side, 20 to 50 mm");
    assert_eq!(rows[0]["reason"], "came back from the laboratory");
    let table = kit["parts"][0]["revisions"].as_array().unwrap();
    assert!(table.iter().any(|row| row["text"].as_str().unwrap().starts_with("notch 30 × 9")));
}

#[test]
fn names_that_are_not_there_are_told_with_the_nearest() {
    let cases = [
        (amended("trey", "remove = { face = \"base\" }"), "amend.part", "\"trey\"", "`tray`"),
        (
            amended("tray", "cut = { face = \"bass\", at = [9, 9], diameter = 5 }"),
            "amend.face",
            "\"bass\"",
            "`base`",
        ),
        (
            amended("tray", "notch = { on = \"left_side.tap\", from = 1, to = 9, depth = 5 }"),
            "amend.edge",
            "\"left_side.tap\"",
            "`left_side.top`",
        ),
    ];
    for (lines, check, at, meant) in cases {
        let (finding, place) = refused(&lines);
        assert_eq!((finding.check, place.as_str()), (check, at));
        assert!(finding.help.contains(meant), "{}", finding.help);
    }
}

#[test]
fn what_leaves_its_face_or_has_no_size_is_refused() {
    let cases = [
        ("notch = { on = \"left_side.top\", from = 20, to = 50, depth = 400 }", "amend.outside"),
        ("notch = { on = \"left_side.top\", from = -20, to = 50, depth = 4 }", "amend.outside"),
        ("notch = { on = \"left_side.top\", from = 50, to = 50, depth = 4 }", "amend.size"),
        ("notch = { on = \"base.top\", from = 20, to = 50, depth = 4 }", "amend.edge"),
        ("cut = { face = \"base\", at = [0, 0], diameter = 5 }", "amend.outside"),
        ("cut = { face = \"base\", at = [60, 60], diameter = 0 }", "amend.size"),
        ("cut = { face = \"base\", at = [60, 60], slot = [18, 9] }", "amend.size"),
        (
            "enlarge = { face = \"base\", hole = \"drain\", near = [40, 40], diameter = 1 }",
            "amend.size",
        ),
        ("remove = { face = \"base\", hole = \"drain\" }", "amend.hole"),
        ("remove = { face = \"base\", hole = \"drain\", near = [1, 1] }", "amend.hole"),
        ("remove = { face = \"base\", hole = \"wick\" }", "amend.hole"),
        ("cut = { face = \"base\", at = [60], diameter = 5 }", "spec.amendment"),
        ("cut = { face = \"base\", at = [60, 60] }", "spec.amendment"),
    ];
    for (deed, check) in cases {
        let (finding, _) = refused(&amended("tray", deed));
        assert_eq!(finding.check, check, "{deed}: {}", finding.message);
    }
}

#[test]
fn an_amendment_says_why_when_and_one_thing() {
    let cut = "cut = { face = \"base\", at = [60, 60], diameter = 5 }";
    let whole = amended("tray", cut);
    let without = |line: &str| {
        let kept = whole.lines().filter(|own| !own.starts_with(line)).collect::<Vec<_>>();
        errors(&tray("B", &kept.join("\n")))
    };
    for key in ["reason", "revision", "cut"] {
        assert!(!without(key).is_empty(), "{key}");
    }
    let later = whole.replace("revision = \"B\"", "revision = \"C\"");
    assert_eq!(refused(&later).0.check, "amend.revision");
}

#[test]
fn a_hole_left_out_takes_its_fastener_along_or_is_refused() {
    let kit = told(&tray("A", "")).1.unwrap();
    let (one, other) = joint_hole(&kit);
    let remove = |deed: &str| deed.replace("move = ", "remove = ").replace(", by = [2, 0]", "");
    assert_eq!(refused(&remove(&one)).0.check, "amend.joint");
    let (notes, less) = told(&tray("B", &(remove(&one) + &remove(&other))));
    let less = less.unwrap_or_else(|| panic!("{notes:#?}"));
    let count = |kit: &Value| kit["fasteners"][0]["count"].as_u64().unwrap();
    assert!(count(&less) < count(&kit));
}
