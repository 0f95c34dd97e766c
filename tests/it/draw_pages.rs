//! Laws of the drawing set: texts stand free, every hole and bend is named, same input same sheets.

use blankwright::draw::{
    Align, Block, DrawingSet, Fill, Item, PartViews, Pen, Shape, Sheet, Text, column, drawing_set,
    figures, preview, report, sentences,
};
use blankwright::flat::{Blank, unfold};
use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::Point;
use blankwright::kit::Kit;

use super::draw_collisions::collisions;
use super::draw_parts;

fn worked(kit: &Kit) -> (Vec<FoldedPart>, Vec<Blank>) {
    let folded = kit.parts.iter().map(fold).collect();
    let blanks = kit.parts.iter().map(|part| unfold(part).unwrap()).collect();
    (folded, blanks)
}

fn set(kit: &Kit, folded: &[FoldedPart], blanks: &[Blank]) -> DrawingSet {
    drawing_set(kit, folded, &PartViews::of_all(&kit.parts, folded), blanks)
}

fn sheets(inches: bool) -> Vec<Sheet> {
    let kit = draw_parts::kit(inches);
    let (folded, blanks) = worked(&kit);
    set(&kit, &folded, &blanks).sheets().cloned().collect()
}

fn words(sheet: &Sheet) -> Vec<&str> {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect()
}

#[test]
fn texts_stand_free_in_millimetres() {
    for sheet in sheets(false) {
        assert_eq!(collisions(&sheet), Vec::<String>::new(), "{}", sheet.title);
    }
}

#[test]
fn texts_stand_free_in_inches() {
    for sheet in sheets(true) {
        assert_eq!(collisions(&sheet), Vec::<String>::new(), "{}", sheet.title);
    }
}

#[test]
fn texts_stand_free_on_previews() {
    let kit = draw_parts::kit(false);
    let (folded, blanks) = worked(&kit);
    for ((part, folded), blank) in kit.parts.iter().zip(&folded).zip(&blanks) {
        let sheet = preview(&kit, &PartViews::new(part, folded), blank);
        assert_eq!(collisions(&sheet), Vec::<String>::new(), "{}", sheet.title);
    }
}

#[test]
fn the_collision_check_sees_a_fault() {
    let text = |x: f64, content: &str| {
        Item::Text(Text {
            at: Point::new(x, 10.0),
            height: 2.5,
            align: Align::Left,
            direction: 0.0,
            bold: false,
            content: content.to_owned(),
        })
    };
    let line = Item::Shape {
        shape: Shape::Line(vec![Point::new(0.0, 11.0), Point::new(50.0, 11.0)]),
        pen: Some(Pen::Narrow),
        fill: Fill::Empty,
    };
    let items = vec![text(10.0, "web"), text(12.0, "lip"), line];
    let sheet = Sheet { width: 60.0, height: 20.0, title: String::new(), items };
    let found = collisions(&sheet);
    assert_eq!(found.len(), 3, "{found:?}");
    assert_eq!(found[0], "'web' meets 'lip'");
}

#[test]
fn sheets_are_numbered_through_the_set() {
    let sheets = sheets(false);
    let total = sheets.len();
    for (i, sheet) in sheets.iter().enumerate() {
        let number = format!("{} / {total}", i + 1);
        assert!(words(sheet).contains(&number.as_str()), "{}", sheet.title);
    }
}

#[test]
fn every_bend_is_called_and_listed() {
    let kit = draw_parts::kit(false);
    let (folded, blanks) = worked(&kit);
    let set = set(&kit, &folded, &blanks);
    for (part, sheets) in kit.parts.iter().zip(&set.parts) {
        let words: Vec<&str> = sheets.iter().flat_map(words).collect();
        for (i, bend) in part.bends.iter().enumerate() {
            let sense = bend.sense.word().to_uppercase();
            let call = format!("B{} {sense} {}° R2", i + 1, bend.angle);
            assert_eq!(words.iter().filter(|w| **w == call).count(), 1, "{call}");
            assert!(words.contains(&format!("B{}", i + 1).as_str()), "{} in the table", bend.name);
        }
    }
}

#[test]
fn every_hole_is_counted_once() {
    let kit = draw_parts::kit(false);
    let (folded, blanks) = worked(&kit);
    let set = set(&kit, &folded, &blanks);
    // Three rows of 13, 15 and 11 and one slot alone: each row has a label at its first hole and
    // the same label in the table.
    let long: Vec<&str> = set.parts[0].iter().flat_map(words).collect();
    for label in ["A1", "A2", "C1", "D1"] {
        assert_eq!(long.iter().filter(|w| **w == label).count(), 2, "{label}");
    }
    for count in ["13", "15", "11"] {
        assert!(long.contains(&count), "a row of {count}");
    }
    let tray: Vec<&str> = set.parts[1].iter().flat_map(words).collect();
    for callout in ["2 × ⌀9", "12 × 24 along X", "3 × ⌀4.9"] {
        assert!(tray.contains(&callout), "{callout} in {tray:?}");
    }
}

#[test]
fn same_kit_same_sheets() {
    assert_eq!(sheets(false), sheets(false));
}

/// Sentences of every length in a report's wrapping columns.
#[test]
fn texts_of_a_report_stand_free() {
    let lexicon = ["wall", "stands", "1.25 mm", "in", "the", "inner", "flat", "of", "corrugation"];
    let sentence = |n: usize| -> String {
        (0..n).map(|i| lexicon[(i * 7 + n) % lexicon.len()]).collect::<Vec<_>>().join(" ")
    };
    let columns = || vec![column("Check", 30.0), sentences("Finding", 90.0), figures("mm", 20.0)];
    let rows = (0..60).map(|n| vec![format!("fit.{n}"), sentence(n), format!("{n}.00")]).collect();
    let blocks = vec![
        Block::Prose("About", vec![sentence(80), sentence(3)]),
        Block::Table("Findings", columns(), rows),
    ];
    let sheets = report(&draw_parts::kit(false), "Check sheet", blocks);
    let told: Vec<&str> = sheets.iter().flat_map(words).collect();
    assert!(sheets.len() > 1, "{} sheets", sheets.len());
    for n in 0..60 {
        assert_eq!(told.iter().filter(|word| **word == format!("fit.{n}")).count(), 1);
    }
    for sheet in &sheets {
        assert_eq!(collisions(sheet), Vec::<String>::new(), "{}", sheet.title);
    }
}
