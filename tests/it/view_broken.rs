//! Long parts drawn interrupted: only what is uniform is left out, and both ends stay as they are.

use blankwright::draw::view::{isometric_part, part_from, part_view};
use blankwright::draw::{Pen, Picture};
use blankwright::fold::fold;
use blankwright::geom::{Point, ViewFrame};
use blankwright::kit::{HoleShape, Part};

use crate::view_isometric::pieces;
use crate::view_parts::{Fold, fold as add_leg, frame, hole, rectangle};

type Dot = Point<ViewFrame>;

fn pictures(part: &Part) -> (Picture, Picture) {
    let folded = fold(part);
    let whole = part_from(part, &folded, &part_view(part, &folded));
    (isometric_part(part, &folded), whole)
}

fn corners(picture: &Picture) -> Vec<Dot> {
    picture.strokes.iter().flat_map(|stroke| stroke.line.clone()).collect()
}

#[test]
fn a_long_part_is_interrupted_and_a_short_one_is_not() {
    let (broken, whole) = pictures(&frame(2900.0));
    assert!(broken.bounds.width() < whole.bounds.width() / 2.0);
    let (broken, whole) = pictures(&frame(600.0));
    assert_eq!(broken, whole);
}

#[test]
fn both_ends_are_as_in_the_whole_picture() {
    let (broken, whole) = pictures(&channel(2.0));
    // The part's length runs up to the right, 30 degrees from level: the left end stays, the right
    // end moves along it.
    let saved = whole.bounds.high.x - broken.bounds.high.x;
    let shift = Dot::new(saved, saved / 3.0_f64.sqrt());
    let (broken, whole) = (corners(&broken), corners(&whole));
    let found = |p: Dot, among: &[Dot]| among.iter().any(|q| q.distance(p) < 2e-3);
    let left = broken.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    let right = broken.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
    for p in broken {
        assert!(p.x > left + 30.0 || found(p, &whole), "{p:?} at the near end is new");
        assert!(p.x < right - 30.0 || found(p + shift, &whole), "{p:?} at the far end is new");
    }
}

#[test]
fn a_break_is_shown_in_narrow_lines_across_the_part() {
    let (broken, _) = pictures(&rectangle(3.0, 2000.0, 60.0));
    // Across the sheet's width, at 30 degrees down to the right, at sqrt(2/3) of its size.
    let across = |line: &&[Dot; 2]| {
        let along = line[1] - line[0];
        (along.length() - 60.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-6 && along.x * along.y < 0.0
    };
    let narrow = pieces(&broken, Pen::Narrow);
    assert_eq!(narrow.iter().filter(across).count(), 3, "two above, one below: {narrow:?}");
    assert!(pieces(&broken, Pen::Outline).iter().filter(across).count() >= 3);
}

#[test]
fn nothing_but_rows_of_small_holes_is_left_out() {
    let mut part = frame(2900.0);
    hole(&mut part, 0, (1450.0, 30.0), HoleShape::Rectangle(60.0, 80.0, 0.0));
    let (broken, whole) = pictures(&part);
    assert_eq!(broken, whole, "a cut-out in the middle must be seen");
    let mut part = frame(2900.0);
    hole(&mut part, 0, (500.0, 30.0), HoleShape::Rectangle(60.0, 80.0, 0.0));
    let (broken, whole) = pictures(&part);
    assert!(broken.bounds.width() < whole.bounds.width() * 0.7);
}

#[test]
fn a_broken_part_is_tinted_all_over() {
    let area = |picture: &Picture| -> f64 {
        let outlines = picture.areas.iter().flat_map(|area| &area.outlines);
        outlines.map(|outline| outline.area().abs()).sum()
    };
    let (broken, whole) = pictures(&channel(15.0));
    // A length along the picture's axis shows at sqrt(2/3), its width at sqrt(1/2); the gap, half
    // of the part's next extent of 102, has no area.
    let saved = (whole.bounds.width() - broken.bounds.width()) * 2.0_f64.sqrt();
    let wanted = 1.0 - (saved + 51.0) / 2000.0;
    let left = area(&broken) / area(&whole);
    assert!((left - wanted).abs() < 0.01, "{left} of the area, {wanted} of the length");
}

/// A long U without holes, 102 wide from tangent to tangent.
fn channel(radius: f64) -> Part {
    let mut part = rectangle(2.0, 2000.0, 102.0 - 2.0 * (radius + 2.0));
    for side in [0, 2] {
        add_leg(&mut part, 0, side, Fold { leg: 40.0, angle: 90.0, radius });
    }
    part
}
