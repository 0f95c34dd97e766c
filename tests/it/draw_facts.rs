//! What the drawings say: sizes, fractions, tolerances, fields, and nothing lost where it is much.

use blankwright::draw::{Item, PartViews, Shape, Sheet, drawing_set, shop_drawing};
use blankwright::flat::unfold;
use blankwright::fold::fold;
use blankwright::geom::{Path, Point, Point3, Pose};
use blankwright::kit::{Kit, Part};

use super::draw_collisions::collisions;
use super::draw_parts;

fn sheets(kit: &Kit, part: &Part) -> Vec<Sheet> {
    shop_drawing(kit, &PartViews::new(part, &fold(part)), &unfold(part).unwrap())
}

fn words(sheets: &[Sheet]) -> Vec<&str> {
    let items = sheets.iter().flat_map(|sheet| &sheet.items);
    let texts = items.filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect()
}

fn says(sheets: &[Sheet], text: &str) {
    assert!(words(sheets).contains(&text), "'{text}' in {:?}", words(sheets));
}

#[test]
fn overall_sizes_are_the_blanks() {
    let kit = draw_parts::kit(false);
    for part in &kit.parts {
        let (blank, sheets) = (unfold(part).unwrap(), sheets(&kit, part));
        says(&sheets, &format!("{:.1}", blank.width));
        says(&sheets, &format!("{:.1}", blank.height));
    }
}

#[test]
fn inches_stand_as_sixteenths_beside_decimals() {
    // 2900 / 25.4 = 114.173; 0.173 in is 2.8 sixteenths. 150 / 25.4 = 5.906, 14.5 sixteenths.
    let kit = draw_parts::kit(true);
    let sheets = sheets(&kit, &kit.parts[0]);
    says(&sheets, "114-3/16 [114.17]");
    says(&sheets, "5-7/8 [5.91]");
    assert_eq!((sheets[0].width, sheets[0].height), (431.8, 279.4), "ANSI B, 17 x 11 in");
}

#[test]
fn tolerances_follow_the_sizes_used() {
    // ISO 2768-1 table 1, class m.
    let kit = draw_parts::kit(false);
    let long = sheets(&kit, &kit.parts[0]);
    for deviation in ["±0.1", "±0.2", "±0.3", "±0.5", "±0.8", "±1.2", "±2"] {
        says(&long, deviation);
    }
    let small = sheets(&kit, &kit.parts[1]);
    says(&small, "±0.5");
    assert!(!words(&small).contains(&"±0.8"), "220 mm needs no range above 400");
}

#[test]
fn title_blocks_have_their_fields() {
    let kit = draw_parts::kit(false);
    let sheets = sheets(&kit, &kit.parts[1]);
    for text in [
        "Saltmarsh Modular",
        "Spring pad",
        "OTS-0420-02",
        "B",
        "2026-04-20",
        "M. Tern",
        "I. Plover",
        "Part drawing",
        "1 : 2",
        "Galvanized steel EN 10346 DX51D+Z275",
        "2 mm",
        "ISO 2768-m",
        "1 / 1",
    ] {
        says(&sheets, text);
    }
}

#[test]
fn holes_are_drawn_to_scale() {
    // Four holes of 6.6 in a plate of 220 x 160, drawn 1 : 2.
    let kit = draw_parts::kit(false);
    let sheets = sheets(&kit, &kit.parts[2]);
    let round = sheets[0].items.iter().filter(|item| match item {
        Item::Shape { shape: Shape::Circle(_, radius), .. } => (radius - 3.3 / 2.0).abs() < 1e-9,
        _ => false,
    });
    says(&sheets, "1 : 2");
    assert_eq!(round.count(), 4);
}

#[test]
fn a_rich_outline_is_listed() {
    let kit = draw_parts::kit(false);
    let mut part = draw_parts::plate();
    let mut points = vec![(0.0, 0.0), (1500.0, 0.0), (1500.0, 100.0)];
    for i in 0..80 {
        let x = 1500.0 - 18.0 * f64::from(i);
        points.extend([(x - 5.0, 100.0), (x - 7.0, 90.0), (x - 12.0, 90.0), (x - 14.0, 100.0)]);
    }
    points.push((0.0, 100.0));
    let points: Vec<_> = points.into_iter().map(|(x, y)| Point::new(x, y)).collect();
    part.faces[0].outline = Path::polygon(&points);
    part.faces[0].holes.clear();
    let sheets = sheets(&kit, &part);
    says(&sheets, "Corners of the outline, counter-clockwise");
    let corners = part.faces[0].outline.cleaned().vertices.len();
    says(&sheets, &corners.to_string());
    for sheet in &sheets {
        assert_eq!(collisions(sheet), Vec::<String>::new());
    }
}

#[test]
fn a_long_parts_list_goes_on() {
    let mut kit = draw_parts::kit(false);
    kit.parts = (0..70)
        .map(|i| {
            let up = Point3::new(0.0, 0.0, 60.0 * f64::from(i));
            let places = vec![Pose::identity().shifted(up)];
            let number = format!("OTS-0420-{:03}", i + 1);
            Part { number, places, ..draw_parts::plate() }
        })
        .collect();
    let folded: Vec<_> = kit.parts.iter().map(fold).collect();
    let blanks: Vec<_> = kit.parts.iter().map(|part| unfold(part).unwrap()).collect();
    let views = PartViews::of_all(&kit.parts, &folded);
    let set = drawing_set(&kit, &folded, &views, &blanks);
    assert!(set.cover.len() > 1, "the list needs more than one page");
    for part in &kit.parts {
        let listed = words(&set.cover).iter().filter(|w| **w == part.number).count();
        assert_eq!(listed, 1, "{}", part.number);
    }
    for sheet in &set.cover {
        assert_eq!(collisions(sheet), Vec::<String>::new());
    }
}
