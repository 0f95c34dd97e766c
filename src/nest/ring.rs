//! Rings of whole hundredths, and the way to and from the boolean library.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::{Precision, Solver, Strategy};
use i_overlay::i_float::int::point::IntPoint;

use crate::nest::model::{Placed, Rect, Ring, Shape};

/// A corner as the boolean library takes it.
pub(crate) type Point = IntPoint<i32>;

/// Contours as the boolean library takes them: outer ones counter-clockwise, holes clockwise.
pub(crate) type Contours = Vec<Vec<Point>>;

/// One thread, so that the result does not depend on their number.
const SOLVER: Solver =
    Solver { strategy: Strategy::Auto, precision: Precision::HIGH, multithreading: None };

/// A corner for the boolean library; sheets end far below what 32 bits hold.
pub(crate) fn point(p: [i64; 2]) -> Point {
    Point::new(p[0] as i32, p[1] as i32)
}

/// All contours of a shape.
pub(crate) fn contours(shape: &Shape) -> Contours {
    let rings = std::iter::once(&shape.outer).chain(&shape.holes);
    rings.map(|ring| ring.iter().map(|&p| point(p)).collect()).collect()
}

/// The boolean of two sets of contours, as shapes of one outer contour and its holes.
pub(crate) fn boolean(
    subject: &[Vec<Point>],
    clip: &[Vec<Point>],
    rule: OverlayRule,
) -> Vec<Contours> {
    let edges = subject.iter().chain(clip).map(Vec::len).sum();
    let mut overlay = Overlay::new_custom(edges, IntOverlayOptions::default(), SOLVER);
    for contour in subject {
        overlay.add_contour(contour, ShapeType::Subject);
    }
    for contour in clip {
        overlay.add_contour(contour, ShapeType::Clip);
    }
    overlay.overlay(rule, FillRule::NonZero)
}

/// What the contours cover together.
pub(crate) fn union(contours: &[Vec<Point>]) -> Vec<Contours> {
    boolean(contours, &[], OverlayRule::Subject)
}

/// What the subject covers and the clip does not.
pub(crate) fn difference(subject: &[Vec<Point>], clip: &[Vec<Point>]) -> Vec<Contours> {
    if clip.is_empty() {
        return union(subject);
    }
    boolean(subject, clip, OverlayRule::Difference)
}

/// Twice the area, positive for a counter-clockwise ring.
pub(crate) fn twice_area(ring: &[[i64; 2]]) -> i64 {
    edges(ring).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}

/// The ring's edges, from corner to corner.
pub(crate) fn edges(ring: &[[i64; 2]]) -> impl Iterator<Item = ([i64; 2], [i64; 2])> + '_ {
    let ends = ring.iter().skip(1).chain(ring.iter().take(1));
    ring.iter().zip(ends).map(|(&a, &b)| (a, b))
}

/// The smallest rectangle about a ring; inside out for no corners.
pub(crate) fn bounds(ring: &[[i64; 2]]) -> Rect {
    about(ring.iter().copied())
}

/// The smallest rectangle about contours; inside out for no corners.
pub(crate) fn extent(contours: &[Vec<Point>]) -> Rect {
    about(contours.iter().flatten().map(|p| [i64::from(p.x), i64::from(p.y)]))
}

fn about(corners: impl Iterator<Item = [i64; 2]>) -> Rect {
    let none = Rect { low: [i64::MAX; 2], high: [i64::MIN; 2] };
    corners.fold(none, |rect, [x, y]| Rect {
        low: [rect.low[0].min(x), rect.low[1].min(y)],
        high: [rect.high[0].max(x), rect.high[1].max(y)],
    })
}

/// Left turn positive, right turn negative, straight on 0.
pub(crate) fn cross(u: [i64; 2], v: [i64; 2]) -> i64 {
    u[0] * v[1] - u[1] * v[0]
}

/// `a - b`.
pub(crate) fn minus(a: [i64; 2], b: [i64; 2]) -> [i64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

/// `a + b`.
pub(crate) fn plus(a: [i64; 2], b: [i64; 2]) -> [i64; 2] {
    [a[0] + b[0], a[1] + b[1]]
}

/// The ring without repeated corners and corners on a straight line, in the asked sense.
pub(crate) fn clean(ring: &[[i64; 2]], counter_clockwise: bool) -> Ring {
    let mut kept: Ring = Vec::with_capacity(ring.len());
    for &p in ring {
        push_corner(&mut kept, p);
    }
    while 2 < kept.len() && !is_corner(kept[kept.len() - 2], kept[kept.len() - 1], kept[0]) {
        kept.pop();
    }
    while 2 < kept.len() && !is_corner(kept[kept.len() - 1], kept[0], kept[1]) {
        kept.remove(0);
    }
    if (0 < twice_area(&kept)) != counter_clockwise {
        kept.reverse();
    }
    kept
}

fn push_corner(kept: &mut Ring, p: [i64; 2]) {
    while let [.., a, b] = kept[..] {
        if is_corner(a, b, p) {
            break;
        }
        kept.pop();
    }
    if kept.last() != Some(&p) {
        kept.push(p);
    }
}

fn is_corner(a: [i64; 2], b: [i64; 2], c: [i64; 2]) -> bool {
    cross(minus(b, a), minus(c, b)) != 0
}

/// The shape reflected in its own y axis where asked, then turned counter-clockwise; without
/// corners on straight lines.
pub(crate) fn posed(shape: &Shape, turn: u16, mirrored: bool) -> Shape {
    let placed = Placed { item: 0, at: [0, 0], turn, mirrored };
    let Shape { outer, holes } = placed.shape(shape);
    let holes = holes.iter().map(|hole| clean(hole, false)).collect();
    Shape { outer: clean(&outer, true), holes }
}

/// The shape shifted.
pub(crate) fn shifted(shape: &Shape, by: [i64; 2]) -> Shape {
    let one = |ring: &Ring| ring.iter().map(|&p| plus(p, by)).collect();
    Shape { outer: one(&shape.outer), holes: shape.holes.iter().map(one).collect() }
}

/// A shape out of the boolean library's outer contour and holes.
pub(crate) fn shape_of(contours: &[Vec<Point>]) -> Shape {
    let ring = |contour: &Vec<Point>| -> Ring {
        contour.iter().map(|p| [i64::from(p.x), i64::from(p.y)]).collect()
    };
    let mut rings = contours.iter().map(ring);
    let outer = rings.next().map(|outer| clean(&outer, true)).unwrap_or_default();
    let holes = rings.map(|hole| clean(&hole, false)).filter(|hole| 2 < hole.len()).collect();
    Shape { outer, holes }
}
