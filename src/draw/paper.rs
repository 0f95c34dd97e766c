//! The paper and its frame: ISO 5457 borders, centring marks and reference fields.

use super::canvas::{At, Canvas, Room, level, room};
use super::{Align, Pen};
use crate::geom::Point;

/// Border on the filing side, mm.
const FILING: f64 = 20.0;
/// Border on the other sides, mm.
const BORDER: f64 = 10.0;
/// Width of the band of reference fields outside the frame, mm.
const BAND: f64 = 5.0;
/// Length of a reference field, mm.
const FIELD: f64 = 50.0;
/// Letters of the fields from the top down; I and O are left out because they look like figures.
const LETTERS: &str = "ABCDEFGHJKLMNPQRSTUVWXYZ";

/// A sheet's paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Paper {
    /// Name of the format.
    pub(super) name: &'static str,
    width: f64,
    height: f64,
}

impl Paper {
    /// ISO A3 landscape, or ANSI B (17 by 11 in) where people read inches.
    pub(super) fn of(inches: bool) -> Self {
        if inches {
            Self { name: "ANSI B", width: 431.8, height: 279.4 }
        } else {
            Self { name: "A3", width: 420.0, height: 297.0 }
        }
    }

    /// The drawing space inside the frame.
    pub(super) fn frame(self) -> Room {
        room(FILING, BORDER, self.width - FILING - BORDER, self.height - 2.0 * BORDER)
    }

    /// An empty canvas with the frame drawn.
    pub(super) fn canvas(self) -> Canvas {
        let mut canvas = Canvas::new(self.width, self.height);
        let frame = self.frame();
        canvas.rectangle(&frame, Pen::Frame);
        self.centring_marks(&mut canvas, &frame);
        fields(&mut canvas, &frame);
        canvas
    }

    fn centring_marks(self, canvas: &mut Canvas, frame: &Room) {
        let middle = frame.centre();
        let (low, high) = (frame.low, frame.high);
        let marks = [
            (Point::new(low.x - BORDER, middle.y), Point::new(low.x, middle.y)),
            (Point::new(high.x, middle.y), Point::new(self.width, middle.y)),
            (Point::new(middle.x, 0.0), Point::new(middle.x, low.y)),
            (Point::new(middle.x, high.y), Point::new(middle.x, self.height)),
        ];
        for (a, b) in marks {
            canvas.line(a, b, Pen::Frame);
        }
    }
}

/// Reference fields, counted from the upper left; the axes of symmetry are field borders.
fn fields(canvas: &mut Canvas, frame: &Room) {
    let outer =
        Room { low: frame.low - Point::new(BAND, BAND), high: frame.high + Point::new(BAND, BAND) };
    canvas.rectangle(&outer, Pen::Fine);
    let across = borders(frame.low.x, frame.high.x);
    for (i, pair) in across.windows(2).enumerate() {
        let middle = (pair[0] + pair[1]) / 2.0;
        let number = (i + 1).to_string();
        for y in [frame.low.y - BAND / 2.0, frame.high.y + BAND / 2.0] {
            field_name(canvas, Point::new(middle, y), &number);
        }
        for y in [frame.low.y - BAND, frame.high.y] {
            tick(canvas, i, Point::new(pair[0], y), Point::new(pair[0], y + BAND));
        }
    }
    let down = borders(frame.low.y, frame.high.y);
    for ((i, pair), letter) in down.windows(2).rev().enumerate().zip(LETTERS.chars()) {
        let middle = (pair[0] + pair[1]) / 2.0;
        for x in [frame.low.x - BAND / 2.0, frame.high.x + BAND / 2.0] {
            field_name(canvas, Point::new(x, middle), &letter.to_string());
        }
        for x in [frame.low.x - BAND, frame.high.x] {
            tick(canvas, i, Point::new(x, pair[1]), Point::new(x + BAND, pair[1]));
        }
    }
}

/// The line between two fields; the first field has none, as the corner is drawn already.
fn tick(canvas: &mut Canvas, index: usize, a: At, b: At) {
    if index > 0 {
        canvas.line(a, b, Pen::Fine);
    }
}

fn field_name(canvas: &mut Canvas, middle: At, name: &str) {
    let height = 2.5;
    let at = middle - Point::new(0.0, height / 2.0);
    canvas.text(level(at, height, Align::Middle, name));
}

/// Borders of the fields between two sides of the frame. A rest shorter than half a field is
/// joined to its neighbour.
fn borders(low: f64, high: f64) -> Vec<f64> {
    let middle = (low + high) / 2.0;
    let whole = ((middle - low) / FIELD).round().max(1.0) as i32;
    let mut borders: Vec<f64> = (1 - whole..whole).map(|i| middle + FIELD * f64::from(i)).collect();
    borders.insert(0, low);
    borders.push(high);
    borders
}
