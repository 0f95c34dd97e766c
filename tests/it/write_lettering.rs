//! Etched lettering: every promised character is there, plain and of the right size.

use blankwright::draw::{can_letter, lettering, lettering_width};
use blankwright::geom::{BlankFrame, Point};

fn strokes(text: &str, height: f64) -> Vec<Vec<Point<BlankFrame>>> {
    lettering(text, height)
}

const CAPITALS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";

#[test]
fn every_promised_character_has_a_glyph() {
    assert!(can_letter(CAPITALS));
    assert!(can_letter("-./+ \u{b0}^\u{2191}\u{2193}\u{d7}\u{2300}v x"));
    assert!(!can_letter("SKB #1"));
}

#[test]
fn capitals_and_figures_are_as_high_as_asked_and_within_their_width() {
    for c in CAPITALS.chars() {
        let (text, height) = (c.to_string(), 7.0);
        let points: Vec<_> = strokes(&text, height).concat();
        let low = points.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let high = points.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        assert!(low.abs() < 1e-12 && (high - height).abs() < 1e-12, "{c}: {low} to {high}");
        let width = lettering_width(&text, height);
        let right = points.iter().map(|p| p.x).fold(0.0, f64::max);
        let left = points.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        assert!(left.abs() < 1e-12 && (right - width).abs() < 1e-12, "{c}: {left} to {right}");
    }
}

/// The laser must not follow the same line twice: it would burn through.
#[test]
fn no_line_of_a_glyph_is_followed_twice() {
    for c in CAPITALS.chars().chain("-./+,:=()\u{b0}\u{2191}\u{2193}\u{d7}\u{2300}#".chars()) {
        let mut lines: Vec<[[i64; 2]; 2]> = Vec::new();
        for stroke in strokes(&c.to_string(), 12.0) {
            assert!(stroke.len() >= 2, "{c}");
            let grid = |p: Point<BlankFrame>| [p.x.round() as i64, p.y.round() as i64];
            for pair in stroke.windows(2) {
                let mut line = [grid(pair[0]), grid(pair[1])];
                line.sort_unstable();
                assert!(line[0] != line[1] && !lines.contains(&line), "{c}: {line:?}");
                lines.push(line);
            }
        }
    }
}

#[test]
fn small_letters_are_capitals_and_signs_stand_alone() {
    assert_eq!(strokes("lip", 5.0), strokes("LIP", 5.0));
    assert_eq!(strokes("Rev", 5.0), strokes("REV", 5.0));
    assert_eq!(strokes("2x4", 5.0), strokes("2\u{d7}4", 5.0));
    assert_eq!(strokes("v up", 5.0), strokes("\u{2193} UP", 5.0));
    assert_eq!(strokes("box", 5.0), strokes("BOX", 5.0));
}

#[test]
fn a_text_is_as_long_as_its_characters_and_gaps() {
    assert_eq!(lettering_width("", 12.0), 0.0);
    assert_eq!(lettering_width("I", 12.0), 0.0);
    assert_eq!(lettering_width("HH", 12.0), 8.0 + 3.0 + 8.0);
}

/// A laser shows every kink: round characters turn one way all around.
#[test]
fn round_characters_have_no_dent() {
    for c in "O0\u{b0}".chars() {
        let ring = strokes(&c.to_string(), 12.0).remove(0);
        let n = ring.len() - 1;
        for i in 0..n {
            let (before, here, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
            assert!((here - before).cross(after - here) >= 0.0, "{c} at {here:?}");
        }
    }
}
