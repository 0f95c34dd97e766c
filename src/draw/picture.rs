//! A picture of something in space, projected: strokes and tints in real millimetres of the view
//! plane, to be scaled onto a sheet.

use super::{Fill, Pen};
use crate::geom::{Bounds, Path, Point, ViewFrame};

/// Lines and tints of one view, at full size.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Tinted areas, back to front; they lie under every stroke.
    pub areas: Vec<Area>,
    /// Visible lines.
    pub strokes: Vec<Stroke>,
    /// Extent of all strokes and areas; `Bounds::empty()` when there are none.
    pub bounds: Bounds<ViewFrame>,
    /// What to name, and where it is seen.
    pub labels: Vec<Label>,
}

/// An open run of straight lines; it closes when its last point repeats the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// The points in order, at least two.
    pub line: Vec<Point<ViewFrame>>,
    /// What it is drawn with.
    pub pen: Pen,
}

/// Closed outlines filled together (even-odd: an outline within another is a hole).
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// The outlines.
    pub outlines: Vec<Path<ViewFrame>>,
    /// The fill.
    pub fill: Fill,
}

/// A name for something in the picture; a balloon with a leader may be drawn from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// A good place for the text, outside of what is drawn where possible.
    pub at: Point<ViewFrame>,
    /// The point named: on a visible spot of the thing, well away from its edges.
    pub tip: Point<ViewFrame>,
    /// Whether no spot of the thing is seen; the tip is then where one would be.
    pub hidden: bool,
    /// The text: the item number as in the parts list, counted from 1.
    pub text: String,
}

impl Picture {
    /// A picture of nothing.
    pub const fn empty() -> Self {
        Self { areas: Vec::new(), strokes: Vec::new(), bounds: Bounds::empty(), labels: Vec::new() }
    }

    /// Adds a line and grows the bounds.
    pub fn stroke(&mut self, line: Vec<Point<ViewFrame>>, pen: Pen) {
        for &p in &line {
            self.bounds.add(p);
        }
        self.strokes.push(Stroke { line, pen });
    }

    /// Adds an area in front of those before, and grows the bounds.
    pub fn area(&mut self, outlines: Vec<Path<ViewFrame>>, fill: Fill) {
        for outline in &outlines {
            let bounds = outline.bounds();
            self.bounds.add(bounds.low);
            self.bounds.add(bounds.high);
        }
        self.areas.push(Area { outlines, fill });
    }
}
