//! One contour of a flat face, on both sides of the sheet, and the walls along it.

use super::model::{Axes, Body, Curve, Spot, Surface, Way, back};
use crate::geom::{FaceFrame, PartFrame, Path, Point, Point3, Pose, arc_centre};
use crate::kit::{Hole, HoleShape, Sunk};
use crate::units;

/// Where a flat face lies in the part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seat<'a> {
    /// The face's frame in the part's.
    pub pose: &'a Pose<FaceFrame, PartFrame>,
    /// Of the sheet, mm.
    pub thickness: f64,
}

impl Seat<'_> {
    /// The sheet's sides: z of the underside and of the upper one.
    pub(super) fn levels(&self) -> [f64; 2] {
        [0.0, self.thickness]
    }

    fn vector(&self, v: Point<FaceFrame>) -> Spot {
        self.pose.vector(Point3::new(v.x, v.y, 0.0))
    }

    /// Axes at a point of the face, square to it, up (1) or down (-1).
    fn square(&self, (at, z): (Point<FaceFrame>, f64), up: f64, x: Point<FaceFrame>) -> Axes {
        let axis = self.pose.z_axis * up;
        Axes { origin: self.pose.lifted(at, z), axis, x: self.vector(x) }
    }

    /// The plane of one of the sheet's sides.
    pub(super) fn plane(&self, z: f64, up: f64) -> Surface {
        Surface::Plane(self.square((Point::new(0.0, 0.0), z), up, Point::new(1.0, 0.0)))
    }
}

/// A contour with the sheet on its left. First of each two is the underside's.
#[derive(Debug, Default)]
pub(super) struct Ring {
    /// Corners in order.
    pub corners: [Vec<usize>; 2],
    /// The sides that leave them.
    pub sides: [Vec<Way>; 2],
    /// From the underside's corner up to the other.
    pub uprights: Vec<usize>,
}

/// What a closed hem has in common with the face that it is folded from: the side of its ring, on
/// which side of the sheet, the corners at that side's ends, and its edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shared {
    pub side: usize,
    pub level: usize,
    pub corners: [usize; 2],
    pub way: Way,
}

impl Ring {
    /// Index of a side's corners.
    pub(super) fn ends(&self, side: usize) -> [usize; 2] {
        [side, (side + 1) % self.uprights.len()]
    }

    /// The ring along a path.
    pub(super) fn new(
        body: &mut Body,
        path: &Path<FaceFrame>,
        seat: Seat,
        shared: Option<Shared>,
    ) -> Self {
        let mut ring = Ring::default();
        let n = path.vertices.len();
        for (level, z) in seat.levels().into_iter().enumerate() {
            let shared = shared.filter(|it| it.level == level);
            let known = |i: usize| {
                let it = shared?;
                (0..2).find(|end| (it.side + end) % n == i).map(|end| it.corners[end])
            };
            for (i, vertex) in path.vertices.iter().enumerate() {
                let at = seat.pose.lifted(vertex.at, z);
                ring.corners[level].push(known(i).unwrap_or_else(|| body.corner(at)));
            }
            for (i, (a, b, bulge)) in path.sides().enumerate() {
                let ends = [i, (i + 1) % n].map(|k| ring.corners[level][k]);
                let curve = side_curve([a, b], bulge, (seat, z));
                let own = shared.filter(|it| it.side == i).map(|it| it.way);
                ring.sides[level].push(own.unwrap_or_else(|| (body.edge(ends, curve), true)));
            }
        }
        for i in 0..n {
            let ends = [0, 1].map(|level: usize| ring.corners[level][i]);
            ring.uprights.push(body.edge(ends, Curve::Line));
        }
        ring
    }

    /// The way around the wall along one side, seen from outside.
    fn around(&self, side: usize) -> Vec<Way> {
        let [from, to] = self.ends(side);
        let (low, high) = (self.sides[0][side], self.sides[1][side]);
        vec![low, (self.uprights[to], true), back(high), (self.uprights[from], false)]
    }

    /// Adds the walls along a path's sides, but for those from which bends go on.
    pub(super) fn walls(
        &self,
        body: &mut Body,
        (path, bent): (&Path<FaceFrame>, &[usize]),
        seat: Seat,
    ) {
        for (i, (a, b, bulge)) in path.sides().enumerate().filter(|(i, _)| !bent.contains(i)) {
            let loops = vec![self.around(i)];
            if bulge == 0.0 {
                let along = (b - a).unit();
                let (axis, x) = (seat.vector(along.right()), seat.vector(along));
                let axes = Axes { origin: seat.pose.lifted(a, 0.0), axis, x };
                body.outward(Surface::Plane(axes), loops);
            } else {
                let (axes, radius) = arc_axes([a, b], bulge, (seat, 0.0));
                let surface = Surface::Cylinder(axes, radius);
                body.patches.push(super::Patch { surface, outward: bulge > 0.0, loops });
            }
        }
    }
}

fn side_curve(ends: [Point<FaceFrame>; 2], bulge: f64, at: (Seat, f64)) -> Curve {
    if bulge == 0.0 {
        return Curve::Line;
    }
    let (axes, radius) = arc_axes(ends, bulge, at);
    Curve::Circle(axes, radius)
}

/// Axes of an arc that runs counter-clockwise about them; angles count from the point opposite to
/// its middle, so that a surface along it does not begin within it.
fn arc_axes([a, b]: [Point<FaceFrame>; 2], bulge: f64, (seat, z): (Seat, f64)) -> (Axes, f64) {
    let (centre, radius) = arc_centre(a, b, bulge);
    let middle = a.toward(b, 0.5) + (b - a).right() * (bulge / 2.0);
    (seat.square((centre, z), bulge.signum(), (centre - middle).unit()), radius)
}

/// The ring of a round hole, with its walls: one cylinder, and the cone of a countersink.
pub(super) fn round(body: &mut Body, hole: &Hole, diameter: f64, seat: Seat) -> Ring {
    let x = Point::new(1.0, 0.0);
    let stations = stations(diameter / 2.0, hole.sunk, seat.thickness);
    let rims: Vec<(usize, usize)> = stations
        .iter()
        .map(|&(z, radius)| {
            let at = body.corner(seat.pose.lifted(hole.centre + x * radius, z));
            let circle = Curve::Circle(seat.square((hole.centre, z), 1.0, x), radius);
            (at, body.edge([at, at], circle))
        })
        .collect();
    for (i, pair) in stations.windows(2).enumerate() {
        let [low, high] = [pair[0], pair[1]];
        let ((from, under), (to, over)) = (rims[i], rims[i + 1]);
        let seam = body.edge([from, to], Curve::Line);
        let around = vec![(under, false), (seam, true), (over, true), (seam, false)];
        let ((z, radius), up) = if low.1 < high.1 { (low, 1.0) } else { (high, -1.0) };
        let axes = seat.square((hole.centre, z), up, x);
        let surface = match hole.sunk {
            Some(sunk) if low.1 != high.1 => Surface::Cone(axes, radius, sunk.angle / 2.0),
            _ => Surface::Cylinder(axes, radius),
        };
        body.inward(surface, vec![around]);
    }
    let (first, last) = (rims[0], rims[rims.len() - 1]);
    Ring {
        corners: [vec![first.0], vec![last.0]],
        sides: [vec![(first.1, false)], vec![(last.1, false)]],
        uprights: Vec::new(),
    }
}

/// Height and radius of a hole's rims, from the underside up: two, or three where a countersink
/// ends within the sheet.
fn stations(radius: f64, sunk: Option<Sunk>, thickness: f64) -> Vec<(f64, f64)> {
    let Some(sunk) = sunk else { return vec![(0.0, radius), (thickness, radius)] };
    let (depth, wide) = (sunk.depth(2.0 * radius), sunk.diameter / 2.0);
    let mut deep = if depth < thickness {
        vec![(0.0, wide), (depth, radius), (thickness, radius)]
    } else {
        vec![(0.0, wide), (thickness, wide - thickness * units::tan_deg(sunk.angle / 2.0))]
    };
    if sunk.upper {
        deep.iter_mut().for_each(|(z, _)| *z = thickness - *z);
        deep.reverse();
    }
    deep
}

/// The ring of any hole, with its walls.
pub(super) fn hole(body: &mut Body, hole: &Hole, seat: Seat) -> Ring {
    if let HoleShape::Round(diameter) = hole.shape {
        return round(body, hole, diameter, seat);
    }
    let path = hole.contour().cleaned();
    let path = if path.area() > 0.0 { path.reversed() } else { path };
    let ring = Ring::new(body, &path, seat, None);
    ring.walls(body, (&path, &[]), seat);
    ring
}
