//! A closed body by its boundary.

use crate::geom::{PartFrame, Point3};

/// A point or a vector of the part.
pub(super) type Spot = Point3<PartFrame>;

/// Where a curve or a surface stands in the part's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axes {
    /// A circle's centre, a point of a plane, or of the axis of what is round.
    pub origin: Point3<PartFrame>,
    /// Unit vector: a plane's normal, or the axis of what is round.
    pub axis: Point3<PartFrame>,
    /// Unit vector square to the axis, from which angles count.
    pub x: Point3<PartFrame>,
}

/// What an edge runs along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Straight.
    Line,
    /// Counter-clockwise about the axis, of this radius in mm; a whole circle where both ends are
    /// one corner.
    Circle(Axes, f64),
}

/// A piece of a curve between two corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Indices of the corners at which it starts and ends.
    pub ends: [usize; 2],
    /// What it runs along.
    pub curve: Curve,
}

/// A surface without bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Surface {
    /// Faces along its axis.
    Plane(Axes),
    /// Radius in mm; faces away from its axis.
    Cylinder(Axes, f64),
    /// Radius at its origin in mm and half its angle in degrees, wider along its axis; faces away
    /// from it.
    Cone(Axes, f64, f64),
}

/// Index of an edge, and whether it is run from its start to its end.
pub type Way = (usize, bool);

/// A bounded piece of a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// What it lies on.
    pub surface: Surface,
    /// Whether the surface faces out of the body, or into it.
    pub outward: bool,
    /// The way around it, counter-clockwise seen from outside of the body, then those around its
    /// openings, clockwise.
    pub loops: Vec<Vec<Way>>,
}

/// One part's body in the part's frame, mm. Every edge is run once each way.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Body {
    /// Corners.
    pub corners: Vec<Point3<PartFrame>>,
    /// Edges between them.
    pub edges: Vec<Edge>,
    /// The boundary.
    pub patches: Vec<Patch>,
}

/// The same edge run the other way.
pub(super) fn back((edge, forward): Way) -> Way {
    (edge, !forward)
}

impl Body {
    /// Adds a corner.
    pub(super) fn corner(&mut self, at: Spot) -> usize {
        self.corners.push(at);
        self.corners.len() - 1
    }

    /// Adds an edge.
    pub(super) fn edge(&mut self, ends: [usize; 2], curve: Curve) -> usize {
        self.edges.push(Edge { ends, curve });
        self.edges.len() - 1
    }

    /// Adds a piece of a surface that faces out of the body.
    pub(super) fn outward(&mut self, surface: Surface, loops: Vec<Vec<Way>>) {
        self.patches.push(Patch { surface, outward: true, loops });
    }

    /// Adds a piece of a surface that faces into the body.
    pub(super) fn inward(&mut self, surface: Surface, loops: Vec<Vec<Way>>) {
        self.patches.push(Patch { surface, outward: false, loops });
    }
}
