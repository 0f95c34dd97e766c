//! How near a hole comes to the free edges, the bends and the other holes of its face.

use crate::geom::{FaceFrame, Point, side_distance, tolerance};
use crate::kit::{Face, Hole, Part};

type P = Point<FaceFrame>;

/// The sides of a face that carry bends, with the bend's index.
fn bend_sides(part: &Part, face: usize) -> Vec<(usize, [P; 2])> {
    let mut sides = Vec::new();
    for (index, bend) in part.bends.iter().enumerate() {
        if bend.parent == face {
            sides.push((index, bend.edge));
        }
        if bend.child == face {
            let length = bend.edge[0].distance(bend.edge[1]);
            let start = bend.child_start;
            sides.push((index, [start, Point::new(start.x, start.y + length)]));
        }
    }
    sides
}

/// Distance from the hole's contour to the nearest bend zone of its face, with the bend's index.
pub(super) fn to_bend(part: &Part, face: usize, hole: &Hole) -> Option<(usize, f64)> {
    let (points, radius) = hole.core();
    bend_sides(part, face)
        .into_iter()
        .flat_map(|(bend, [a, b])| {
            points.iter().map(move |p| (bend, side_distance(*p, a, b, 0.0) - radius))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Distance from a point of a face to its nearest free edge.
pub(super) fn to_free_edge(part: &Part, face: usize, p: P) -> f64 {
    let bends = bend_sides(part, face);
    let near = |a: P, b: P| a.distance(b) < tolerance::SIDE_MATCH;
    let is_bend = |a: P, b: P| {
        bends.iter().any(|(_, [c, d])| (near(a, *c) && near(b, *d)) || (near(a, *d) && near(b, *c)))
    };
    part.faces[face]
        .outline
        .sides()
        .filter(|(a, b, _)| !is_bend(*a, *b))
        .map(|(a, b, bulge)| side_distance(p, a, b, bulge))
        .fold(f64::INFINITY, f64::min)
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
