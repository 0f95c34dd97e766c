//! Arrow heads of ISO 129: closed, filled, 15 degrees.

use super::super::Fill;
use super::super::canvas::{At, Canvas};
use crate::geom::Path;

/// Length of an arrow head, mm.
pub(in crate::draw) const ARROW: f64 = 2.5;
/// Half of its breadth: tan(7.5 degrees) of the length, a little fuller so that it prints well.
const HALF: f64 = 0.38;

/// An arrow head with its point at `tip`, pointing along the unit vector `toward`.
pub(in crate::draw) fn arrow(canvas: &mut Canvas, tip: At, toward: At) {
    let back = tip - toward * ARROW;
    let side = toward.left() * HALF;
    canvas.closed(vec![Path::polygon(&[tip, back + side, back - side])], None, Fill::Ink);
}
