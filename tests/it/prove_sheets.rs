//! Common sheets as they are read back: proved as written, and every planted fault found.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use blankwright::note::{Notes, Severity};
use blankwright::pipeline::{Source, Stock};
use blankwright::prove::{Found, prove_sheets};
use serde_json::{Value, json};

use crate::prove_edit::{Pairs, Span};
use crate::sheets_common::{asked, laid, stock, trays};

type Files = BTreeMap<String, Vec<u8>>;

/// What the shop may ask for besides, turned on.
const EXTRAS: [(&str, &str); 3] =
    [("# lead_in =", "lead_in ="), ("# tab =", "tab ="), ("# skeleton =", "skeleton =")];

fn vents() -> Source {
    let bytes = include_bytes!("../../sample-specs/kelp-vent.toml").to_vec();
    Source { name: "vent.toml".to_owned(), bytes }
}

fn written(stock: &Stock, source: Source) -> Files {
    let made = laid(stock, source, asked(3, false));
    let files = made.files.unwrap_or_else(|| panic!("{:#?} {:#?}", made.notes, made.kits));
    files.into_iter().map(|file| (file.path, file.bytes)).collect()
}

static STOCK: LazyLock<Stock> = LazyLock::new(|| stock(&EXTRAS));
static TRAYS: LazyLock<Files> = LazyLock::new(|| written(&STOCK, trays("width = 600")));
static VENTS: LazyLock<Files> = LazyLock::new(|| written(&STOCK, vents()));

fn proof(files: &Files, stock: &Stock) -> Notes {
    let found: Vec<Found> = files.iter().map(|(path, bytes)| Found { path, bytes }).collect();
    prove_sheets(&found, &stock.shelf).1
}

/// Codes and messages of the errors.
fn errors(files: &Files) -> Vec<String> {
    let notes = proof(files, &STOCK);
    let errors = notes.all().iter().filter(|f| f.severity == Severity::Error);
    errors.map(|f| format!("{}: {}", f.check, f.message)).collect()
}

fn list(files: &Files) -> Value {
    serde_json::from_slice(&files["sheets.json"]).unwrap()
}

/// The files with a change of their list.
fn with_list(files: &Files, change: impl Fn(&mut Value)) -> Files {
    let (mut files, mut tree) = (files.clone(), list(files));
    change(&mut tree);
    files.insert("sheets.json".to_owned(), serde_json::to_vec_pretty(&tree).unwrap());
    files
}

/// The files with a change of the first sheet's laser file.
fn with_laser(files: &Files, change: impl Fn(&mut Pairs)) -> Files {
    let mut files = files.clone();
    let mut pairs = Pairs::of(&files["sheet-01.dxf"]);
    change(&mut pairs);
    files.insert("sheet-01.dxf".to_owned(), pairs.bytes());
    files
}

/// Asserts that a code is told with these words.
fn told(files: &Files, code: &str, words: &str) {
    let errors = errors(files);
    let hit = errors.iter().any(|e| e.starts_with(&format!("{code}: ")) && e.contains(words));
    assert!(hit, "{code} with `{words}` is not among {errors:#?}");
}

/// The first entity of a kind on a layer.
fn first(pairs: &Pairs, layer: &str, kind: &str) -> Span {
    pairs.entities(layer).into_iter().find(|span| pairs.kind(span) == kind).unwrap()
}

/// Shifts an entity along x.
fn shift(pairs: &mut Pairs, span: &Span, by: f64) {
    for group in [10, 11] {
        for at in pairs.groups(span, group) {
            pairs.add(at, by);
        }
    }
}

/// Whether an entity lies in a box, grown by a lead-in.
fn within(pairs: &Pairs, span: &Span, low: [f64; 2], high: [f64; 2]) -> bool {
    let inside = |group: u16, axis: usize| {
        let numbers = pairs.groups(span, group).into_iter();
        let mut numbers = numbers.map(|at| pairs.0[at].1.trim().parse::<f64>().unwrap());
        numbers.all(|v| (low[axis] - 3.0..=high[axis] + 3.0).contains(&v))
    };
    inside(10, 0) && inside(20, 1)
}

#[test]
fn sheets_as_written_are_proved_without_a_word() {
    for files in [&*TRAYS, &*VENTS] {
        assert!(proof(files, &STOCK).is_empty(), "{:#?}", proof(files, &STOCK));
    }
    let plain = stock(&[]);
    let files = written(&plain, trays("width = 600"));
    assert!(proof(&files, &plain).is_empty());
}

#[test]
fn a_part_that_lies_elsewhere_is_found() {
    let moved = with_laser(&TRAYS, |pairs| {
        let outline = first(pairs, "CUT_OUTSIDE", "LWPOLYLINE");
        shift(pairs, &outline, 0.5);
    });
    told(&moved, "proof.sheet", "has no outline of OSL-0410-");
    told(&moved, "proof.sheet", "belongs to no part");
    let listed = with_list(&TRAYS, |list| list["sheets"][0]["parts"][0]["x"] = json!(55.0));
    told(&listed, "proof.sheet", "has no outline of");
}

#[test]
fn a_part_that_lies_too_near_is_found_though_list_and_laser_file_agree() {
    // Everything of one blank is moved, in the list and in the laser file.
    let tree = list(&VENTS);
    let rows = tree["sheets"][0]["parts"].as_array().unwrap();
    let at = rows.iter().position(|row| row["turn"] == 0 && row["mirrored"] == false).unwrap();
    let own = &rows[at];
    let part = tree["parts"].as_array().unwrap().iter();
    let part = part.clone().find(|p| p["number"] == own["number"]).unwrap();
    let [x, y] = ["x", "y"].map(|key| own[key].as_f64().unwrap());
    let [width, height] = ["width", "height"].map(|key| part["blank"][key].as_f64().unwrap());
    let far = [x + width, y + height];
    // To 4 mm from the sheet's edge.
    let by = 4.0 - x;
    let laser = with_laser(&VENTS, |pairs| {
        let layers = ["CUT", "BEND", "ETCH", "LEAD", "TAB"];
        let spans: Vec<Span> = layers.iter().flat_map(|layer| pairs.entities(layer)).collect();
        let own = spans.iter().filter(|span| within(pairs, span, [x, y], far));
        let own: Vec<&Span> = own.collect();
        own.into_iter().for_each(|span| shift(pairs, span, by));
    });
    let both = with_list(&laser, |list| list["sheets"][0]["parts"][at]["x"] = json!(4.0));
    let errors = errors(&both);
    assert!(!errors.iter().any(|e| e.contains("has no outline")), "{errors:#?}");
    told(&both, "proof.sheet", "keeps 4 mm from the edge");
    // A shop with a wider gap finds every two neighbours too near.
    let wider = stock(&[("part = 5 ", "part = 7 ")]);
    let notes = proof(&TRAYS, &wider);
    assert!(notes.all().iter().any(|f| f.message.contains("mm apart")), "{notes:#?}");
}

#[test]
fn a_part_or_a_sheet_too_few_is_found() {
    let short = with_list(&TRAYS, |list| {
        list["sheets"][0]["parts"].as_array_mut().unwrap().pop();
    });
    told(&short, "proof.sheet", "lies on the sheets 2 times, not 3");
    told(&short, "proof.figure", "`laid`");
    let fewer = with_list(&TRAYS, |list| list["kits"][0]["times"] = json!(4));
    told(&fewer, "proof.figure", "`quantity`");
    let mut lost = TRAYS.clone();
    lost.remove("sheet-01.dxf");
    told(&lost, "proof.files", "is not there");
    let mut strange = TRAYS.clone();
    strange.insert("sheet-09.dxf".to_owned(), strange["sheet-01.dxf"].clone());
    told(&strange, "proof.files", "was not written with the sheets");
}

#[test]
fn a_part_face_down_or_turned_against_the_grain_is_found() {
    let mirrored =
        with_list(&TRAYS, |list| list["sheets"][0]["parts"][0]["mirrored"] = json!(true));
    told(&mirrored, "proof.sheet", "may not lie face down");
    told(&mirrored, "proof.sheet", "has no outline of");
    let turned = with_list(&TRAYS, |list| {
        let parts = list["parts"].as_array().unwrap().clone();
        let grain =
            |row: &Value| parts.iter().any(|p| p["number"] == row["number"] && p["grain"] == true);
        let rows = list["sheets"][0]["parts"].as_array_mut().unwrap();
        rows.iter_mut().find(|row| grain(row)).unwrap()["turn"] = json!(90);
    });
    told(&turned, "proof.sheet", "may not be turned by 90");
}

#[test]
fn a_hole_or_a_stroke_too_few_or_too_many_is_found() {
    let missing = with_laser(&TRAYS, |pairs| {
        let hole = first(pairs, "CUT_INSIDE", "CIRCLE");
        pairs.0.drain(hole);
    });
    told(&missing, "proof.sheet", "cuts nothing of OSL-0410-");
    told(&missing, "proof.figure", "`pierces`");
    let twice = with_laser(&TRAYS, |pairs| {
        let hole = first(pairs, "CUT_INSIDE", "CIRCLE");
        let copy = pairs.0[hole.clone()].to_vec();
        pairs.0.splice(hole.end..hole.end, copy);
    });
    told(&twice, "proof.sheet", "belongs to no part");
    let worn = with_laser(&TRAYS, |pairs| {
        let stroke = first(pairs, "ETCH", "LWPOLYLINE");
        pairs.0.drain(stroke);
    });
    told(&worn, "proof.sheet", "nothing on ETCH");
    let other =
        with_list(&TRAYS, |list| list["parts"][0]["etch"][0]["text"] = json!("OSL-0410-09"));
    told(&other, "proof.sheet", "ETCH");
}

#[test]
fn an_outline_before_what_is_in_it_is_found() {
    let early = with_laser(&TRAYS, |pairs| {
        let outline = first(pairs, "CUT_OUTSIDE", "LWPOLYLINE");
        let taken: Vec<_> = pairs.0.drain(outline).collect();
        let before = pairs.entities("CUT_INSIDE")[0].start;
        pairs.0.splice(before..before, taken);
    });
    told(&early, "proof.sheet", "is cut before what is inside");
    told(&early, "proof.figure", "`travel_mm`");
}

#[test]
fn every_figure_is_worked_out_again() {
    for key in
        ["cut_length_mm", "pierces", "travel_mm", "time_s", "mass_kg", "price", "gap", "margin"]
    {
        let more = with_list(&TRAYS, |list| {
            let value = &mut list["sheets"][0][key];
            *value = match value.as_u64() {
                Some(whole) => json!(whole + 1),
                None => json!(value.as_f64().unwrap() * 1.01),
            };
        });
        told(&more, "proof.figure", &format!("`{key}`"));
    }
    for (key, factor) in [("bound_area", 1.2), ("bound_area", 0.8)] {
        let off = with_list(&TRAYS, |list| {
            let value = &mut list["groups"][0][key];
            *value = json!(value.as_f64().unwrap() * factor);
        });
        told(&off, "proof.figure", &format!("`{key}`"));
    }
    for key in ["sheets", "layouts", "fewest"] {
        let off = with_list(&TRAYS, |list| {
            let value = &mut list["groups"][0][key];
            *value = json!(value.as_u64().unwrap() + 1);
        });
        told(&off, "proof.figure", &format!("`{key}`"));
    }
    let mut rows = String::from_utf8(TRAYS["sheets.csv"].clone()).unwrap();
    rows = rows.replacen(",OSL-0410-01,", ",OSL-0410-07,", 1);
    let mut listed = TRAYS.clone();
    listed.insert("sheets.csv".to_owned(), rows.into_bytes());
    told(&listed, "proof.list", "OSL-0410-07");
}

#[test]
fn a_remnant_or_a_line_of_an_extra_layer_in_a_part_is_found() {
    let larger = with_list(&VENTS, |list| {
        let rest = list["sheets"][0]["remnant"].as_array_mut().unwrap();
        rest[0] = json!(0.0);
        rest[1] = json!(0.0);
    });
    told(&larger, "proof.sheet", "from the remnant");
    let inward = with_laser(&TRAYS, |pairs| {
        let lead = pairs.entities("LEAD_IN").pop().unwrap();
        // From the other side of the contour.
        for (own, far) in [(10, 11), (20, 21)] {
            let [a, b] = [own, far].map(|group| pairs.groups(&lead, group)[0]);
            let [p, q]: [f64; 2] = [a, b].map(|at| pairs.0[at].1.trim().parse().unwrap());
            pairs.add(a, 2.0 * (q - p));
        }
    });
    told(&inward, "proof.sheet", "cuts into a part");
    let off = with_laser(&TRAYS, |pairs| {
        let tab = pairs.entities("TAB")[0].clone();
        for group in [10, 11, 20, 21] {
            let at = pairs.groups(&tab, group)[0];
            pairs.add(at, 1.0);
        }
    });
    told(&off, "proof.sheet", "lies on no outline");
    let through = with_laser(&TRAYS, |pairs| {
        let cut = pairs.entities("SKELETON")[0].clone();
        shift(pairs, &cut, -60.0);
        for (group, value) in [(20, "0"), (21, "900")] {
            let at = pairs.groups(&cut, group)[0];
            pairs.0[at].1 = value.to_owned();
        }
    });
    told(&through, "proof.sheet", "the skeleton cut at");
}

#[test]
fn what_is_told_to_be_missing_is_a_warning() {
    let few = stock(&[("[[shop.sheet]]\n", "[[shop.sheet]]\ncount = 1\n")]);
    let made = laid(&few, trays("width = 600"), asked(200, true));
    let files: Files = made.files.unwrap().into_iter().map(|f| (f.path, f.bytes)).collect();
    let notes = proof(&files, &few);
    assert!(!notes.has_errors(), "{notes:#?}");
    let words = |f: &blankwright::note::Finding| f.message.contains("are not laid out");
    assert!(notes.all().iter().any(words), "{notes:#?}");
    let hidden = with_list(&files, |list| list["missing"] = json!([]));
    assert!(proof(&hidden, &few).has_errors());
}
