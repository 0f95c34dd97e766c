//! What the pictures are made from: plane facets of closed solids and the edges between them, in
//! the picture's space (x right, y up, z towards the viewer).

use crate::geom::{Point3, ViewFrame};

/// A point or vector of the picture's space.
pub(super) type Spot = Point3<ViewFrame>;

/// Below this z a unit normal counts as pointing away: facets seen edge on are not seen.
const EDGE_ON: f64 = 1e-9;

/// A plane facet with its holes.
#[derive(Debug, Clone)]
pub(super) struct Facet {
    /// The outer loop, then the holes: counter-clockwise and clockwise as seen from outside.
    pub(super) loops: Vec<Vec<Spot>>,
    /// Unit vector out of the solid.
    pub(super) normal: Spot,
    /// The item it belongs to.
    pub(super) item: usize,
    /// Which surface it is a piece of: facets of one surface are tinted as one.
    pub(super) surface: usize,
    /// Whether it is worth a tint.
    pub(super) tinted: bool,
}

impl Facet {
    /// Whether its outer side is seen.
    pub(super) fn front(&self) -> bool {
        self.normal.z > EDGE_ON
    }
}

/// What makes an edge worth drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum EdgeKind {
    /// A corner of the solid: seen when either facet is.
    Sharp,
    /// A corner of a small hole: as `Sharp`, in a narrow line.
    Small,
    /// A seam within a curved surface: seen where the surface turns away.
    Smooth,
    /// Where a flat face runs into a bend: narrow, or wide where the surface turns away.
    Tangent,
    /// Where an interrupted part is broken off: always seen, in a narrow line.
    Broken,
    /// The crest of a bend too small for two tangent lines: seen when both faces are.
    Crest,
}

/// A straight edge between two facets.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    /// Where it starts and ends.
    pub(super) ends: [Spot; 2],
    /// Indices of the facets it lies between.
    pub(super) facets: [usize; 2],
    /// What makes it worth drawing.
    pub(super) kind: EdgeKind,
}

/// Solids as facets and edges.
#[derive(Debug, Clone, Default)]
pub(super) struct Model {
    /// The facets.
    pub(super) facets: Vec<Facet>,
    /// The edges.
    pub(super) edges: Vec<Edge>,
    /// Number of surfaces so far.
    pub(super) surfaces: usize,
}

impl Model {
    /// A new surface's index.
    pub(super) fn surface(&mut self) -> usize {
        self.surfaces += 1;
        self.surfaces - 1
    }

    /// Adds a facet and gives its index.
    pub(super) fn facet(&mut self, facet: Facet) -> usize {
        self.facets.push(facet);
        self.facets.len() - 1
    }

    /// Adds an edge; one without length is left out.
    pub(super) fn edge(&mut self, ends: [Spot; 2], facets: [usize; 2], kind: EdgeKind) {
        if ends[0] != ends[1] {
            self.edges.push(Edge { ends, facets, kind });
        }
    }
}
