//! A drawing sheet in paper millimetres: what the SVG and PDF writers see.

use crate::geom::{PaperFrame, Path, Point};

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Paper width, mm.
    pub width: f64,
    /// Paper height, mm.
    pub height: f64,
    /// Title for the document's outline and for screen readers.
    pub title: String,
    /// What is drawn, back to front.
    pub items: Vec<Item>,
}

/// Line types and widths of ISO 128-2, ratio 2:1, group 0.5 (frame 0.7 by ISO 5457).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// 01.2 continuous wide: visible edges and outlines.
    Outline,
    /// 01.1 continuous narrow: dimensions, leaders, hatching, bend lines.
    Narrow,
    /// 02.1 dashed narrow: hidden edges.
    Hidden,
    /// 04.1 long-dashed dotted narrow: centre lines.
    Centre,
    /// 05.1 long-dashed double-dotted narrow: adjacent parts, the outline before forming.
    Adjacent,
    /// 0.7 continuous: the frame of the sheet.
    Frame,
    /// 0.18 continuous: table rules and other quiet lines.
    Fine,
}

/// What a closed shape is filled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing.
    Empty,
    /// The paper: hides what lies behind.
    Paper,
    /// Black: arrow heads.
    Ink,
    /// A tint in percent of black, for the faces of pictures.
    Tint(u8),
}

/// The outline of something drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// An open run of straight lines.
    Line(Vec<Point<PaperFrame>>),
    /// A circle: centre and radius.
    Circle(Point<PaperFrame>, f64),
    /// An arc: centre, radius, start and end direction in degrees, counter-clockwise.
    Arc(Point<PaperFrame>, f64, f64, f64),
    /// Closed outlines filled together (even-odd), arcs as bulges.
    Closed(Vec<Path<PaperFrame>>),
}

/// Where a text's anchor lies on its base line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// The anchor is the start.
    Left,
    /// The anchor is the middle.
    Middle,
    /// The anchor is the end.
    Right,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Anchor on the base line.
    pub at: Point<PaperFrame>,
    /// Height of the capitals, mm (ISO 3098: 2.5, 3.5, 5, 7).
    pub height: f64,
    /// Where the anchor lies.
    pub align: Align,
    /// Direction of reading in degrees from +x.
    pub direction: f64,
    /// Whether it is set bold.
    pub bold: bool,
    /// The text.
    pub content: String,
}

/// One thing on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A shape stroked with a pen (or not at all) and filled.
    Shape {
        /// The outline.
        shape: Shape,
        /// The line; none for a fill alone.
        pen: Option<Pen>,
        /// The fill.
        fill: Fill,
    },
    /// A text.
    Text(Text),
}
