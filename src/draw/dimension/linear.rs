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
    /// Where the extension lines of the lower and the upper end start at the earliest, outside the
    /// border: beyond figures that stand there already.
    pub(in crate::draw) clear: [f64; 2],
}

/// Draws the dimension `out` millimetres outside a border of the view.
pub(in crate::draw) fn linear(canvas: &mut Canvas, edge: Edge, view: &Room, out: f64, span: &Span) {
    let mut ends = span.ends.map(|end| edge.split(view, end));
    if ends[0].0 > ends[1].0 {
        ends.swap(0, 1);
    }
    for ((along, start), clear) in ends.into_iter().zip(span.clear) {
        let from = edge.point(view, along, start.max(clear) + EXTENSION_GAP);
        canvas.line(from, edge.point(view, along, out + EXTENSION_PAST), Pen::Narrow);
    }
    let [a, b] = ends.map(|(along, _)| edge.point(view, along, out));
    let free = laid(canvas, a, b, &span.text);
    let laid = free.or_else(|| candidates(a, b, &span.text).into_iter().next());
    if let Some(laid) = laid {
        dimension_line(canvas, a, b, laid);
    }
}

/// What a dimension line takes on each side of it: half an arrow head, and a little.
const BESIDE: f64 = 0.6;

/// A dimension line as it will be drawn.
pub(super) struct Laid {
    /// The figures.
    pub(super) text: Text,
    /// The line's ends: past the arrows where they come from outside, and under the figures.
    pub(super) line: [At; 2],
}

/// Draws the line from `a` to `b` with arrows and figures. Where the room between is short the
/// arrows come from outside, and the figures stand beyond an end.
pub(super) fn dimension_line(canvas: &mut Canvas, a: At, b: At, laid: Laid) {
    let along = (b - a).unit();
    let turn = if arrows_inside(a, b) { 1.0 } else { -1.0 };
    arrow(canvas, a, along * -turn);
    arrow(canvas, b, along * turn);
    canvas.line(laid.line[0], laid.line[1], Pen::Narrow);
    canvas.text(laid.text);
}

/// The first way to lay the dimension out in which its figures meet nothing and its line no text.
pub(super) fn laid(canvas: &Canvas, a: At, b: At, text: &str) -> Option<Laid> {
    candidates(a, b, text).into_iter().find(|laid| {
        let [from, to] = laid.line;
        let aside = (to - from).unit().left() * BESIDE;
        let lines = [(from, to), (from + aside, to + aside), (from - aside, to - aside)];
        canvas.ink.is_free(&grown(&text_room(&laid.text), 0.2))
            && lines.iter().all(|(a, b)| canvas.words.crossings(*a, *b) == 0)
    })
}

/// How far a dimension reaches past its end when its figures stand there.
pub(in crate::draw) fn reach(text: &str) -> f64 {
    2.0 * ARROW + 0.5 + text_width(text, FIGURE, false)
}

fn arrows_inside(a: At, b: At) -> bool {
    a.distance(b) >= 2.0 * ARROW + 1.0
}

/// The ways to lay a dimension out, best first: figures between the ends where they fit, else
/// beyond one.
fn candidates(a: At, b: At, text: &str) -> Vec<Laid> {
    let along = (b - a).unit();
    let (length, width) = (a.distance(b), text_width(text, FIGURE, false));
    let past = if arrows_inside(a, b) { 0.0 } else { 2.0 * ARROW };
    let reach = reach(text);
    let aside = 2.0 * ARROW + 0.5 + width / 2.0;
    let laid = |middle: f64, low: f64, high: f64| Laid {
        text: figures(a + along * middle, along, text),
        line: [a - along * low, b + along * high],
    };
    let mut all = vec![laid(length + aside, past, reach), laid(-aside, reach, past)];
    if length >= width + 1.0 {
        all.insert(0, laid(length / 2.0, past, past));
    }
    all
}

/// The figures above the middle of a dimension line that runs along a unit vector, to be read from
/// below or from the right.
fn figures(middle: At, along: At, text: &str) -> Text {
    let up = if along.x.abs() > 1e-9 { along * along.x.signum() } else { Point::new(0.0, 1.0) };
    let direction = crate::units::atan2_deg(up.y, up.x);
    let at = middle + up.left() * TEXT_GAP;
    Text { direction, ..level(at, FIGURE, Align::Middle, text) }
}
