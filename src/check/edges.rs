//! How near a hole comes to the free edges, the bends and the other holes of its face.

use crate::geom::{FaceFrame, Point, side_distance, tolerance};
use crate::kit::{Face, Hole, Part};

type P = Point<FaceFrame>;

/// A side of an outline: its ends and its bulge.
type OutlineSide = (P, P, f64);

/// The free sides of a face and those that carry bends.
pub(super) struct FaceEdges {
    free: Vec<OutlineSide>,
    /// With the bend's index.
    bends: Vec<(usize, [P; 2])>,
}

impl FaceEdges {
    /// Sorts the sides of a face.
    pub(super) fn of(part: &Part, face: usize) -> Self {
        let mut bends = Vec::new();
        for (index, bend) in part.bends.iter().enumerate() {
            if bend.parent == face {
                bends.push((index, bend.edge));
            }
            if bend.child == face {
                bends.push((index, bend.child_edge()));
            }
        }
        let near = |a: P, b: P| a.distance(b) < tolerance::SIDE_MATCH;
        let sides = part.faces[face].outline.sides();
        let free = sides
            .filter(|(a, b, _)| !bends.iter().any(|(_, [c, d])| near(*a, *c) && near(*b, *d)))
            .collect();
        Self { free, bends }
    }

    /// Distance from the hole's contour to the nearest bend zone, with the bend's index.
    pub(super) fn to_bend(&self, hole: &Hole) -> Option<(usize, f64)> {
        let (points, radius) = hole.core();
        let distances = self.bends.iter().flat_map(|(bend, [a, b])| {
            points.iter().map(move |p| (*bend, side_distance(*p, *a, *b, 0.0) - radius))
        });
        distances.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Distance from a point to the nearest free edge.
    pub(super) fn to_free_edge(&self, p: P) -> f64 {
        let distances = self.free.iter().map(|(a, b, bulge)| side_distance(p, *a, *b, *bulge));
        distances.fold(f64::INFINITY, f64::min)
    }
}

/// Least distance between the contours of two holes; negative when they meet.
pub(super) fn between(a: &Hole, b: &Hole) -> f64 {
    let ((pa, ra), (pb, rb)) = (a.core(), b.core());
    let nearest =
        pa.iter().flat_map(|p| pb.iter().map(|q| p.distance(*q))).fold(f64::INFINITY, f64::min);
    nearest - ra - rb
}

/// Every hole of a part with its face.
pub(super) fn holes(part: &Part) -> impl Iterator<Item = (usize, &Face, &Hole)> {
    part.faces
        .iter()
        .enumerate()
        .flat_map(|(index, face)| face.holes.iter().map(move |hole| (index, face, hole)))
}
