//! Isometric pictures of single parts: what is seen, what is not, and that nothing is lost.

use blankwright::draw::view::isometric_part;
use blankwright::draw::{Fill, Pen, Picture};
use blankwright::fold::fold;
use blankwright::geom::{FaceFrame, Path, Point, ViewFrame};
use blankwright::kit::{Hand, Part};

use crate::view_parts::{Fold, fold as add_leg, frame, rectangle, tray};

type Dot = Point<ViewFrame>;

/// Straight pieces of all strokes with a pen.
pub(crate) fn pieces(picture: &Picture, pen: Pen) -> Vec<[Dot; 2]> {
    let strokes = picture.strokes.iter().filter(|stroke| stroke.pen == pen);
    strokes.flat_map(|stroke| stroke.line.windows(2).map(|pair| [pair[0], pair[1]])).collect()
}

/// Whether a point lies inside of an area's outlines (even-odd), more than `off` from all of them.
pub(crate) fn deep_inside(outlines: &[Path<ViewFrame>], p: Dot, off: f64) -> bool {
    let mut odd = false;
    for (a, b, _) in outlines.iter().flat_map(Path::sides) {
        let side = b - a;
        let share = ((p - a).dot(side) / side.dot(side).max(1e-12)).clamp(0.0, 1.0);
        if p.distance(a + side * share) < off {
            return false;
        }
        if (a.y > p.y) != (b.y > p.y) && (side.cross(p - a) > 0.0) == (b.y > a.y) {
            odd = !odd;
        }
    }
    odd
}

fn picture(part: &Part) -> Picture {
    isometric_part(part, &fold(part))
}

fn total(picture: &Picture, pen: Pen) -> f64 {
    pieces(picture, pen).iter().map(|[a, b]| a.distance(*b)).sum()
}

#[test]
fn a_cube_shows_nine_edges_and_three_faces() {
    let picture = picture(&rectangle(100.0, 100.0, 100.0));
    let edges = pieces(&picture, Pen::Outline);
    assert_eq!(edges.len(), 9);
    // ISO 5456-3: an isometric edge is seen at sqrt(2/3) of its length, a face at 1/sqrt(3).
    for [a, b] in edges {
        assert!((a.distance(b) - 100.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-9);
    }
    assert_eq!(picture.areas.len(), 3);
    for area in &picture.areas {
        let seen = area.outlines[0].area().abs();
        assert!((seen - 1e4 / 3.0_f64.sqrt()).abs() < 1e-6, "{seen}");
    }
}

#[test]
fn axes_recede_at_thirty_degrees() {
    let picture = picture(&rectangle(100.0, 100.0, 100.0));
    for [a, b] in pieces(&picture, Pen::Outline) {
        let slope = (b.y - a.y).abs() / a.distance(b);
        assert!((slope - 0.5).abs() < 1e-9 || (slope - 1.0).abs() < 1e-9, "{slope}");
    }
}

#[test]
fn nothing_is_drawn_across_what_lies_in_front() {
    for part in [rectangle(2.0, 90.0, 60.0), frame(300.0), frame(2900.0), tray(), channel()] {
        let picture = picture(&part);
        let front = &picture.areas.last().unwrap().outlines;
        let strokes = picture.strokes.iter().flat_map(|stroke| stroke.line.windows(2));
        // The crest of a bend in front runs from border to border of its own area.
        let crosses = |pair: &&[Dot]| pair.iter().any(|p| !on_border(front, *p));
        for pair in strokes.filter(crosses) {
            for i in 0..=20 {
                let p = pair[0].toward(pair[1], f64::from(i) / 20.0);
                assert!(!deep_inside(front, p, 1e-3), "{p:?} lies behind the front of the picture");
            }
        }
    }
}

fn on_border(outlines: &[Path<ViewFrame>], p: Dot) -> bool {
    outlines.iter().flat_map(Path::sides).any(|(a, b, _)| {
        let share = ((p - a).dot(b - a) / (b - a).dot(b - a)).clamp(0.0, 1.0);
        p.distance(a.toward(b, share)) < 1e-6
    })
}

/// A U with legs as high as it is wide: either leg hides some of the other or of the web.
fn channel() -> Part {
    let mut part = rectangle(2.0, 200.0, 50.0);
    let leg = Fold { leg: 60.0, angle: 90.0, radius: 2.0 };
    add_leg(&mut part, 0, 0, leg);
    add_leg(&mut part, 0, 2, leg);
    part
}

#[test]
fn a_channel_hides_some_of_its_edges() {
    let seen = total(&picture(&channel()), Pen::Outline);
    // Seen whole, the three sheets' 2 x 4 long edges alone would measure this much.
    let long = 8.0 * 200.0 * (2.0_f64 / 3.0).sqrt();
    assert!(seen < long + 8.0 * 62.0, "{seen} against {long}");
    assert!(seen > 4.0 * 200.0 * (2.0_f64 / 3.0).sqrt(), "{seen}");
}

/// The same part for the other hand: x turned round in the root, y in every other face.
pub(crate) fn mirrored(part: &Part) -> Part {
    let mut other = part.clone();
    other.hand = Some(Hand::Right);
    let flip = |face: usize, p: Point<FaceFrame>| {
        if face == 0 { Point::new(-p.x, p.y) } else { Point::new(p.x, -p.y) }
    };
    for (i, face) in other.faces.iter_mut().enumerate() {
        let mut vertices: Vec<_> = face.outline.vertices.iter().map(|v| flip(i, v.at)).collect();
        vertices.reverse();
        face.outline = Path::polygon(&vertices);
        face.holes.iter_mut().for_each(|hole| hole.centre = flip(i, hole.centre));
    }
    for bend in &mut other.bends {
        let length = bend.edge[0].distance(bend.edge[1]);
        bend.edge = [flip(bend.parent, bend.edge[1]), flip(bend.parent, bend.edge[0])];
        bend.child_start = Point::new(bend.child_start.x, -bend.child_start.y - length);
    }
    other
}

#[test]
fn the_other_hand_gives_the_mirror_image() {
    for mut part in [frame(300.0), tray(), channel()] {
        part.hand = Some(Hand::Left);
        let (left, right) = (picture(&part), picture(&mirrored(&part)));
        for pen in [Pen::Outline, Pen::Narrow] {
            let (a, b) = (total(&left, pen), total(&right, pen));
            assert!((a - b).abs() < 1e-2, "{a} {b}");
            let ends: Vec<Dot> = pieces(&right, pen).into_iter().flatten().collect();
            for p in pieces(&left, pen).into_iter().flatten() {
                let image = Dot::new(-p.x, p.y);
                assert!(ends.iter().any(|q| q.distance(image) < 2e-3), "{image:?} has no image");
            }
        }
    }
}

#[test]
fn the_same_part_gives_the_same_picture() {
    assert_eq!(picture(&tray()), picture(&tray()));
}

#[test]
fn faces_have_pale_tints_and_holes_show_through() {
    let picture = picture(&tray());
    let pale = |fill: Fill| matches!(fill, Fill::Tint(tint) if tint <= 30);
    assert!(!picture.areas.is_empty() && picture.areas.iter().all(|area| pale(area.fill)));
    assert!(picture.areas.iter().any(|area| area.outlines.len() == 3), "the root has two holes");
}

#[test]
fn the_bounds_hold_every_line() {
    let picture = picture(&frame(2900.0));
    let b = picture.bounds;
    for p in picture.strokes.iter().flat_map(|stroke| &stroke.line) {
        assert!(b.low.x <= p.x && p.x <= b.high.x && b.low.y <= p.y && p.y <= b.high.y);
    }
}
