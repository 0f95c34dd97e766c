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
    /// Along an arc from a point: its start, its end and tan(arc angle / 4), positive to the left.
    Arc(Point<PaperFrame>, Point<PaperFrame>, f64),
    /// Back to the start of the run.
    Close,
}

/// Hands the steps of a shape one by one to a writer.
pub(crate) fn walk(shape: &Shape, mut take: impl FnMut(Step)) {
    match shape {
        Shape::Line(points) => line(points, &mut take),
        Shape::Circle(centre, radius) => circle(*centre, *radius, &mut take),
        Shape::Arc(centre, radius, start, end) => arc((*centre, *radius), *start, *end, &mut take),
        Shape::Closed(paths) => paths.iter().for_each(|path| closed(path, &mut take)),
    }
}

fn line(points: &[Point<PaperFrame>], take: &mut impl FnMut(Step)) {
    let [first, rest @ ..] = points else { return };
    take(Step::Move(*first));
    rest.iter().for_each(|&p| take(Step::Line(p)));
}

/// Two half turns to the left.
fn circle(centre: Point<PaperFrame>, radius: f64, take: &mut impl FnMut(Step)) {
    let spoke = Point::new(radius, 0.0);
    let (right, left) = (centre + spoke, centre - spoke);
    take(Step::Move(right));
    take(Step::Arc(right, left, 1.0));
    take(Step::Arc(left, right, 1.0));
    take(Step::Close);
}

/// To the left from `start` to `end`, in two halves: neither reaches a full turn.
fn arc(
    (centre, radius): (Point<PaperFrame>, f64),
    start: f64,
    end: f64,
    take: &mut impl FnMut(Step),
) {
    let sweep = (end - start).rem_euclid(360.0);
    if sweep == 0.0 {
        return circle(centre, radius, take);
    }
    let at = |angle: f64| centre + Point::new(radius, 0.0).turned(angle);
    let bulge = units::tan_deg(sweep / 8.0);
    let (first, middle, last) = (at(start), at(start + sweep / 2.0), at(start + sweep));
    take(Step::Move(first));
    take(Step::Arc(first, middle, bulge));
    take(Step::Arc(middle, last, bulge));
}

fn closed(path: &Path<PaperFrame>, take: &mut impl FnMut(Step)) {
    let Some(first) = path.vertices.first() else { return };
    let count = path.vertices.len();
    take(Step::Move(first.at));
    for (i, (start, end, bulge)) in path.sides().enumerate() {
        if bulge != 0.0 {
            take(Step::Arc(start, end, bulge));
        } else if i + 1 < count {
            take(Step::Line(end));
        }
    }
    take(Step::Close);
}
