//! The legs of a section: which faces are cut across, in order, and from where to where.

use crate::geom::{FaceFrame, Point, tolerance};
use crate::kit::{Bend, Part};

/// Cosine of a hundredth of a degree, within which two bends count as parallel.
const PARALLEL: f64 = 1.0 - 1e-8;

/// A face cut across.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leg {
    /// Index of the face.
    pub(super) face: usize,
    /// Where it starts and ends on the section, in its own plane.
    pub(super) ends: [Point<FaceFrame>; 2],
}

/// Legs in order, with the bend that joins each to the next.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    /// The legs.
    pub(super) legs: Vec<Leg>,
    /// Indices of the bends between them: one fewer than the legs.
    pub(super) bends: Vec<usize>,
}

/// One chain for each direction of bends: the root's first, then those not yet shown.
pub(super) fn chains(part: &Part) -> Vec<Chain> {
    let mut shown = vec![false; part.bends.len()];
    let mut chains = Vec::new();
    for start in 0..part.bends.len() {
        if shown[start] {
            continue;
        }
        let chain = Walk { part, first: start }.chain();
        for &bend in &chain.bends {
            shown[bend] = true;
            for (other, seen) in shown.iter_mut().enumerate() {
                *seen |= alike(part, bend, other);
            }
        }
        chains.push(chain);
    }
    chains
}

/// Whether two bends of one face are the same to a section: pieces of one split leg.
fn alike(part: &Part, a: usize, b: usize) -> bool {
    let (p, q) = (&part.bends[a], &part.bends[b]);
    let direction = |bend: &Bend| (bend.edge[1] - bend.edge[0]).unit();
    let reach = |bend: &Bend| part.faces[bend.child].outline.bounds().high.x;
    p.parent == q.parent
        && p.sense == q.sense
        && direction(p).dot(direction(q)) > PARALLEL
        && (p.angle - q.angle).abs() < 1e-6
        && (reach(p) - reach(q)).abs() < 1e-3
        && !part.bends.iter().any(|bend| bend.parent == q.child)
}

/// A walk from the parent of the first bend out to both ends.
struct Walk<'a> {
    part: &'a Part,
    first: usize,
}

impl Walk<'_> {
    fn chain(&self) -> Chain {
        let bends = &self.part.bends;
        let start = bends[self.first].parent;
        let out = outward(&bends[self.first]);
        let mut chain = self.run(start, -out, Some(self.first));
        chain.legs.reverse();
        chain.bends.reverse();
        for leg in &mut chain.legs {
            leg.ends.reverse();
        }
        let ahead = self.run(start, out, Some(self.first));
        let middle = chain.legs.len() - 1;
        chain.legs[middle].ends[1] = ahead.legs[0].ends[1];
        chain.legs.extend(&ahead.legs[1..]);
        chain.bends.extend(ahead.bends);
        chain
    }

    /// The legs from the middle of a face in one direction to the free edge.
    fn run(&self, face: usize, out: Point<FaceFrame>, first: Option<usize>) -> Chain {
        let mut chain = Chain { legs: Vec::new(), bends: Vec::new() };
        let (mut face, mut out, mut entry) = (face, out, extreme(self.part, face, -out));
        let mut wanted = first;
        while chain.legs.len() <= self.part.faces.len() {
            let Some(index) = self.exit(face, out, wanted) else {
                let end = extreme(self.part, face, out);
                chain.legs.push(Leg { face, ends: [entry, end] });
                break;
            };
            let bend = &self.part.bends[index];
            chain.legs.push(Leg { face, ends: [entry, bend.edge[0]] });
            chain.bends.push(index);
            (face, out, entry) = (bend.child, Point::new(1.0, 0.0), bend.child_start);
            wanted = None;
        }
        chain
    }

    /// The bend by which a section leaves a face: the one asked for, else the longest.
    fn exit(&self, face: usize, out: Point<FaceFrame>, wanted: Option<usize>) -> Option<usize> {
        let bends = &self.part.bends;
        let fits = |i: &usize| bends[*i].parent == face && outward(&bends[*i]).dot(out) > PARALLEL;
        if let Some(wanted) = wanted.filter(fits) {
            return Some(wanted);
        }
        let length = |i: usize| bends[i].edge[0].distance(bends[i].edge[1]);
        (0..bends.len()).filter(fits).reduce(
            |best, i| {
                if length(i) > length(best) + 1e-6 { i } else { best }
            },
        )
    }
}

/// Unit vector from the parent into the bend, in the parent's plane.
fn outward(bend: &Bend) -> Point<FaceFrame> {
    (bend.edge[1] - bend.edge[0]).unit().right()
}

/// The farthest point of a face's outline in a direction.
fn extreme(part: &Part, face: usize, out: Point<FaceFrame>) -> Point<FaceFrame> {
    let points = part.faces[face].outline.points(tolerance::SAG);
    points
        .into_iter()
        .reduce(|best, p| if p.dot(out) > best.dot(out) { p } else { best })
        .unwrap_or(Point::new(0.0, 0.0))
}
