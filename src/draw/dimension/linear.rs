//! A single linear dimension outside a border of a view.

use super::super::canvas::{At, Canvas, Room, grown, level, text_room};
use super::super::text::text_width;
use super::super::{Align, Pen, Text};
use super::arrow::ARROW;
use super::{EXTENSION_GAP, EXTENSION_PAST, Edge, FIGURE, TEXT_GAP, arrow};
use crate::geom::Point;

/// What a linear dimension measures.
#[derive(Debug, Clone)]
pub(in crate::draw) struct Span {
    /// The two points measured, on the paper.
    pub(in crate::draw) ends: [At; 2],
    /// The figures.
    pub(in crate::draw) text: String,
    /// Where the lower end's extension line starts at the earliest, outside the border: beyond the
    /// figures that stand at that place already.
    pub(in crate::draw) clear: f64,
}

/// Draws the dimension `out` millimetres outside a border of the view.
pub(in crate::draw) fn linear(canvas: &mut Canvas, edge: Edge, view: &Room, out: f64, span: &Span) {
    let mut ends = span.ends.map(|end| edge.split(view, end));
    if ends[0].0 > ends[1].0 {
        ends.swap(0, 1);
    }
    for (i, (along, start)) in ends.into_iter().enumerate() {
        let start = if i == 0 { start.max(span.clear) } else { start };
        let from = edge.point(view, along, start + EXTENSION_GAP);
        canvas.line(from, edge.point(view, along, out + EXTENSION_PAST), Pen::Narrow);
    }
    let [a, b] = ends.map(|(along, _)| edge.point(view, along, out));
    dimension_line(canvas, a, b, &span.text);
}

/// The line from `a` to `b` with arrows and figures. Where the room between is short the arrows
/// come from outside, and the figures stand beyond an end.
pub(super) fn dimension_line(canvas: &mut Canvas, a: At, b: At, text: &str) {
    let places = words(a, b, text);
    let free = places.iter().find(|t| is_free(canvas, t));
    let Some(chosen) = free.or(places.first()).cloned() else { return };
    let along = (b - a).unit();
    let (length, inside) = (a.distance(b), arrows_inside(a, b));
    let turn = if inside { 1.0 } else { -1.0 };
    arrow(canvas, a, along * -turn);
    arrow(canvas, b, along * turn);
    let past = if inside { 0.0 } else { 2.0 * ARROW };
    let half = text_width(text, FIGURE, false) / 2.0;
    let reach = (chosen.at - a.toward(b, 0.5)).dot(along);
    let low = if reach < -length / 2.0 { length / 2.0 - reach.abs() - half } else { -past };
    let low = if reach < -length / 2.0 { low.min(-past) } else { low };
    let high = if reach > length / 2.0 { reach + half - length / 2.0 } else { past };
    canvas.line(a + along * low, b + along * high, Pen::Narrow);
    canvas.text(chosen);
}

/// Whether the figures of a dimension from `a` to `b` find a free place.
pub(super) fn has_room(canvas: &Canvas, a: At, b: At, text: &str) -> bool {
    words(a, b, text).iter().any(|t| is_free(canvas, t))
}

fn is_free(canvas: &Canvas, text: &Text) -> bool {
    canvas.ink.is_free(&grown(&text_room(text), 0.2))
}

fn arrows_inside(a: At, b: At) -> bool {
    a.distance(b) >= 2.0 * ARROW + 1.0
}

/// The places for the figures, best first: between the ends where they fit, else beyond one.
fn words(a: At, b: At, text: &str) -> Vec<Text> {
    let along = (b - a).unit();
    let (length, width) = (a.distance(b), text_width(text, FIGURE, false));
    let beyond = along * (2.0 * ARROW + 0.5 + width / 2.0);
    let mut places = vec![b + beyond, a - beyond];
    if length >= width + 1.0 {
        places.insert(0, a.toward(b, 0.5));
    }
    places.into_iter().map(|place| figures(place, along, text)).collect()
}

/// The figures above the middle of a dimension line that runs along a unit vector, to be read from
/// below or from the right.
fn figures(middle: At, along: At, text: &str) -> Text {
    let up = if along.x.abs() > 1e-9 { along * along.x.signum() } else { Point::new(0.0, 1.0) };
    let direction = crate::units::atan2_deg(up.y, up.x);
    let at = middle + up.left() * TEXT_GAP;
    Text { direction, ..level(at, FIGURE, Align::Middle, text) }
}
