//! `kit.json` and the lists, made from a small kit whose numbers are worked out by hand.

use std::f64::consts::PI;

use blankwright::flat::{Blank, unfold};
use blankwright::fold::{FoldedPart, fold};
use blankwright::kit::Kit;
use blankwright::note::Finding;
use blankwright::release::{Record, fasteners_csv, kit_json, parts_csv};
use blankwright::section::Strength;
use blankwright::stackup::Report;
use serde_json::Value;

use crate::bracket;

fn worked(kit: &Kit) -> (Vec<FoldedPart>, Vec<Blank>) {
    let folded = kit.parts.iter().map(fold).collect();
    (folded, kit.parts.iter().map(|part| unfold(part).unwrap()).collect())
}

fn text(kit: &Kit, findings: &[Finding]) -> String {
    let (folded, blanks) = worked(kit);
    let record = Record {
        kit,
        folded: &folded,
        blanks: &blanks,
        findings,
        strength: &Strength::default(),
        stackup: &Report::default(),
        site: None,
        bending: &[],
        laid: None,
        files: &[],
    };
    String::from_utf8(kit_json(&record)).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// The image of (x, y, z) under a matrix of `kit.json`.
fn apply(rows: &Value, point: [f64; 3]) -> [f64; 3] {
    [0, 1, 2].map(|i| {
        let row = &rows[i];
        (0..3).map(|j| number(&row[j]) * point[j]).sum::<f64>() + number(&row[3])
    })
}

fn assert_near(found: [f64; 3], wanted: [f64; 3]) {
    for (a, b) in found.iter().zip(wanted) {
        assert!((a - b).abs() < 1e-9, "{found:?} is not {wanted:?}");
    }
}

#[test]
fn keys_stand_in_the_order_of_the_format() {
    let text = text(&bracket::kit(), &[Finding::note("demo.note", "all is well")]);
    let blocks: [&[&str]; 5] = [
        &[
            "format",
            "kit",
            "title",
            "revision",
            "template",
            "spec_sha256",
            "values",
            "wall",
            "parts",
            "joints",
            "fasteners",
            "findings",
            "sheets",
        ],
        &[
            "number",
            "name",
            "title",
            "quantity",
            "material",
            "thickness",
            "mass_kg",
            "blank",
            "faces",
            "bends",
            "holes",
            "places",
        ],
        &["width", "height", "outer", "inner", "area_mm2", "cut_length_mm", "pierces"],
        &[
            "name",
            "from",
            "to",
            "line",
            "angle",
            "direction",
            "inside_radius",
            "k",
            "k_source",
            "allowance",
            "order",
        ],
        &[
            "check", "severity", "subject", "found", "limit", "unit", "source", "message",
            "accepted",
        ],
    ];
    for keys in blocks {
        // Each key is sought behind the one before it, from the first key of its own object on.
        let mut rest = &text[text.find(&format!("\"{}\":", keys[0])).unwrap()..];
        for key in keys {
            let at = rest.find(&format!("\"{key}\":"));
            rest = &rest[at.unwrap_or_else(|| panic!("{key} is missing or out of order"))..];
        }
    }
}

#[test]
fn numbers_are_the_shortest_that_read_back_and_zero_has_no_sign() {
    let text = text(&bracket::kit(), &[]);
    assert!(text.contains("\"zeta\": 0.1,"));
    assert!(text.contains("\"nothing\": 0.0\n"));
    assert!(!text.contains("-0.0,") && !text.contains("-0.0]") && !text.contains("null,\n  \"nan"));
    // The values keep the order in which they were defined, not that of the alphabet.
    assert!(text.find("\"zeta\"") < text.find("\"alpha.flag\""));
}

#[test]
fn the_blank_is_the_developed_length_worked_by_hand() {
    let json: Value = serde_json::from_str(&text(&bracket::kit(), &[])).unwrap();
    let part = &json["parts"][0];
    // 96 of base, 26 of leg, and a quarter of the neutral circle between them.
    let allowance = PI / 2.0 * (bracket::RADIUS + bracket::K * bracket::THICKNESS);
    let width = 96.0 + allowance + 26.0;
    assert!((number(&part["blank"]["width"]) - width).abs() < 1e-9);
    assert!((number(&part["bends"][0]["allowance"]) - allowance).abs() < 1e-12);
    let holes = 2.0 * PI * 4.9 * 4.9 / 4.0 + (15.0 - 6.6) * 6.6 + PI * 6.6 * 6.6 / 4.0;
    let area = width * 40.0 - holes;
    assert!((number(&part["blank"]["area_mm2"]) - area).abs() < 1e-6);
    assert!((number(&part["mass_kg"]) - area * 2.0 * 7850.0e-9).abs() < 1e-9);
    assert_eq!(part["quantity"], 2);
    assert_eq!(part["bends"][0]["order"], Value::Null);
}

#[test]
fn to_part_folds_the_blank() {
    let json: Value = serde_json::from_str(&text(&bracket::kit(), &[])).unwrap();
    let part = &json["parts"][0];
    let allowance = number(&part["bends"][0]["allowance"]);
    let [base, leg] = [0, 1].map(|i| &part["faces"][i]);
    assert_near(apply(&base["to_part"], [10.0, 5.0, 1.5]), [10.0, 5.0, 1.5]);
    // 10 beyond the bend zone, on the underside and on the upper side: the bend up by 90 degrees
    // turns about z = t + R = 4, so the underside stands at x = 96 + 4 and the upper side at 98.
    let s = 96.0 + allowance + 10.0;
    assert_near(apply(&leg["to_part"], [s, 7.0, 0.0]), [100.0, 7.0, 14.0]);
    assert_near(apply(&leg["to_part"], [s, 7.0, 2.0]), [98.0, 7.0, 14.0]);
}

#[test]
fn a_wall_that_is_not_cut_is_null() {
    let mut kit = bracket::kit();
    let parsed = |kit: &Kit| serde_json::from_str::<Value>(&text(kit, &[])).unwrap();
    assert_eq!(parsed(&kit)["wall"], Value::Null);
    kit.container.wall = Some(bracket::wall());
    let wall = parsed(&kit)["wall"].clone();
    assert_eq!(wall["cuts"], serde_json::json!([-278.0, 278.0]));
    assert_eq!((number(&wall["cut_top"]), number(&wall["cut_bottom"])), (2200.0, 10.0));
    kit.container.wall.as_mut().unwrap().cuts = None;
    assert_eq!(parsed(&kit)["wall"], Value::Null);
}

#[test]
fn joints_name_holes_and_the_container() {
    let json: Value = serde_json::from_str(&text(&bracket::kit(), &[])).unwrap();
    let pair = &json["joints"][0]["pairs"][0];
    assert_eq!(pair[1], serde_json::json!({"part": "OTS-0001-01", "place": 1, "hole": "h1"}));
    assert_eq!(pair[2], serde_json::json!({"into": "floor"}));
}

#[test]
fn findings_carry_their_numbers() {
    let mut warning = Finding::warning("fab.web", "web of 3 mm").measured(3.0, 4.0, "mm");
    warning.accepted = Some("seen on the first build".to_owned());
    let json: Value = serde_json::from_str(&text(&bracket::kit(), &[warning])).unwrap();
    let finding = &json["findings"][0];
    assert_eq!((&finding["severity"], number(&finding["limit"])), (&"warning".into(), 4.0));
    assert_eq!(finding["accepted"], "seen on the first build");
}

#[test]
fn the_parts_list_reads_back_and_holds_no_formula() {
    let mut kit = bracket::kit();
    kit.parts[0].issue.revision = "C".to_owned();
    let (_, blanks) = worked(&kit);
    let bytes = parts_csv(&kit, &blanks);
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 1);
    let cells: Vec<&str> = rows[0].iter().collect();
    // Width 126.163 = 96 + 4.163 + 26, the allowance being pi/2 * 2.65 = 4.1626.
    assert_eq!(&cells[..4], ["OTS-0001-01", "C", "Bracket, \"kelp\"", "2"]);
    assert_eq!(&cells[4..9], ["'=Galvanized steel", "2", "14 ga", "126.163", "40"]);
    assert_eq!(&cells[10..12], ["1", "3"]);
    assert_eq!(cells[14], "parts/OTS-0001-01.dxf");
    assert!(bytes.ends_with(b"\r\n"));
}

#[test]
fn every_way_to_begin_a_formula_is_defused() {
    for start in ["=", "+", "-", "@", "\t=", " =", "\r=", "\u{ff1d}"] {
        let mut kit = bracket::kit();
        kit.parts[0].title = format!("{start}1+1");
        let (_, blanks) = worked(&kit);
        let bytes = parts_csv(&kit, &blanks);
        let mut reader = csv::Reader::from_reader(bytes.as_slice());
        let row = reader.records().next().unwrap().unwrap();
        assert!(row[2].starts_with('\''), "{start:?} became {:?}", &row[2]);
    }
}

#[test]
fn the_fasteners_list_names_the_joints() {
    let bytes = fasteners_csv(&bracket::kit());
    let text = String::from_utf8(bytes).unwrap();
    let wanted = "id,title,count,spare,total,hole_mm,grip_from_mm,grip_to_mm,used_in\r\n\
        rivet-4.8,\"Blind rivet 4.8 x 10, steel\",1,2,3,4.9,2.5,4.5,j1 bracket to bracket\r\n";
    assert_eq!(text, wanted);
}
