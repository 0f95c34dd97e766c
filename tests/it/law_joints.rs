//! Laws of holes and files, on the sample kits as they are written: the holes of a joint lie on one
//! axis, worked out from `kit.json` alone; every hole is cut once and listed once; the same spec
//! gives the same bytes.

use std::collections::{BTreeMap, BTreeSet};

use blankwright::draw::{Item, PartViews, shop_drawing};
use blankwright::pipeline::{Built, FileKind, Only, Source, Want, build};
use serde_json::Value;

use crate::law_stock::{STOCK, make_spec, texts};
use crate::law_turn::{Motion, Vector, cross, dot, length, minus, times};

fn samples() -> Vec<Source> {
    let mut samples = texts("sample-specs");
    // A spec with several kits has tests of its own.
    samples.retain(|source| !String::from_utf8_lossy(&source.bytes).contains("[[kits]]"));
    assert!(samples.len() >= 4, "{} samples", samples.len());
    samples
}

fn built(source: &Source, kinds: &[FileKind]) -> Built {
    let only = Only { kinds: kinds.to_vec(), ..Only::default() };
    let built = build(source, &STOCK, &Want::Files(only));
    assert!(!built.notes.has_errors(), "{}: {:#?}", source.name, built.notes);
    built
}

fn file<'a>(built: &'a Built, path: &str) -> &'a str {
    let file = built.files.as_ref().unwrap().iter().find(|file| file.path == path);
    std::str::from_utf8(&file.unwrap_or_else(|| panic!("no {path}")).bytes).unwrap()
}

fn json(built: &Built) -> Value {
    serde_json::from_str(file(built, "kit.json")).unwrap()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap()
}

fn motion(rows: &Value) -> Motion {
    let rows = [0, 1, 2].map(|i| [0, 1, 2, 3].map(|j| number(&rows[i][j])));
    let motion = Motion::of_rows(rows);
    assert!(motion.unlike_a_turn() < 1e-9, "{motion:?}");
    motion
}

/// A hole in the site: the middle of its sheet, its axis, the sheet's thickness.
struct Pierced {
    at: Vector,
    axis: Vector,
    thickness: f64,
}

fn pierced(kit: &Value, member: &Value) -> Option<Pierced> {
    let part = list(&kit["parts"]).iter().find(|part| part["number"] == member["part"])?;
    let hole = list(&part["holes"]).iter().find(|hole| hole["id"] == member["hole"]);
    let hole = hole.unwrap_or_else(|| panic!("no hole {member}"));
    let face = list(&part["faces"]).iter().find(|face| face["name"] == hole["face"]).unwrap();
    let place = motion(&part["places"][member["place"].as_u64().unwrap() as usize]);
    let way = motion(&face["to_part"]).then(&place);
    let thickness = number(&part["thickness"]);
    let centre = [number(&hole["centre"][0]), number(&hole["centre"][1]), thickness / 2.0];
    Some(Pierced { at: way.point(centre), axis: way.vector([0.0, 0.0, 1.0]), thickness })
}

/// Holds every joint of a kit to its one axis; how many fasteners there are.
pub(crate) fn all_coaxial(kit: &Value) -> usize {
    let mut pairs = 0;
    for joint in list(&kit["joints"]) {
        for pair in list(&joint["pairs"]) {
            let members = list(pair).iter();
            let holes: Vec<Pierced> = members.filter_map(|member| pierced(kit, member)).collect();
            coaxial(&holes, joint);
            pairs += 1;
        }
    }
    pairs
}

#[test]
fn the_holes_of_every_joint_lie_on_one_axis() {
    for source in samples() {
        let built = built(&source, &[FileKind::Json]);
        let pairs = all_coaxial(&json(&built));
        assert!(10 < pairs || source.name.contains("tray"), "{}: {pairs} pairs", source.name);
    }
}

/// Axes within a hundredth of the contract's 0.05 mm, sheets on one another or the gap apart.
fn coaxial(holes: &[Pierced], joint: &Value) {
    let first = holes.first().unwrap_or_else(|| panic!("no hole in {joint}"));
    for other in &holes[1..] {
        let apart = minus(other.at, first.at);
        let aside = minus(apart, times(first.axis, dot(apart, first.axis)));
        assert!(length(aside) < 5e-4, "{} {aside:?}", joint["name"]);
        assert!(length(cross(first.axis, other.axis)) < 1e-9, "{}", joint["name"]);
    }
    let mut layers: Vec<(f64, f64)> =
        holes.iter().map(|hole| (dot(hole.at, first.axis), hole.thickness)).collect();
    layers.sort_by(|a, b| a.0.total_cmp(&b.0));
    for pair in layers.windows(2) {
        let gap = pair[1].0 - pair[0].0 - (pair[0].1 + pair[1].1) / 2.0;
        let meant = number(&joint["gap"]);
        assert!((gap - meant).abs() < 0.05, "{}: gap {gap}, not {meant}", joint["name"]);
    }
}

/// The contours of the inside layer: circles as centre and diameter, loops as corners.
fn cut_inside(dxf: &str) -> (Vec<Vector>, Vec<Vec<[f64; 2]>>) {
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect();
    let start = pairs.iter().position(|pair| *pair == ("2", "ENTITIES")).unwrap();
    let (mut circles, mut loops) = (Vec::new(), Vec::new());
    let entities = pairs[start + 1..].split(|(code, _)| *code == "0");
    let kinds = pairs[start + 1..].iter().filter(|(code, _)| *code == "0").map(|(_, kind)| *kind);
    for (kind, entity) in kinds.zip(entities.skip(1)) {
        if !entity.contains(&("8", "CUT_INSIDE")) {
            continue;
        }
        let all = |code: &str| -> Vec<f64> {
            let mine = entity.iter().filter(|(c, _)| *c == code);
            mine.map(|(_, value)| value.parse().unwrap()).collect()
        };
        let (x, y) = (all("10"), all("20"));
        match kind {
            "CIRCLE" => circles.push([x[0], y[0], 2.0 * all("40")[0]]),
            "LWPOLYLINE" => loops.push(x.iter().zip(&y).map(|(x, y)| [*x, *y]).collect()),
            other => panic!("{other} among the cuts"),
        }
    }
    (circles, loops)
}

#[test]
fn every_hole_is_in_kit_json_once_and_cut_once() {
    for source in samples() {
        let built = built(&source, &[FileKind::Dxf]);
        for part in list(&json(&built)["parts"]) {
            let holes = list(&part["holes"]);
            let ids: BTreeSet<&str> = holes.iter().map(|hole| text(&hole["id"])).collect();
            assert_eq!(ids.len(), holes.len(), "{}: an id twice", part["number"]);
            let dxf = file(&built, &format!("parts/{}.dxf", text(&part["number"])));
            let (circles, loops) = cut_inside(dxf);
            assert_eq!(circles.len() + loops.len(), holes.len(), "{}", part["number"]);
            for hole in holes {
                let cuts = circles.iter().filter(|circle| is_circle(hole, circle)).count()
                    + loops.iter().filter(|corners| is_loop(hole, corners)).count();
                assert_eq!(cuts, 1, "{} {hole}", part["number"]);
            }
        }
    }
}

fn centre(hole: &Value) -> [f64; 2] {
    [0, 1].map(|i| number(&hole["centre"][i]))
}

fn is_circle(hole: &Value, circle: &Vector) -> bool {
    let [x, y] = centre(hole);
    hole["shape"] == "round" && length(minus(*circle, [x, y, number(&hole["size"][0])])) < 1e-4
}

fn is_loop(hole: &Value, corners: &[[f64; 2]]) -> bool {
    let middle = |i: usize| corners.iter().map(|c| c[i]).sum::<f64>() / corners.len() as f64;
    let [x, y] = centre(hole);
    hole["shape"] != "round" && length(minus([middle(0), middle(1), 0.0], [x, y, 0.0])) < 1e-4
}

/// The rows of the hole tables on a part's pages: texts that begin on one line, by page.
fn hole_rows(sheets: &[blankwright::draw::Sheet]) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for sheet in sheets {
        let mut lines: BTreeMap<i64, Vec<(f64, &str)>> = BTreeMap::new();
        for item in &sheet.items {
            if let Item::Text(text) = item {
                let line = lines.entry((text.at.y * 100.0).round() as i64).or_default();
                line.push((text.at.x, text.content.as_str()));
            }
        }
        for mut line in lines.into_values() {
            line.sort_by(|a, b| a.0.total_cmp(&b.0));
            rows.push(line.into_iter().map(|(_, text)| text.to_owned()).collect());
        }
    }
    rows
}

/// A place on paper, and how far its rounded figures may be off.
type Figure = ([f64; 2], f64);

/// Whether a cell is a row's label: `A1`, `A2`, ...
fn is_label(cell: &str) -> bool {
    let digits = cell.trim_start_matches(|c: char| c.is_ascii_uppercase());
    digits.len() < cell.len() && digits.parse::<u32>().is_ok()
}

/// The places of a row of the hole table: label, count, size, purpose, X, Y, spacing. What stands
/// beside the table on the same line comes before the label.
fn listed(row: &[String]) -> Option<Vec<Figure>> {
    let labels = (0..row.len()).filter(|at| is_label(&row[*at]));
    labels.into_iter().find_map(|at| places(&row[at..]))
}

fn places(cells: &[String]) -> Option<Vec<Figure>> {
    const HALF: f64 = 0.0501;
    let count: usize = cells.get(1)?.parse().ok()?;
    let first = [cells.get(4)?.parse::<f64>().ok()?, cells.get(5)?.parse::<f64>().ok()?];
    if count == 1 {
        return Some(vec![(first, HALF)]);
    }
    let words: Vec<&str> = cells.get(6)?.split(' ').collect();
    let [steps, _, step, _, along] = words[..] else { return None };
    assert_eq!(steps.parse::<usize>().ok()?, count - 1);
    let step: f64 = step.parse().ok()?;
    let axis = usize::from(along == "Y");
    let mut places = vec![(first, HALF); count];
    for (i, (place, off)) in places.iter_mut().enumerate() {
        place[axis] += step * i as f64;
        *off += HALF * i as f64;
    }
    Some(places)
}

#[test]
fn every_hole_stands_once_in_the_hole_table() {
    for source in samples() {
        let spec = std::str::from_utf8(&source.bytes).unwrap();
        if spec.contains("\"in\"") {
            continue;
        }
        let made = make_spec(spec);
        let mut tables = 0;
        for (part, folded, blank) in made.parts() {
            let sheets = shop_drawing(&made.kit, &PartViews::new(part, folded), blank);
            let rows = hole_rows(&sheets);
            if !rows.iter().flatten().any(|cell| cell.starts_with("Holes, from the datum")) {
                continue;
            }
            tables += 1;
            let mut open: Vec<Figure> = rows.iter().filter_map(|r| listed(r)).flatten().collect();
            assert_eq!(open.len(), blank.inner.len(), "{}: {rows:#?}", part.number);
            for inner in &blank.inner {
                let hole = &part.faces[inner.face].holes[inner.hole];
                let at = blank.faces[inner.face].point(hole.centre);
                let near =
                    |(p, off): &Figure| (p[0] - at.x).abs() < *off && (p[1] - at.y).abs() < *off;
                let found = open.iter().position(near);
                let found = found.unwrap_or_else(|| panic!("{} {} {open:?}", part.number, hole.id));
                open.remove(found);
            }
        }
        // With few holes each has its own dimensions.
        let few = ["tray", "struts", "pockets"].iter().any(|name| source.name.contains(name));
        assert!(0 < tables || few, "{}", source.name);
    }
}

#[test]
fn the_same_spec_gives_the_same_bytes() {
    for source in samples().iter().take(2) {
        let [a, b] = [0, 1].map(|_| built(source, &[]));
        assert!(a == b, "{}: two runs differ", source.name);
        assert!(10 < a.files.unwrap().len());
    }
}
