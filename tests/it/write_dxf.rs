//! DXF files: what is written is what was on the sheet, and strict readers find it whole.

use std::collections::BTreeSet;

use blankwright::draw::{
    BendLines, LaserItem, LaserShape, LaserSheet, LaserStyle, Role, laser_items, laser_sheet,
};
use blankwright::flat;
use blankwright::geom::{BedFrame, Map2, Path, Point, Vertex};
use blankwright::kit::{Mark, Part};
use blankwright::write::{self, DxfWriter};
use dxf::Drawing;
use dxf::entities::EntityType;

use crate::bracket;

/// The bracket of the hand-made kit with a number etched on it.
fn marked() -> Part {
    let mut part = bracket::kit().parts.remove(0);
    part.marks = vec![Mark {
        face: 0,
        at: Point::new(40.0, 30.0),
        direction: 0.0,
        height: 6.0,
        text: "OTS-0001-01".to_owned(),
    }];
    part
}

fn sheet(style: &LaserStyle) -> LaserSheet {
    let part = marked();
    laser_sheet(&part, &flat::unfold(&part).expect("the bracket unfolds"), style)
}

/// A file's code pairs, one record a line: easy to review.
fn records(bytes: &[u8]) -> String {
    let text = String::from_utf8(bytes.to_vec()).expect("ASCII");
    let lines: Vec<&str> = text.lines().collect();
    let mut records = String::new();
    for pair in lines.chunks(2) {
        let (code, value) = (pair[0].trim(), pair[1]);
        let gap = if code == "0" { "\n" } else { " | " };
        records.push_str(&format!("{gap}{code} {value}"));
    }
    records.trim_start().to_owned()
}

fn sorted(entities: impl Iterator<Item = String>) -> Vec<String> {
    let mut entities: Vec<String> = entities.collect();
    entities.sort();
    entities
}

/// An entity's layer and numbers in one comparable line.
fn line(layer: &str, kind: &str, numbers: &[f64]) -> String {
    let numbers: Vec<String> = numbers.iter().map(|n| format!("{:.7}", n + 0.0)).collect();
    format!("{layer} {kind} {}", numbers.join(" "))
}

fn corners(points: &[(f64, f64, f64)]) -> Vec<f64> {
    points.iter().flat_map(|&(x, y, bulge)| [x, y, bulge]).collect()
}

fn expected(sheet: &LaserSheet) -> Vec<String> {
    sorted(sheet.items.iter().map(|item| {
        let layer = sheet.layers.iter().find(|layer| layer.role == item.role).expect("a layer");
        match &item.shape {
            LaserShape::Contour(path) => {
                let run: Vec<_> = path.vertices.iter().map(|v| (v.at.x, v.at.y, v.bulge)).collect();
                line(&layer.name, "closed", &corners(&run))
            }
            LaserShape::Circle(c, d) => line(&layer.name, "circle", &[c.x, c.y, d / 2.0]),
            LaserShape::Line([a, b]) => line(&layer.name, "line", &[a.x, a.y, b.x, b.y]),
            LaserShape::Stroke(points) => {
                let mut run: Vec<_> = points.iter().map(|p| (p.x, p.y, 0.0)).collect();
                let closed = run.first() == run.last();
                run.truncate(run.len() - usize::from(closed));
                line(&layer.name, if closed { "closed" } else { "open" }, &corners(&run))
            }
        }
    }))
}

fn found(drawing: &Drawing) -> Vec<String> {
    sorted(drawing.entities().map(|entity| {
        let layer = &entity.common.layer;
        match &entity.specific {
            EntityType::Circle(c) => line(layer, "circle", &[c.center.x, c.center.y, c.radius]),
            EntityType::Line(l) => line(layer, "line", &[l.p1.x, l.p1.y, l.p2.x, l.p2.y]),
            EntityType::LwPolyline(l) => {
                let run: Vec<_> = l.vertices.iter().map(|v| (v.x, v.y, v.bulge)).collect();
                line(layer, if l.is_closed() { "closed" } else { "open" }, &corners(&run))
            }
            other => panic!("no such entity belongs here: {other:?}"),
        }
    }))
}

#[test]
fn bracket_reads_well() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("../cases/write");
    settings.set_prepend_module_to_snapshot(false);
    let bytes = write::dxf(&sheet(&LaserStyle::default()));
    settings.bind(|| insta::assert_snapshot!("bracket-dxf", records(&bytes)));
}

#[test]
fn what_is_read_back_is_the_sheet() {
    for bend_lines in [BendLines::Whole, BendLines::Ticks(5.0), BendLines::Omitted] {
        let sheet = sheet(&LaserStyle { bend_lines, ..LaserStyle::default() });
        let bytes = write::dxf(&sheet);
        let drawing = Drawing::load(&mut bytes.as_slice()).expect("a DXF file");
        assert_eq!(found(&drawing), expected(&sheet));
        assert_eq!(drawing.header.default_drawing_units, dxf::enums::Units::Millimeters);
        assert_eq!(drawing.header.drawing_units, dxf::enums::DrawingUnits::Metric);
    }
}

#[test]
fn same_sheet_same_bytes_on_any_thread() {
    let here = write::dxf(&sheet(&LaserStyle::default()));
    let there = std::thread::spawn(|| write::dxf(&sheet(&LaserStyle::default())));
    assert!(here == there.join().expect("no panic"));
}

#[test]
fn handles_are_unique_and_owners_exist() {
    let bytes = write::dxf(&sheet(&LaserStyle::default()));
    let text = String::from_utf8(bytes).expect("ASCII");
    let lines: Vec<&str> = text.lines().collect();
    let (mut handles, mut owners) = (BTreeSet::from(["0"]), BTreeSet::new());
    let body = lines.iter().position(|line| *line == "TABLES").expect("tables");
    let seed = lines.iter().position(|line| *line == "$HANDSEED").map(|i| lines[i + 2]);
    for pair in lines[body + 1..].chunks(2) {
        match pair[0].trim() {
            "5" | "105" => assert!(handles.insert(pair[1]), "handle {} twice", pair[1]),
            "330" | "340" | "350" | "360" | "390" => drop(owners.insert(pair[1])),
            _ => {}
        }
    }
    assert!(owners.is_subset(&handles), "{owners:?} in {handles:?}");
    let number = |handle: &str| u64::from_str_radix(handle, 16).expect("hexadecimal");
    let highest = handles.iter().map(|handle| number(handle)).max().expect("handles");
    assert!(highest < number(seed.expect("a seed")));
}

#[test]
fn lines_of_no_length_and_doubled_lines_are_left_out() {
    let p = |x: f64, y: f64| -> Point<BedFrame> { Point::new(x, y) };
    let at = |x: f64, y: f64| Vertex { at: p(x, y), bulge: 0.0 };
    let cut = |shape| LaserItem { role: Role::CutInside, shape };
    let corners = vec![at(0.0, 0.0), at(9.0, 0.0), at(9.0, 0.0), at(9.0, 9.0)];
    let items = vec![
        cut(LaserShape::Line([p(1.0, 1.0), p(1.0, 1.0 + 1e-12)])),
        cut(LaserShape::Circle(p(3.0, 2.0), 1.0)),
        cut(LaserShape::Circle(p(3.0, 2.0 - 1e-11), 1.0)),
        cut(LaserShape::Circle(p(3.0, 2.0), 0.0)),
        cut(LaserShape::Line([p(1.0, 1.0), p(2.0, 1.0)])),
        cut(LaserShape::Line([p(2.0, 1.0), p(1.0, 1.0)])),
        cut(LaserShape::Stroke(vec![p(5.0, 5.0), p(5.0, 5.0)])),
        cut(LaserShape::Contour(Path { vertices: corners })),
    ];
    let layers = LaserStyle::default().layers;
    let bytes = write::dxf(&LaserSheet { layers, items });
    let drawing = Drawing::load(&mut bytes.as_slice()).expect("a DXF file");
    let expected = [
        line("CUT_INSIDE", "circle", &[3.0, 2.0, 0.5]),
        line("CUT_INSIDE", "closed", &[0.0, 0.0, 0.0, 9.0, 0.0, 0.0, 9.0, 9.0, 0.0]),
        line("CUT_INSIDE", "line", &[1.0, 1.0, 2.0, 1.0]),
    ];
    assert_eq!(found(&drawing), expected);
}

/// At 12 m a double has about twelve decimals left; no more are shown than mean something.
#[test]
fn far_coordinates_show_no_rounding_noise() {
    let at = |x: f64, y: f64| Vertex { at: Point::new(x, y), bulge: 0.0 };
    let vertices = vec![at(0.0, 0.0), at(12_345.678_9, 0.0), at(12_345.678_9, -1e-13)];
    let vertices = [vertices, vec![at(8000.1, 7_777.123_456_789)]].concat();
    let shape = LaserShape::Contour(Path { vertices });
    let items = vec![LaserItem { role: Role::CutOutside, shape }];
    let layers = LaserStyle::default().layers;
    let text = records(&write::dxf(&LaserSheet { layers, items }));
    let contour = text.lines().find(|line| line.starts_with("0 LWPOLYLINE")).expect("a contour");
    assert!(
        contour
            .ends_with("10 0.0 | 20 0.0 | 10 12345.6789 | 20 0.0 | 10 8000.1 | 20 7777.12345679"),
        "{contour}"
    );
}

#[test]
fn a_shop_names_and_colours_its_layers() {
    let mut style = LaserStyle::default();
    style.layers[0].name = "OUTLINE \u{e9}\u{4e2d}".to_owned();
    style.layers[0].colour = 42;
    let bytes = write::dxf(&sheet(&style));
    assert!(bytes.is_ascii());
    let drawing = Drawing::load(&mut bytes.as_slice()).expect("a DXF file");
    let outline = drawing.layers().find(|layer| layer.color.index() == Some(42)).expect("layer");
    assert_eq!(outline.name, style.layers[0].name);
}

/// Names that read like the file's own words, and a writer made for other layers than the sheet's.
#[test]
fn one_writer_serves_sheets_of_any_layers() {
    let mut style = LaserStyle::default();
    let names = ["ENTITIES", "LAYER", "SECTION", "$EXTMIN", "  9", "$HANDSEED", "0"];
    for (layer, name) in style.layers.iter_mut().zip(names) {
        layer.name = name.to_owned();
    }
    let writer = DxfWriter::new(&LaserStyle::default().layers);
    for style in [LaserStyle::default(), style] {
        let sheet = sheet(&style);
        let bytes = writer.write(&sheet);
        assert!(
            bytes == write::dxf(&sheet) && bytes == DxfWriter::new(&style.layers).write(&sheet)
        );
        let drawing = Drawing::load(&mut bytes.as_slice()).expect("a DXF file");
        let trimmed = |lines: Vec<String>| lines.iter().map(|l| l.trim().to_owned()).collect();
        let (found, expected): (Vec<_>, Vec<_>) =
            (trimmed(found(&drawing)), trimmed(expected(&sheet)));
        assert_eq!(found, expected);
    }
}

#[test]
fn an_empty_sheet_is_a_drawing_too() {
    let sheet = LaserSheet { layers: LaserStyle::default().layers, items: Vec::new() };
    let drawing = Drawing::load(&mut write::dxf(&sheet).as_slice()).expect("a DXF file");
    assert_eq!((drawing.entities().count(), drawing.layers().count()), (0, 8));
}

#[test]
fn inside_is_cut_before_outside_and_etched_before_cut() {
    let roles: Vec<Role> =
        sheet(&LaserStyle::default()).items.iter().map(|item| item.role).collect();
    let place = |role| roles.iter().position(|&r| r == role).expect("an item");
    let last = |role| roles.iter().rposition(|&r| r == role).expect("an item");
    assert!(last(Role::Etch) < place(Role::BendUp));
    assert!(last(Role::BendUp) < place(Role::CutInside));
    assert!(last(Role::CutInside) < place(Role::CutOutside));
    assert_eq!(last(Role::CutOutside), roles.len() - 1);
}

/// A blank laid face down on the bed bends the other way; its outline still runs to the left.
#[test]
fn a_blank_turned_over_keeps_its_senses() {
    let part = marked();
    let blank = flat::unfold(&part).expect("the bracket unfolds");
    let over = Map2::new(Point::new(-1.0, 0.0), Point::new(0.0, 1.0), Point::new(200.0, 10.0));
    let items = laser_items(&part, &blank, BendLines::Whole, &over);
    assert!(items.iter().any(|item| item.role == Role::BendDown));
    assert!(items.iter().all(|item| item.role != Role::BendUp));
    for item in &items {
        if let LaserShape::Contour(path) = &item.shape {
            assert_eq!(path.area() > 0.0, item.role == Role::CutOutside);
        }
    }
}
