//! The four borders of a view, each with its own along and outward.

use super::super::canvas::{At, Room};
use crate::geom::Point;

/// A border of a view; rows of dimensions are stacked outward from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::draw) enum Edge {
    /// Under the view.
    Below,
    /// Over the view.
    Above,
    /// Left of it.
    Left,
    /// Right of it.
    Right,
}

impl Edge {
    /// The paper point `along` (its x or y on the paper) and `out` millimetres outside `view`.
    pub(super) fn point(self, view: &Room, along: f64, out: f64) -> At {
        match self {
            Edge::Below => Point::new(along, view.low.y - out),
            Edge::Above => Point::new(along, view.high.y + out),
            Edge::Left => Point::new(view.low.x - out, along),
            Edge::Right => Point::new(view.high.x + out, along),
        }
    }

    /// The two coordinates (along, out) of a paper point.
    pub(in crate::draw) fn split(self, view: &Room, p: At) -> (f64, f64) {
        match self {
            Edge::Below => (p.x, view.low.y - p.y),
            Edge::Above => (p.x, p.y - view.high.y),
            Edge::Left => (p.y, view.low.x - p.x),
            Edge::Right => (p.y, p.x - view.high.x),
        }
    }

    /// Whether the border runs level.
    pub(in crate::draw) fn level(self) -> bool {
        matches!(self, Edge::Below | Edge::Above)
    }

    /// Whether outward is towards smaller coordinates.
    pub(in crate::draw) fn outward_falls(self) -> bool {
        matches!(self, Edge::Below | Edge::Left)
    }
}
