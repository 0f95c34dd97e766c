//! Running dimensions from one datum: a single line, the figures at the ends of the extension
//! lines. Where positions crowd, the extension lines fan out so that no two figures meet.

use super::super::canvas::{Canvas, Room, level};
use super::super::text::text_width;
use super::super::{Align, Pen};
use super::arrow::ARROW;
use super::{EXTENSION_GAP, Edge, FIGURE, arrow, spread};
use crate::geom::Point;

/// Least distance between the middles of two neighbouring figures.
const PITCH: f64 = 3.7;
/// From the view's border to the dimension line.
const LINE: f64 = 7.0;
/// From the dimension line to the start of the fan.
const STEM: f64 = 1.5;
/// Depth of the fan.
const FAN: f64 = 5.0;
/// From the end of the fan to the figures.
const TAIL: f64 = 1.8;

/// One position.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::draw) struct Station {
    /// Where it is along the border, on the paper.
    pub(in crate::draw) along: f64,
    /// Where its extension line starts: millimetres outside the border, negative inside.
    pub(in crate::draw) start: f64,
    /// The figures.
    pub(in crate::draw) text: String,
}

/// A row of running dimensions; the first station is the datum.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::draw) struct Running {
    /// The border it stands at.
    pub(in crate::draw) edge: Edge,
    /// The stations in ascending order along the border.
    pub(in crate::draw) stations: Vec<Station>,
    /// The stretch along the border that the figures may take.
    pub(in crate::draw) stretch: (f64, f64),
}

/// How many stations a stretch of paper can show.
pub(in crate::draw) fn capacity(stretch: f64) -> usize {
    (stretch / PITCH).floor().max(0.0) as usize
}

impl Running {
    /// How far the row reaches outside the border, mm; 0 when it is empty.
    pub(in crate::draw) fn depth(&self) -> f64 {
        depth(self.stations.iter().map(|s| s.text.as_str()))
    }
}

/// How far a row with these figures reaches outside the border; 0 for none.
pub(in crate::draw) fn depth<'a>(texts: impl Iterator<Item = &'a str>) -> f64 {
    let widest = texts.map(|text| text_width(text, FIGURE, false)).fold(0.0, f64::max);
    if widest == 0.0 { 0.0 } else { LINE + STEM + FAN + TAIL + 0.8 + widest }
}

/// Draws the row.
pub(in crate::draw) fn running(canvas: &mut Canvas, view: &Room, row: &Running) {
    let edge = row.edge;
    let wanted: Vec<f64> = row.stations.iter().map(|s| s.along).collect();
    let places = spread(&wanted, PITCH, row.stretch);
    for (i, (station, place)) in row.stations.iter().zip(&places).enumerate() {
        let fan = LINE + STEM + FAN;
        let out = [station.start + EXTENSION_GAP, LINE + STEM];
        let mut points: Vec<_> = out.map(|o| edge.point(view, station.along, o)).into();
        points.extend([fan, fan + TAIL].map(|o| edge.point(view, *place, o)));
        canvas.run(points, Pen::Narrow);
        figures(canvas, view, (edge, *place), &station.text);
        mark(canvas, view, row, i);
    }
    if let (Some(first), Some(last)) = (row.stations.first(), row.stations.last()) {
        let ends = [first, last].map(|s| edge.point(view, s.along, LINE));
        canvas.line(ends[0], ends[1], Pen::Narrow);
    }
}

/// The figures at the end of an extension line.
fn figures(canvas: &mut Canvas, view: &Room, (edge, place): (Edge, f64), content: &str) {
    let end = edge.point(view, place, LINE + STEM + FAN + TAIL + 0.8);
    let direction = if edge.level() { 90.0 } else { 0.0 };
    let align = if edge.outward_falls() { Align::Right } else { Align::Left };
    let aside = Point::new(0.0, -FIGURE / 2.0).turned(direction);
    let mut text = level(end + aside, FIGURE, align, content);
    text.direction = direction;
    canvas.text(text);
}

/// A small circle at the datum, arrow heads where there is room, dots where there is not. The datum
/// is the first station, or the last on a border that is read downwards.
fn mark(canvas: &mut Canvas, view: &Room, row: &Running, index: usize) {
    let along = row.stations[index].along;
    let at = row.edge.point(view, along, LINE);
    if index == 0 {
        canvas.circle(at, 0.9, Pen::Narrow);
        return;
    }
    let room = along - row.stations[index - 1].along;
    if room < ARROW + 1.2 {
        canvas.dot(at, 0.45);
    } else {
        let before = row.edge.point(view, along - 1.0, LINE);
        arrow(canvas, at, (at - before).unit());
    }
}
