//! Text widths against widths measured in the typeface's own tables by hand.

use blankwright::draw::{Typeface, text_width};

/// Advances of DejaVu Sans from its `hmtx` table: H 1540, i 569, space 651 of 2048 units.
#[test]
fn widths_follow_the_advances() {
    let face = Typeface::of(false);
    assert_eq!((face.advance('H'), face.advance('i'), face.advance(' ')), (1540, 569, 651));
    let width = text_width("Hi H", 3.5, false);
    assert!((width - (2.0 * 1540.0 + 569.0 + 651.0) * 3.5 / 1493.0).abs() < 1e-12, "{width}");
}

#[test]
fn capitals_are_as_high_as_asked() {
    for bold in [false, true] {
        let face = Typeface::of(bold);
        assert_eq!((face.capital_height, face.units_per_em), (1493, 2048));
        assert!((face.size_for(1493.0) - 2048.0).abs() < 1e-9);
    }
}

#[test]
fn characters_beyond_the_table_and_the_typeface_have_a_width() {
    let diameter = text_width("\u{2300}", 1.0, false);
    assert!(diameter > 0.5 && diameter < 2.0, "{diameter}");
    let missing = text_width("\u{4e2d}", 1.0, false);
    assert_eq!(missing, text_width("\u{fffd}", 1.0, false));
    assert!(text_width("bold", 1.0, true) > text_width("bold", 1.0, false));
}
