//! SVG files: true to the sheet, well formed whatever the texts hold.

use blankwright::draw::{Item, Pen, Sheet};
use blankwright::write;

use crate::write_sheet::{line, sheet, text};

fn svg(sheet: &Sheet) -> String {
    String::from_utf8(write::svg(sheet)).expect("UTF-8")
}

#[test]
fn a_sheet_with_one_of_everything() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("../cases/write");
    settings.set_prepend_module_to_snapshot(false);
    settings.bind(|| insta::assert_snapshot!("everything-svg", svg(&sheet())));
}

/// The dash lengths of ISO 128-2 in line widths: dash 12, long dash 24, gap 3, dot 0.5.
#[test]
fn dashes_follow_the_line_width() {
    for (pen, expected) in [
        (Pen::Hidden, "3 0.75"),
        (Pen::Centre, "6 0.75 0.125 0.75"),
        (Pen::Adjacent, "6 0.75 0.125 0.75 0.125 0.75"),
    ] {
        let items = vec![line((0.0, 0.0), (9.0, 9.0), pen)];
        let sheet = Sheet { width: 10.0, height: 10.0, title: String::new(), items };
        assert!(svg(&sheet).contains(&format!("stroke-dasharray=\"{expected}\"")));
    }
}

#[test]
fn control_characters_and_markup_stay_text() {
    let hostile = "a\u{0}\u{1b}[31m</text><script>\"'&amp;\u{ffff}";
    let items = vec![Item::Text(text(1.0, 1.0, hostile))];
    let sheet = Sheet { width: 10.0, height: 10.0, title: hostile.to_owned(), items };
    let svg = svg(&sheet);
    assert!(!svg.contains("<script"));
    assert!(svg.chars().all(|c| c == '\n' || !c.is_control()));
    assert_eq!(svg.matches("&amp;amp;").count(), 2);
}

#[test]
fn same_sheet_same_bytes() {
    assert!(write::svg(&sheet()) == write::svg(&sheet()));
}

/// A line of no length and an empty run draw nothing and break nothing.
#[test]
fn an_empty_sheet_is_a_file_too() {
    let sheet = Sheet { width: 420.0, height: 297.0, title: String::new(), items: Vec::new() };
    let svg = svg(&sheet);
    assert!(svg.contains("viewBox=\"0 0 420 297\"") && svg.contains("width=\"420mm\""));
}
