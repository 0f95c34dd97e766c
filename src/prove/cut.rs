//! A blank cut along its bend zones into faces.
//!
//! Each bend zone is a strip across the blank. Its four corners lie on the outline, and the outline
//! runs straight from the parent's corner to the child's at both ends of the strip. Left out there
//! and led along the strip's two long edges instead, the outline falls into one closed path for
//! each face.

use crate::geom::{BlankFrame, Path, Point, Vertex, side_distance};

type P = Point<BlankFrame>;

/// How far a zone's corner may lie from the outline, mm: ten times what a contour may differ, far
/// below the shortest side of any outline.
const ON_OUTLINE: f64 = 1e-3;

/// The strip of one bend. Both edges run in the direction in which the parent's outline runs
/// counter-clockwise; the strip lies to the right of the parent's edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Zone {
    /// The edge at the parent.
    pub(super) parent: [P; 2],
    /// The edge at the child.
    pub(super) child: [P; 2],
}

impl Zone {
    /// The strip of this width about a line.
    pub(super) fn about([start, end]: [P; 2], width: f64) -> Self {
        let out = (end - start).unit().right() * (width / 2.0);
        Self { parent: [start - out, end - out], child: [start + out, end + out] }
    }
}

/// The faces of a blank.
#[derive(Debug)]
pub(super) struct Cut {
    /// Each face's outline, counter-clockwise.
    pub(super) faces: Vec<Path<BlankFrame>>,
    /// For each zone, the index of its parent and of its child.
    pub(super) sides: Vec<[usize; 2]>,
}

/// Cuts an outline along the zones. `Err` is the index of a zone that does not end on the outline.
pub(super) fn cut(outer: &Path<BlankFrame>, zones: &[Zone]) -> Result<Cut, usize> {
    let mut ring = outer.vertices.clone();
    for (index, zone) in zones.iter().enumerate() {
        for corner in zone.parent.into_iter().chain(zone.child) {
            insert(&mut ring, corner).ok_or(index)?;
        }
    }
    let n = ring.len();
    let mut next: Vec<usize> = (0..n).map(|i| (i + 1) % n).collect();
    let mut joined = vec![false; n];
    let mut seats = Vec::with_capacity(zones.len());
    for (index, zone) in zones.iter().enumerate() {
        let find = |corner: P| position(&ring, corner).ok_or(index);
        let [from, to] = [find(zone.parent[0])?, find(zone.parent[1])?];
        let [start, end] = [find(zone.child[0])?, find(zone.child[1])?];
        let straight = |a: usize, b: usize| (a + 1) % n == b && ring[a].bulge == 0.0;
        if !straight(from, start) || !straight(end, to) || joined[from] || joined[end] {
            return Err(index);
        }
        (next[from], next[end]) = (to, start);
        (joined[from], joined[end]) = (true, true);
        seats.push([from, end]);
    }
    Ok(follow(&ring, &next, &joined, &seats))
}

/// Walks each closed path.
fn follow(
    ring: &[Vertex<BlankFrame>],
    next: &[usize],
    joined: &[bool],
    seats: &[[usize; 2]],
) -> Cut {
    let mut face_of = vec![usize::MAX; ring.len()];
    let mut faces = Vec::new();
    for first in 0..ring.len() {
        let mut vertices = Vec::new();
        let mut here = first;
        while face_of[here] == usize::MAX {
            face_of[here] = faces.len();
            let bulge = if joined[here] { 0.0 } else { ring[here].bulge };
            vertices.push(Vertex { at: ring[here].at, bulge });
            here = next[here];
        }
        if !vertices.is_empty() {
            faces.push(Path { vertices });
        }
    }
    let sides = seats.iter().map(|[parent, child]| [face_of[*parent], face_of[*child]]).collect();
    Cut { faces, sides }
}

/// Makes a point a corner of the outline: moves the corner that is there, or splits a straight
/// side.
fn insert(ring: &mut Vec<Vertex<BlankFrame>>, corner: P) -> Option<()> {
    if let Some(at) = position(ring, corner) {
        ring[at].at = corner;
        return Some(());
    }
    let n = ring.len();
    let on = |i: &usize| {
        let (a, b) = (&ring[*i], &ring[(i + 1) % n]);
        a.bulge == 0.0 && side_distance(corner, a.at, b.at, 0.0) <= ON_OUTLINE
    };
    let side = (0..n).find(on)?;
    ring.insert(side + 1, Vertex { at: corner, bulge: 0.0 });
    Some(())
}

/// The corner nearest to a point, where one lies there.
fn position(ring: &[Vertex<BlankFrame>], corner: P) -> Option<usize> {
    let far = |i: &usize| ring[*i].at.distance(corner);
    (0..ring.len()).filter(|i| far(i) <= ON_OUTLINE).min_by(|a, b| far(a).total_cmp(&far(b)))
}
