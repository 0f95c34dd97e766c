//! The brake sheet: every stroke has its picture, its row and its stop, and texts stand free. The
//! plans are drawn by hand here; whether a plan is right is asked elsewhere.

use blankwright::brake::{
    BendSide, Handling, Outcome, Plan, Step, Stop, StopKind, ToolRun, ToolUse,
};
use blankwright::draw::{Item, Sheet, brake_sheets};
use blankwright::geom::{BrakeFrame, Point};
use blankwright::kit::Side;
use blankwright::units::{cos_deg, sin_deg};

use super::draw_collisions::collisions;
use super::draw_parts;
use super::law_stock::texts;

type At = Point<BrakeFrame>;

fn points(corners: &[(f64, f64)]) -> Vec<At> {
    corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

/// A straight leg from the bending line, rising by `angle`.
fn leg(length: f64, angle: f64, thickness: f64) -> Vec<At> {
    let along = Point::new(cos_deg(angle), sin_deg(angle));
    let up = if along.x < 0.0 { along.right() } else { along.left() } * thickness;
    vec![Point::new(0.0, 0.0), along * length, along * length + up, up]
}

fn tool(name: &str, corners: &[(f64, f64)]) -> ToolUse {
    let runs = vec![ToolRun { span: [-50.0, 50.0], pieces: Vec::new() }];
    ToolUse { index: 0, name: name.to_owned(), outline: points(corners), runs }
}

fn step(number: usize, bend: usize, legs: [f64; 2]) -> Step {
    let die = [(-20.0, 0.0), (-8.0, 0.0), (0.0, -8.0), (8.0, 0.0), (20.0, 0.0), (20.0, -100.0)];
    let punch = [(0.0, 0.0), (8.0, 12.0), (8.0, 150.0), (-8.0, 150.0), (-8.0, 12.0)];
    let [front, back] = legs;
    Step {
        number,
        bends: vec![bend],
        side_up: if number.is_multiple_of(2) { Side::Under } else { Side::Upper },
        handling: Handling {
            flipped: number.is_multiple_of(2),
            turned: if number.is_multiple_of(3) { 180 } else { 0 },
        },
        die: tool("V 16", &[&die[..], &[(-20.0, -100.0)]].concat()),
        punch: tool("straight R2", &punch),
        angle: 90.0,
        springback: 1.25,
        springback_source: "textbook".to_owned(),
        angle_set: 91.25,
        nose: [2.0, -6.0],
        gauge_side: BendSide::Child,
        stop: Some(Stop { distance: back, face: 0, kind: StopKind::Edge, span: [-50.0, 50.0] }),
        length: 2400.0,
        force: 341_000.0,
        force_source: "handbook form".to_owned(),
        before: vec![leg(front, 180.0, 2.0), leg(back, 0.0, 2.0)],
        after: vec![leg(front, 135.0, 2.0), leg(back, 45.0, 2.0)],
    }
}

fn sheets(inches: bool, strokes: usize) -> (Vec<Sheet>, usize) {
    let mut kit = draw_parts::kit(inches);
    kit.parts.truncate(1);
    let bends = kit.parts[0].bends.len();
    let steps = (0..strokes).map(|i| step(i + 1, i % bends, [40.0 + 30.0 * i as f64, 38.5]));
    let plan = Plan {
        steps: steps.collect(),
        flips: 1,
        turns: 2,
        tool_changes: 0,
        exact: true,
        ram: Vec::new(),
        bed: Vec::new(),
    };
    (brake_sheets(&kit, &[Some(Outcome::Plan(plan))]), bends)
}

fn words(sheets: &[Sheet]) -> Vec<String> {
    let items = sheets.iter().flat_map(|sheet| &sheet.items);
    let texts = items.filter_map(|item| match item {
        Item::Text(text) => Some(text.content.clone()),
        Item::Shape { .. } => None,
    });
    texts.collect()
}

#[test]
fn every_stroke_has_a_picture_and_a_row() {
    for strokes in [1, 2, 5, 12, 13] {
        let (sheets, bends) = sheets(false, strokes);
        assert_eq!(sheets.len(), strokes.div_ceil(12), "{strokes} strokes");
        let words = words(&sheets);
        for number in 1..=strokes {
            let caption = format!("{number}  B{} ", (number - 1) % bends + 1);
            let captions = words.iter().filter(|word| word.starts_with(&caption)).count();
            assert_eq!(captions, 1, "{caption} in {words:?}");
        }
        // A dimension beside each picture and a figure in each row.
        assert_eq!(words.iter().filter(|word| *word == "38.5").count(), 2 * strokes);
        assert_eq!(words.iter().filter(|word| *word == "91.3°").count(), strokes);
    }
}

#[test]
fn texts_of_brake_sheets_stand_free() {
    for (inches, strokes) in [(false, 1), (false, 4), (false, 7), (true, 12), (true, 3)] {
        for sheet in sheets(inches, strokes).0 {
            assert_eq!(collisions(&sheet), Vec::<String>::new(), "{} {strokes}", sheet.title);
        }
    }
}

#[test]
fn a_flat_part_has_no_brake_sheet() {
    assert!(sheets(false, 0).0.is_empty());
}

/// Which bend comes first is searched for each kit: a family's note about it would say otherwise
/// for another size.
#[test]
fn families_leave_the_order_of_bends_to_the_brake_sheet() {
    for family in texts("templates") {
        let text = String::from_utf8(family.bytes).unwrap();
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            let words: Vec<String> = line
                .split(|c: char| !c.is_alphabetic())
                .map(str::to_lowercase)
                .filter(|word| !word.is_empty())
                .collect();
            let has = |wanted: &[&str]| words.iter().any(|word| wanted.contains(&word.as_str()));
            let is_told = has(&["fold", "folded", "bend"]) && has(&["first", "before", "last"]);
            assert!(!is_told, "{}: {line}", family.name);
        }
    }
}
