//! A bend: two cylinders about one axis, and a flat cap at each end.

use super::model::{Axes, Body, Curve, Spot, Surface, back};
use super::ring::{Ring, Seat, Shared};
use crate::geom::{Point3, tolerance};
use crate::kit::{Bend, Sense};
use crate::units;

/// A bend's place in the part.
pub(super) struct Hinge {
    /// Side of the parent's outline and of the child's on which it stands.
    sides: [usize; 2],
    /// The axis at both ends of the parent's edge, its direction such that the fold turns
    /// counter-clockwise about it.
    centres: [Spot; 2],
    axis: Spot,
    /// From the parent's edge to the child's.
    along: Spot,
    /// Radii at the sheet's underside and upper side, mm.
    radii: [f64; 2],
    /// Which side of the sheet, of the same two, lies outside of the bend.
    outside: usize,
    /// Unit vector from the axis away from the middle of the bend.
    opposite: Spot,
}

impl Hinge {
    /// Of a bend whose parent lies at `seat`.
    pub(super) fn new(bend: &Bend, sides: [usize; 2], seat: Seat) -> Self {
        let run = (bend.edge[1] - bend.edge[0]).unit();
        let vector = |x: f64, y: f64| seat.pose.vector(Point3::new(x, y, 0.0));
        let (along, out) = (vector(run.x, run.y), vector(run.right().x, run.right().y));
        let (centre, toward, axis, outside) = match bend.sense {
            Sense::Up => (seat.thickness + bend.radius, -seat.pose.z_axis, -along, 0),
            Sense::Down => (-bend.radius, seat.pose.z_axis, along, 1),
        };
        let half = bend.angle / 2.0;
        Self {
            sides,
            centres: bend.edge.map(|end| seat.pose.lifted(end, centre)),
            axis,
            along,
            outside,
            radii: seat.levels().map(|z| (z - centre).abs()),
            opposite: -(out * units::sin_deg(half) + toward * units::cos_deg(half)),
        }
    }

    /// Without radius inside there is no cylinder: parent and child share their edge.
    fn closed(&self, level: usize) -> bool {
        self.radii[level] < tolerance::SAME_POINT
    }

    fn axes(&self, end: usize) -> Axes {
        Axes { origin: self.centres[end], axis: self.axis, x: self.opposite }
    }

    /// What the child's ring takes over from the parent's, where the bend is a closed hem.
    pub(super) fn shared(&self, parent: &Ring) -> Option<Shared> {
        let level = (0..2).find(|level| self.closed(*level))?;
        let [from, to] = parent.ends(self.sides[0]).map(|i| parent.corners[level][i]);
        let way = back(parent.sides[level][self.sides[0]]);
        Some(Shared { side: self.sides[1], level, corners: [to, from], way })
    }

    /// Adds the bend between the rings of its parent and its child.
    pub(super) fn add(&self, body: &mut Body, [parent, child]: [&Ring; 2]) {
        let [side, own] = self.sides;
        let from = parent.ends(side);
        let [last, first] = child.ends(own);
        let to = [first, last];
        let arcs: [[Option<usize>; 2]; 2] = [0, 1].map(|level| {
            [0, 1].map(|end: usize| {
                let ends = [parent.corners[level][from[end]], child.corners[level][to[end]]];
                let curve = Curve::Circle(self.axes(end), self.radii[level]);
                (!self.closed(level)).then(|| body.edge(ends, curve))
            })
        });
        for (level, arcs) in arcs.iter().enumerate() {
            let [Some(start), Some(end)] = *arcs else { continue };
            let (near, far) = (parent.sides[level][side], child.sides[level][own]);
            let around = if level == 1 {
                vec![back(near), (start, true), back(far), (end, false)]
            } else {
                vec![near, (end, true), far, (start, false)]
            };
            let surface = Surface::Cylinder(self.axes(0), self.radii[level]);
            if level == self.outside {
                body.outward(surface, vec![around]);
            } else {
                body.inward(surface, vec![around]);
            }
        }
        for end in 0..2 {
            // At the start the way goes down the parent's upright and up the child's.
            let rises = end == 1;
            let (down, up) = (parent.uprights[from[end]], child.uprights[to[end]]);
            let mut around = vec![(down, rises)];
            around.extend(arcs[end][end].map(|arc| (arc, true)));
            around.push((up, !rises));
            around.extend(arcs[1 - end][end].map(|arc| (arc, false)));
            let axis = if rises { self.along } else { -self.along };
            let axes = Axes { origin: self.centres[end], axis, x: self.opposite };
            body.outward(Surface::Plane(axes), vec![around]);
        }
    }
}
