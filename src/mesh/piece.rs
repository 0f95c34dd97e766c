//! Closed bodies of triangles, added to one another.

use earcut::Earcut;

use crate::geom::{PartFrame, Point3};

/// Triangles and edges in one frame, mm. Every body in it is closed; two bodies may share a flat
/// side, as a face and its bend do.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Corners; each belongs to triangles of one smooth surface.
    pub corners: Vec<[f64; 3]>,
    /// The surface's unit normal at each corner, outward.
    pub normals: Vec<[f64; 3]>,
    /// Corners of each triangle, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Corners at the ends of each edge that is drawn as a line.
    pub edges: Vec<[u32; 2]>,
}

/// A point or a vector of the part.
pub(super) type Spot = Point3<PartFrame>;

/// A row of corners along an arc or a line, each with its normal.
pub(super) type Row = Vec<(Spot, Spot)>;

fn plain(p: Spot) -> [f64; 3] {
    [p.x, p.y, p.z]
}

impl Mesh {
    /// A flat surface with openings, its rings seen counter-clockwise from where `normal` points,
    /// openings clockwise. `flat` are the same rings in a plane.
    pub(super) fn flat(&mut self, rings: &[Vec<Spot>], flat: &[Vec<[f64; 2]>], normal: Spot) {
        let first = self.count();
        for corner in rings.iter().flatten() {
            self.corner(*corner, normal);
        }
        let mut holes = Vec::new();
        let mut at = 0_u32;
        for ring in &flat[..flat.len() - 1] {
            at += ring.len() as u32;
            holes.push(at);
        }
        let mut found: Vec<u32> = Vec::new();
        Earcut::new().earcut(flat.iter().flatten().copied(), &holes, &mut found);
        for three in found.chunks_exact(3) {
            let [a, b, c] = [three[0], three[1], three[2]].map(|i| i + first);
            self.triangle_facing([a, b, c], normal);
        }
    }

    /// A strip between two rows of as many corners, facing where their normals point; the index of
    /// its first corner: those of the first row stand first, then those of the second.
    pub(super) fn strip(&mut self, one: &Row, two: &Row) -> u32 {
        let first = self.count();
        for (corner, normal) in one.iter().chain(two) {
            self.corner(*corner, *normal);
        }
        let n = one.len() as u32;
        for i in 0..n.saturating_sub(1) {
            let normal = one[i as usize].1 + one[i as usize + 1].1;
            let [a, b, c, d] = [i, i + 1, n + i, n + i + 1].map(|k| k + first);
            self.triangle_facing([a, b, c], normal);
            self.triangle_facing([b, d, c], normal);
        }
        first
    }

    /// A flat convex surface seen counter-clockwise from outside, with its sides as edges.
    pub(super) fn facet<F>(&mut self, ring: &[Point3<F>]) {
        let ring: Vec<Spot> = ring.iter().map(|p| Spot::new(p.x, p.y, p.z)).collect();
        let across = ring.windows(2).fold(Spot::new(0.0, 0.0, 0.0), |sum, two| {
            sum + (two[0] - ring[0]).cross(two[1] - ring[0])
        });
        let (first, n) = (self.count(), ring.len() as u32);
        ring.iter().for_each(|corner| self.corner(*corner, across.unit()));
        self.triangles.extend((1..n.saturating_sub(1)).map(|i| [first, first + i, first + i + 1]));
        self.edges.extend((0..n).map(|i| [first + i, first + (i + 1) % n]));
    }

    fn count(&self) -> u32 {
        self.corners.len() as u32
    }

    fn corner(&mut self, corner: Spot, normal: Spot) {
        self.corners.push(plain(corner));
        self.normals.push(plain(normal));
    }

    /// A triangle turned so that it faces along `normal`; left out where it has no area.
    fn triangle_facing(&mut self, [a, b, c]: [u32; 3], normal: Spot) {
        let [p, q, r] = [a, b, c].map(|i| {
            let [x, y, z] = self.corners[i as usize];
            Spot::new(x, y, z)
        });
        let facing = (q - p).cross(r - p).dot(normal);
        if facing > 0.0 {
            self.triangles.push([a, b, c]);
        } else if facing < 0.0 {
            self.triangles.push([a, c, b]);
        }
    }
}
