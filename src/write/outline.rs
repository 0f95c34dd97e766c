//! Shapes as runs of straight lines and arcs, the form that SVG and PDF have in common.

use crate::draw::Shape;
use crate::geom::{PaperFrame, Path, Point};
use crate::units;

/// One step along an outline; points on paper, y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Step {
    /// Starts a new run.
    Move(Point<PaperFrame>),
    /// Straight to a point.
    Line(Point<PaperFrame>),
    /// Along an arc: the end and tan(arc angle / 4), positive to the left.
    Arc(Point<PaperFrame>, f64),
    /// Back to the start of the run.
    Close,
}

/// The steps of a shape.
pub(crate) fn steps(shape: &Shape) -> Vec<Step> {
    match shape {
        Shape::Line(points) => line(points),
        Shape::Circle(centre, radius) => circle(*centre, *radius),
        Shape::Arc(centre, radius, start, end) => arc(*centre, *radius, *start, *end),
        Shape::Closed(paths) => paths.iter().flat_map(closed).collect(),
    }
}

fn line(points: &[Point<PaperFrame>]) -> Vec<Step> {
    let [first, rest @ ..] = points else { return Vec::new() };
    let rest = rest.iter().map(|&p| Step::Line(p));
    std::iter::once(Step::Move(*first)).chain(rest).collect()
}

/// Two half turns to the left.
fn circle(centre: Point<PaperFrame>, radius: f64) -> Vec<Step> {
    let spoke = Point::new(radius, 0.0);
    let (right, left) = (centre + spoke, centre - spoke);
    vec![Step::Move(right), Step::Arc(left, 1.0), Step::Arc(right, 1.0), Step::Close]
}

/// To the left from `start` to `end`, in two halves: neither reaches a full turn.
fn arc(centre: Point<PaperFrame>, radius: f64, start: f64, end: f64) -> Vec<Step> {
    let sweep = (end - start).rem_euclid(360.0);
    if sweep == 0.0 {
        return circle(centre, radius);
    }
    let at = |angle: f64| centre + Point::new(radius, 0.0).turned(angle);
    let bulge = units::tan_deg(sweep / 8.0);
    let (middle, end) = (at(start + sweep / 2.0), at(start + sweep));
    vec![Step::Move(at(start)), Step::Arc(middle, bulge), Step::Arc(end, bulge)]
}

fn closed(path: &Path<PaperFrame>) -> Vec<Step> {
    let Some(first) = path.vertices.first() else { return Vec::new() };
    let count = path.vertices.len();
    let mut steps = vec![Step::Move(first.at)];
    for (i, (_, end, bulge)) in path.sides().enumerate() {
        if bulge != 0.0 {
            steps.push(Step::Arc(end, bulge));
        } else if i + 1 < count {
            steps.push(Step::Line(end));
        }
    }
    steps.push(Step::Close);
    steps
}
