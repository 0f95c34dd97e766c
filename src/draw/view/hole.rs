//! The rings of holes and cut-outs in their face's plane.

use crate::geom::{FaceFrame, Path, Point, Vertex};
use crate::kit::{Hole, HoleShape};
use crate::units;

/// A hole's ring, clockwise.
pub(super) fn ring(hole: &Hole) -> Path<FaceFrame> {
    match &hole.shape {
        HoleShape::Round(diameter) => round(hole.centre, *diameter),
        HoleShape::Slot(width, length, _) if *length <= *width => round(hole.centre, *width),
        HoleShape::Slot(width, length, direction) => {
            bar(hole.centre, [*width, *length], *direction, -1.0)
        }
        HoleShape::Rectangle(width, length, direction) => {
            bar(hole.centre, [*width, *length + *width], *direction, 0.0)
        }
        HoleShape::Cutout(path) if path.area() > 0.0 => path.reversed(),
        HoleShape::Cutout(path) => path.clone(),
    }
}

/// Least extent of a hole, mm.
pub(super) fn extent(hole: &Hole) -> f64 {
    match &hole.shape {
        HoleShape::Round(diameter) => *diameter,
        HoleShape::Slot(width, length, _) | HoleShape::Rectangle(width, length, _) => {
            width.min(*length)
        }
        HoleShape::Cutout(path) => path.bounds().width().min(path.bounds().height()),
    }
}

/// From where to where a hole reaches along a direction of its face.
pub(super) fn reach(hole: &Hole, axis: Point<FaceFrame>) -> [f64; 2] {
    let half = |long: f64, wide: f64, direction: f64, square: bool| {
        let x = Point::new(units::cos_deg(direction), units::sin_deg(direction));
        let across = if square { x.left().dot(axis).abs() } else { axis.length() };
        long / 2.0 * x.dot(axis).abs() + wide / 2.0 * across
    };
    let half = match &hole.shape {
        HoleShape::Round(diameter) => half(0.0, *diameter, 0.0, false),
        HoleShape::Slot(width, length, direction) => {
            half((length - width).max(0.0), *width, *direction, false)
        }
        HoleShape::Rectangle(width, length, direction) => half(*length, *width, *direction, true),
        HoleShape::Cutout(path) => {
            let bounds = path.bounds();
            let corners = [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)];
            let size = bounds.high - bounds.low;
            let along =
                corners.map(|(x, y)| (bounds.low + Point::new(size.x * x, size.y * y)).dot(axis));
            let ends = [f64::INFINITY, f64::NEG_INFINITY];
            return along.into_iter().fold(ends, |[low, high], s| [low.min(s), high.max(s)]);
        }
    };
    let centre = hole.centre.dot(axis);
    [centre - half, centre + half]
}

/// Two half circles.
fn round(centre: Point<FaceFrame>, diameter: f64) -> Path<FaceFrame> {
    let radius = Point::new(diameter / 2.0, 0.0);
    let half = |at: Point<FaceFrame>| Vertex { at, bulge: -1.0 };
    Path { vertices: vec![half(centre - radius), half(centre + radius)] }
}

/// Two parallel sides `width` apart whose ends, `length - width` apart, have the given bulge.
fn bar(
    centre: Point<FaceFrame>,
    [width, length]: [f64; 2],
    direction: f64,
    bulge: f64,
) -> Path<FaceFrame> {
    let (half, side) = ((length - width) / 2.0, width / 2.0);
    let x = Point::new(units::cos_deg(direction), units::sin_deg(direction));
    let corner = |a: f64, b: f64, bulge: f64| Vertex { at: centre + x * a + x.left() * b, bulge };
    let vertices = vec![
        corner(-half, side, 0.0),
        corner(half, side, bulge),
        corner(half, -side, 0.0),
        corner(-half, -side, bulge),
    ];
    Path { vertices }
}
