//! The section of a bent part across its parallel bends, with what is needed to dimension it.

use crate::draw::Picture;
use crate::fold::FoldedPart;
use crate::geom::{Point, ViewFrame};
use crate::kit::Part;

/// The section across one family of parallel bends, seen along the bends, in real millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileView {
    /// Outline of the cut sheet with its thickness and bend radii.
    pub picture: Picture,
    /// One size for each leg, from one end of the profile to the other.
    pub legs: Vec<LegSize>,
    /// One call for each bend cut across, in the same order.
    pub bends: Vec<BendCall>,
}

/// The outside size of a leg: to the virtual sharp corners of the outer faces for bends up to 90
/// degrees, to the tangent for sharper ones.
#[derive(Debug, Clone, PartialEq)]
pub struct LegSize {
    /// Index of the face.
    pub face: usize,
    /// Where the size starts.
    pub from: Point<ViewFrame>,
    /// Where it ends; `from` to `to` runs along the leg.
    pub to: Point<ViewFrame>,
    /// Unit vector across the leg, to the side on which the dimension line has most room.
    pub side: Point<ViewFrame>,
    /// Distance from `from` to `to`, mm.
    pub size: f64,
}

/// What to say at a bend of the section.
#[derive(Debug, Clone, PartialEq)]
pub struct BendCall {
    /// Index of the bend.
    pub bend: usize,
    /// Middle of the inside arc: where a leader for the inside radius points.
    pub inside: Point<ViewFrame>,
    /// Middle of the outside arc.
    pub outside: Point<ViewFrame>,
    /// Unit vector from the arc's centre through its middle: outward.
    pub outward: Point<ViewFrame>,
    /// Inside radius, mm.
    pub radius: f64,
    /// Deviation from flat, degrees.
    pub angle: f64,
    /// Angle between the two legs: 180 less the deviation.
    pub between: f64,
}

/// The main section: across the bends parallel to the root's first bend. None for a flat plate.
pub fn profile(part: &Part, folded: &FoldedPart) -> Option<ProfileView> {
    profiles(part, folded).into_iter().next()
}

/// The main section, then one for each further direction of bends; empty for a flat plate.
pub fn profiles(_part: &Part, _folded: &FoldedPart) -> Vec<ProfileView> {
    Vec::new()
}
