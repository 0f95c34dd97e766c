//! A dimension along an edge in any direction.

use super::super::Pen;
use super::super::canvas::{At, Canvas, Room, contains, grown, text_room};
use super::linear::{Laid, dimension_line, laid};
use super::{EXTENSION_GAP, EXTENSION_PAST};

/// A dimension parallel to the line between two points.
#[derive(Debug, Clone)]
pub(in crate::draw) struct Aligned {
    /// The two points, on the paper.
    pub(in crate::draw) ends: [At; 2],
    /// Unit vector to the side that is tried first.
    pub(in crate::draw) side: At,
    /// The figures.
    pub(in crate::draw) text: String,
    /// It stays in here.
    pub(in crate::draw) within: Room,
}

/// Draws the dimension at the nearest distance at which its figures have room, on the wished side
/// if possible; false, and nothing drawn, where there is none.
pub(in crate::draw) fn aligned(canvas: &mut Canvas, wish: &Aligned) -> bool {
    const DISTANCES: [f64; 7] = [7.0, 10.0, 13.0, 17.0, 21.0, 26.0, 31.0];
    let sides = [wish.side, -wish.side];
    let mut tries = sides.iter().flat_map(|side| DISTANCES.iter().map(move |d| *side * *d));
    let found = tries.find_map(|shift| suiting(canvas, wish, shift).map(|laid| (shift, laid)));
    let Some((shift, laid)) = found else { return false };
    let way = shift.unit();
    let [a, b] = wish.ends;
    for end in [a, b] {
        canvas.line(end + way * EXTENSION_GAP, end + shift + way * EXTENSION_PAST, Pen::Narrow);
    }
    dimension_line(canvas, a + shift, b + shift, laid);
    true
}

/// The dimension at a distance, if it meets no text, its line no ink, and all of it stays in its
/// room.
fn suiting(canvas: &Canvas, wish: &Aligned, shift: At) -> Option<Laid> {
    let way = shift.unit();
    let [a, b] = wish.ends.map(|end| end + shift);
    let laid = laid(canvas, a, b, &wish.text)?;
    let extensions = wish.ends.iter().all(|&end| {
        canvas.words.crossings(end + way * EXTENSION_GAP, end + shift + way * EXTENSION_PAST) == 0
    });
    let past = way * EXTENSION_PAST;
    let mut reach = text_room(&laid.text);
    for p in [a + past, b + past].into_iter().chain(laid.line) {
        reach.add(p);
    }
    let inside = contains(&wish.within, &grown(&reach, 0.5));
    (inside && extensions && canvas.ink.crossings(a, b) == 0).then_some(laid)
}
