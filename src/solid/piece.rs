//! A folded part in pieces: each face and each bend as convex solids in the site.
//!
//! A piece has a rough form, which is never smaller than the piece (faces without their holes,
//! bends under the mould corner), and a fine one, made only where the rough ones share space.

use super::convex::{Bounds3, Convex, Spot};
use super::trapezoid::trapezoids;
use crate::fold::FoldedPart;
use crate::geom::{Bounds, FaceFrame, Point, Point3, Pose, SiteFrame};
use crate::kit::{Bend, Hole, Part, Sense};
use crate::units;

/// Greatest distance of chords from the arcs they stand for, mm: of outlines and holes, which they
/// leave a little larger or smaller, and of bends' inner cylinders, which they straddle.
const CHORD: f64 = 0.004;

/// The same for the outer cylinders of bends, which others touch.
const OUTER_CHORD: f64 = 0.001;

/// Greatest angle of a bend under one rough solid, degrees.
const ROUGH_ANGLE: f64 = 60.0;

/// Which piece of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PieceOf {
    /// The face with this index.
    Face(usize),
    /// The bend with this index.
    Bend(usize),
}

impl PieceOf {
    /// The name of face or bend.
    pub fn name(self, part: &Part) -> &str {
        match self {
            PieceOf::Face(face) => &part.faces[face].name,
            PieceOf::Bend(bend) => &part.bends[bend].name,
        }
    }
}

/// A part folded and placed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Standing<'a> {
    pub(super) part: &'a Part,
    pub(super) folded: &'a FoldedPart,
    pub(super) place: usize,
}

impl Standing<'_> {
    /// The rough form of each of its pieces.
    pub(super) fn rough(&self) -> Vec<(PieceOf, Vec<Convex>)> {
        let faces = self.part.faces.iter().enumerate().map(|(i, face)| {
            let ring = face.outline.points(CHORD);
            (PieceOf::Face(i), self.slabs(i, &[ring]))
        });
        let bends = self.part.bends.iter().enumerate().map(|(i, bend)| {
            let count = (bend.angle / ROUGH_ANGLE).ceil().max(1.0);
            let over = |half| 1.0 / units::cos_deg(half);
            (PieceOf::Bend(i), self.fan(bend, [count as usize, 1], over))
        });
        faces.chain(bends).collect()
    }

    /// The fine form of a piece, true within a box of the site.
    pub(super) fn fine(&self, of: PieceOf, near: &Bounds3) -> Vec<Convex> {
        match of {
            PieceOf::Face(i) => {
                let face = &self.part.faces[i];
                let window = window(&self.pose(i).inverse(), near);
                let mut rings = vec![face.outline.points(CHORD)];
                let within = face.holes.iter().filter(|hole| touches(hole, &window));
                rings.extend(within.map(|hole| hole.contour().points(CHORD)));
                self.slabs(i, &rings)
            }
            PieceOf::Bend(i) => {
                let bend = &self.part.bends[i];
                let count = chords(bend.radius, bend.angle, CHORD);
                let outer = bend.radius + self.part.thickness;
                let each = chords(outer, bend.angle / count as f64, OUTER_CHORD);
                self.fan(bend, [count, each], straddle)
            }
        }
    }

    /// The frame of a face in the site.
    pub(super) fn pose(&self, face: usize) -> Pose<FaceFrame, SiteFrame> {
        self.folded.faces[face].then(&self.part.places[self.place])
    }

    fn slabs(&self, face: usize, rings: &[Vec<Point<FaceFrame>>]) -> Vec<Convex> {
        let pose = self.pose(face);
        let slab = |ring: &Vec<Point<FaceFrame>>| {
            let at = |z: f64| ring.iter().map(|p| pose.lifted(*p, z)).collect::<Vec<_>>();
            Convex::between(&at(0.0), &at(self.part.thickness))
        };
        trapezoids(rings).iter().filter_map(slab).collect()
    }

    /// A bend as `count` slices of one angle between its ends, each with one chord of the inner
    /// cylinder and `each` of the outer; `stretch` is by how much the corners of outer chords stand
    /// farther out than the cylinder, from half a chord's angle.
    fn fan(
        &self,
        bend: &Bend,
        [count, each]: [usize; 2],
        stretch: impl Fn(f64) -> f64,
    ) -> Vec<Convex> {
        let pose = self.pose(bend.parent);
        let thickness = self.part.thickness;
        let n = (bend.edge[1] - bend.edge[0]).unit().right();
        let (out, up) =
            (pose.vector(Point3::new(n.x, n.y, 0.0)), pose.vector(Point3::new(0.0, 0.0, 1.0)));
        let (centre, toward) = match bend.sense {
            Sense::Up => (thickness + bend.radius, -up),
            Sense::Down => (-bend.radius, up),
        };
        let axis = bend.edge.map(|end| pose.lifted(end, centre));
        let step = bend.angle / (count * each) as f64;
        let outer = (bend.radius + thickness) * stretch(step / 2.0);
        let inner = bend.radius * straddle(step * each as f64 / 2.0);
        let spoke = |i: usize| {
            let angle = step * i as f64;
            toward * units::cos_deg(angle) + out * units::sin_deg(angle)
        };
        let slice = |i: usize| {
            let (first, last) = (i * each, (i + 1) * each);
            let ring = |end: Spot| {
                let mut ring: Vec<Spot> = (first..=last).map(|j| end + spoke(j) * outer).collect();
                ring.extend([end + spoke(last) * inner, end + spoke(first) * inner]);
                ring
            };
            Convex::between(&ring(axis[0]), &ring(axis[1]))
        };
        (0..count).filter_map(slice).collect()
    }
}

/// How far the corners of chords stand from the axis, over the radius, so that the chords are as
/// far inside the cylinder in their middles as outside at their ends.
fn straddle(half: f64) -> f64 {
    2.0 / (1.0 + units::cos_deg(half))
}

/// How many chords straddle an arc within a distance.
fn chords(radius: f64, angle: f64, within: f64) -> usize {
    let step = 2.0 * units::acos_deg(1.0 - (2.0 * within / radius).min(1.0));
    (angle / step).ceil().max(1.0) as usize
}

/// The box of the face's plane over a box of the site.
fn window(back: &Pose<SiteFrame, FaceFrame>, near: &Bounds3) -> Bounds<FaceFrame> {
    let mut window = Bounds::empty();
    for x in [near.low.x, near.high.x] {
        for y in [near.low.y, near.high.y] {
            for z in [near.low.z, near.high.z] {
                let p = back.point(Point3::new(x, y, z));
                window.add(Point::new(p.x, p.y));
            }
        }
    }
    window
}

fn touches(hole: &Hole, window: &Bounds<FaceFrame>) -> bool {
    let (c, reach) = (hole.centre, hole.shape.reach());
    window.low.x < c.x + reach
        && c.x - reach < window.high.x
        && window.low.y < c.y + reach
        && c.y - reach < window.high.y
}
