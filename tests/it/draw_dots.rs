//! Pictures as text: every dot where the line runs.

use blankwright::draw::{Pen, Picture, dots};
use blankwright::geom::Point;

fn picture(lines: &[(&[(f64, f64)], Pen)]) -> Picture {
    let mut picture = Picture::empty();
    for (points, pen) in lines {
        picture.stroke(points.iter().map(|&(x, y)| Point::new(x, y)).collect(), *pen);
    }
    picture
}

/// A square of 8 by 8 dots: 4 characters by 2. The patterns' numbers are those of Unicode: dots 1,
/// 2, 3, 7 in the left column from the top, 4, 5, 6, 8 in the right one.
#[test]
fn a_square_is_drawn_dot_by_dot() {
    let square = [(0.0, 0.0), (7.0, 0.0), (7.0, 7.0), (0.0, 7.0), (0.0, 0.0)];
    let drawn = dots(&picture(&[(&square, Pen::Outline)]), [4, 9]);
    let rows = ["⡏⠉⠉⢹", "⣇⣀⣀⣸"];
    assert_eq!(drawn, rows);
}

#[test]
fn the_picture_keeps_its_shape_in_the_room() {
    let line = [(0.0, 0.0), (300.0, 100.0)];
    let wide = dots(&picture(&[(&line, Pen::Narrow)]), [60, 40]);
    assert_eq!((wide.len(), wide[0].chars().count()), (10, 60));
    let flat = dots(&picture(&[(&line, Pen::Narrow)]), [60, 5]);
    assert_eq!((flat.len(), flat[0].chars().count()), (5, 29));
}

#[test]
fn fine_lines_are_left_out_and_nothing_gives_nothing() {
    let line = [(0.0, 0.0), (0.0, 7.0)];
    let fine = [(7.0, 0.0), (7.0, 7.0)];
    let drawn = dots(&picture(&[(&line, Pen::Outline), (&fine, Pen::Fine)]), [4, 2]);
    assert_eq!(drawn, ["⡇", "⡇"]);
    assert!(dots(&Picture::empty(), [60, 20]).is_empty());
}
