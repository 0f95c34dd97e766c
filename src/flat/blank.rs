//! The blank: the flat piece the laser cuts.

use std::f64::consts::PI;

use crate::geom::{BlankFrame, FaceFrame, Map2, Path, Point};

/// One part's blank, in the blank frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// Extent of the bounding box in x.
    pub width: f64,
    /// Extent of the bounding box in y.
    pub height: f64,
    /// Outline, counter-clockwise.
    pub outer: Path<BlankFrame>,
    /// Holes and cut-outs in the order of faces and holes.
    pub inner: Vec<BlankHole>,
    /// Where each face of the part lies.
    pub faces: Vec<Map2<FaceFrame, BlankFrame>>,
    /// The bends in the part's order.
    pub bends: Vec<BlankBend>,
    /// Lettering to etch.
    pub etch: Vec<Etch>,
    /// Area of the sheet that remains, mm2.
    pub area: f64,
    /// Length of all cuts, mm.
    pub cut_length: f64,
    /// How often the laser pierces.
    pub pierces: usize,
}

/// A hole in the blank.
#[derive(Debug, Clone, PartialEq)]
pub struct BlankHole {
    /// Index of its face.
    pub face: usize,
    /// Index of the hole in that face.
    pub hole: usize,
    /// Its contour.
    pub contour: Contour,
}

/// A closed inside contour.
#[derive(Debug, Clone, PartialEq)]
pub enum Contour {
    /// Centre and diameter.
    Circle(Point<BlankFrame>, f64),
    /// Clockwise loop.
    Loop(Path<BlankFrame>),
}

impl Contour {
    /// Area inside, mm2.
    pub fn area(&self) -> f64 {
        match self {
            Contour::Circle(_, diameter) => PI * diameter * diameter / 4.0,
            Contour::Loop(path) => path.area().abs(),
        }
    }

    /// Length of the cut, mm.
    pub fn length(&self) -> f64 {
        match self {
            Contour::Circle(_, diameter) => PI * diameter,
            Contour::Loop(path) => path.length(),
        }
    }
}

/// A bend in the blank.
#[derive(Debug, Clone, PartialEq)]
pub struct BlankBend {
    /// Centre line of the bend zone.
    pub line: [Point<BlankFrame>; 2],
    /// Width of the bend zone: the allowance, mm.
    pub allowance: f64,
}

/// Text to etch.
#[derive(Debug, Clone, PartialEq)]
pub struct Etch {
    /// Middle of the text.
    pub at: Point<BlankFrame>,
    /// Direction in degrees from +x.
    pub direction: f64,
    /// Height of the capitals, mm.
    pub height: f64,
    /// The text.
    pub text: String,
}
