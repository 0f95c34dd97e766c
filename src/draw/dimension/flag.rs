//! The mark of a revision: a triangle with the revision's letter, beside what was changed.

use super::super::canvas::{At, Canvas, Room, contains, grown, strong};
use super::super::{Align, Fill, Pen};
use crate::geom::{Path, Point};
use crate::units;

/// A revision's mark.
#[derive(Debug, Clone)]
pub(in crate::draw) struct Flag {
    /// The revision.
    pub(in crate::draw) letter: String,
    /// Middle of what was changed, on the paper.
    pub(in crate::draw) target: At,
    /// From there to where the leader ends.
    pub(in crate::draw) radius: f64,
    /// The mark stays in here.
    pub(in crate::draw) within: Room,
}

/// Half the side of the triangle, mm.
const HALF: f64 = 3.6;
/// Its height.
const HIGH: f64 = 6.2;
/// Height of the letter.
const LETTER: f64 = 2.5;

/// Draws the mark at the nearest place that is free, found by a fixed search around the target;
/// above it, over whatever stands there, when none is: a change is never left unmarked.
pub(in crate::draw) fn flag(canvas: &mut Canvas, wish: &Flag) {
    let mut places = (0..12).flat_map(|ring| {
        let distance = wish.radius + 5.0 + 3.0 * f64::from(ring);
        (0..16).map(move |step| {
            let way = 22.5 * f64::from(step) + 67.5;
            Point::new(units::cos_deg(way), units::sin_deg(way)) * distance
        })
    });
    let free = |by: &At| {
        let area = grown(&around(wish.target + *by), 0.6);
        contains(&wish.within, &area)
            && canvas.ink.is_free(&area)
            && canvas.words.crossings(wish.target, wish.target + *by) == 0
    };
    let fallback = Point::new(0.0, wish.radius + 8.0);
    let at = wish.target + places.find(free).unwrap_or(fallback);
    draw(canvas, wish, at);
}

fn around(middle: At) -> Room {
    let reach = Point::new(HALF, HIGH / 2.0);
    Room { low: middle - reach, high: middle + reach }
}

fn draw(canvas: &mut Canvas, wish: &Flag, at: At) {
    let way = (wish.target - at).unit();
    let tip = wish.target - way * wish.radius;
    canvas.line(at, tip, Pen::Narrow);
    if wish.radius < 0.5 {
        canvas.dot(tip, 0.5);
    }
    let room = around(at);
    let corners = [room.low, Point::new(room.high.x, room.low.y), Point::new(at.x, room.high.y)];
    canvas.closed(vec![Path::polygon(&corners)], Some(Pen::Outline), Fill::Paper);
    let letter = Point::new(at.x, room.low.y + 1.1);
    canvas.text(strong(letter, LETTER, Align::Middle, wish.letter.clone()));
}
