//! Surfaces of triangles, added to one another.

use earcut::Earcut;

use crate::geom::{PartFrame, Point3};

/// Triangles and edges in one frame, mm; a part's have no gap between them.
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
    /// openings clockwise; the index of its first corner. `flat` are the same rings in a plane.
    pub(super) fn flat(
        &mut self,
        rings: &[Vec<Spot>],
        flat: &[Vec<[f64; 2]>],
        normal: Spot,
    ) -> u32 {
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
        let points: Vec<[f64; 2]> = flat.iter().flatten().copied().collect();
        Earcut::new().earcut(points.iter().copied(), &holes, &mut found);
        let found = found.chunks_exact(3).map(|three| [three[0], three[1], three[2]]);
        let mut triangles: Vec<[u32; 3]> = found.collect();
        // All turn one way; a sliver by itself would not tell which.
        let area: f64 = triangles.iter().map(|three| doubled_area(&points, three)).sum();
        if area < 0.0 {
            triangles.iter_mut().for_each(|three| three.swap(1, 2));
        }
        let starts = std::iter::once(0).chain(holes);
        let sides: Vec<[u32; 2]> =
            flat.iter().zip(starts).flat_map(|it| sides(it.0, it.1)).collect();
        close(&mut triangles, &points, &sides);
        self.triangles.extend(triangles.into_iter().map(|three| three.map(|i| i + first)));
        first
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

fn doubled_area(points: &[[f64; 2]], three: &[u32; 3]) -> f64 {
    let [[ax, ay], [bx, by], [cx, cy]] = three.map(|i| points[i as usize]);
    (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
}

/// The sides of a ring whose first corner is `at`, run the way of a surface beside it.
fn sides(ring: &[[f64; 2]], at: u32) -> impl Iterator<Item = [u32; 2]> {
    let n = ring.len() as u32;
    (0..n).map(move |i| [at + (i + 1) % n, at + i])
}

/// Parts triangles at corners that lie on their sides, until each side has another one against it:
/// of three corners in a row the middle one may have been passed over.
fn close(triangles: &mut Vec<[u32; 3]>, points: &[[f64; 2]], sides: &[[u32; 2]]) {
    while let Some((at, turn, middle)) = passed_over(triangles, points, sides) {
        let three = triangles[at];
        let [a, b, c] = [0, 1, 2].map(|k| three[(turn + k) % 3]);
        triangles[at] = [a, middle, c];
        triangles.push([middle, b, c]);
    }
}

/// A triangle, the corner from which one of its sides runs, and a corner that lies on that side.
fn passed_over(
    triangles: &[[u32; 3]],
    points: &[[f64; 2]],
    sides: &[[u32; 2]],
) -> Option<(usize, usize, u32)> {
    let own = triangles.iter().enumerate().flat_map(|(at, three)| {
        [0, 1, 2].map(|turn| ([three[turn], three[(turn + 1) % 3]], Some((at, turn))))
    });
    let mut runs: Vec<_> = own.chain(sides.iter().map(|side| (*side, None))).collect();
    let key = |[a, b]: [u32; 2]| (a.min(b), a.max(b));
    runs.sort_unstable_by_key(|(side, _)| key(*side));
    let same = runs.chunk_by(|(one, _), (two, _)| key(*one) == key(*two));
    let open: Vec<_> = same.filter(|sides| sides.len() % 2 == 1).map(|sides| sides[0]).collect();
    let on = |[a, b]: [u32; 2]| {
        let ends = open.iter().flat_map(|(side, _)| *side);
        ends.filter(|k| *k != a && *k != b && lies_between(points, [a, *k, b])).min()
    };
    open.iter().find_map(|(side, of)| of.and_then(|(at, turn)| Some((at, turn, on(*side)?))))
}

/// Whether the second corner lies on the line between the others, to a millionth of a millimetre.
fn lies_between(points: &[[f64; 2]], [a, k, b]: [u32; 3]) -> bool {
    let [[ax, ay], [kx, ky], [bx, by]] = [a, k, b].map(|i| points[i as usize]);
    let (run, to) = ([bx - ax, by - ay], [kx - ax, ky - ay]);
    let (along, length) = (run[0] * to[0] + run[1] * to[1], run[0] * run[0] + run[1] * run[1]);
    let off = doubled_area(points, &[a, k, b]).abs();
    0.0 < along && along < length && off * off < 1e-12 * length
}
