//! The section of a bent part across its parallel bends, with what is needed to dimension it.

use super::legs::{self, Chain, Leg};
use super::solid::Seat;
use super::zone::Section;
use crate::draw::{Fill, Pen, Picture};
use crate::fold::FoldedPart;
use crate::geom::{Bounds, FaceFrame, Path, Point, Point3, Pose, Vertex, ViewFrame, tolerance};
use crate::kit::{Bend, Part, Sense};
use crate::units;

/// The section across one family of parallel bends, seen along the bends, in real millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileView {
    /// Outline of the cut sheet with its thickness and bend radii.
    pub picture: Picture,
    /// One size for each leg, from one end of the profile to the other.
    pub legs: Vec<LegSize>,
    /// One call for each bend cut across, in the same order.
    pub bends: Vec<BendCall>,
}

/// The outside size of a leg: to the virtual sharp corners of the outer faces for bends up to 90
/// degrees, to the tangent for sharper ones.
#[derive(Debug, Clone, PartialEq)]
pub struct LegSize {
    /// Index of the face.
    pub face: usize,
    /// Where the size starts.
    pub from: Point<ViewFrame>,
    /// Where it ends; `from` to `to` runs along the leg.
    pub to: Point<ViewFrame>,
    /// Unit vector across the leg, to the side on which the dimension line has most room.
    pub side: Point<ViewFrame>,
    /// Distance from `from` to `to`, mm.
    pub size: f64,
}

/// What to say at a bend of the section.
#[derive(Debug, Clone, PartialEq)]
pub struct BendCall {
    /// Index of the bend.
    pub bend: usize,
    /// Middle of the inside arc: where a leader for the inside radius points.
    pub inside: Point<ViewFrame>,
    /// Middle of the outside arc.
    pub outside: Point<ViewFrame>,
    /// Unit vector from the arc's centre through its middle: outward.
    pub outward: Point<ViewFrame>,
    /// Inside radius, mm.
    pub radius: f64,
    /// Deviation from flat, degrees.
    pub angle: f64,
    /// Angle between the two legs: 180 less the deviation.
    pub between: f64,
}

/// The main section: across the bends parallel to the root's first bend. None for a flat plate.
pub fn profile(part: &Part, folded: &FoldedPart) -> Option<ProfileView> {
    profiles(part, folded).into_iter().next()
}

/// The main section, then one for each further direction of bends; empty for a flat plate.
///
/// The face cut first lies level, its upper side up, its first bend on the right. Legs of another
/// direction are left out. Where a leg is split along the bend, the longest piece is cut.
pub fn profiles(part: &Part, folded: &FoldedPart) -> Vec<ProfileView> {
    legs::chains(part).iter().map(|chain| section(part, folded, chain)).collect()
}

fn section(part: &Part, folded: &FoldedPart, chain: &Chain) -> ProfileView {
    let cut = Cut::new(part, folded, chain);
    let outline = cut.outline();
    let mut picture = Picture::empty();
    let mut line = outline.points(tolerance::SAG);
    line.extend(line.first().copied());
    picture.area(vec![outline], Fill::Tint(CUT));
    picture.stroke(line, Pen::Outline);
    let calls = chain.bends.iter().map(|&bend| cut.call(bend)).collect();
    let legs = (0..chain.legs.len()).map(|i| cut.size(i)).collect();
    ProfileView { picture, legs, bends: calls }
}

/// Tint of the cut sheet, percent.
const CUT: u8 = 25;

/// A section being drawn.
struct Cut<'a> {
    part: &'a Part,
    chain: &'a Chain,
    /// Each face's frame, seen along the bends.
    seats: Vec<Seat>,
}

impl<'a> Cut<'a> {
    fn new(part: &'a Part, folded: &FoldedPart, chain: &'a Chain) -> Self {
        let bend = &part.bends[chain.bends[0]];
        let first = chain
            .bends
            .iter()
            .map(|&i| &part.bends[i])
            .fold(bend, |best, other| if other.parent < best.parent { other } else { best });
        let out = (first.edge[1] - first.edge[0]).unit().right();
        let level = &folded.faces[first.parent];
        let x = level.vector(Point3::new(out.x, out.y, 0.0));
        let (y, z) = (level.z_axis, x.cross(level.z_axis));
        let row = |a: f64, b: f64, c: f64| Point3::new(a, b, c);
        let view = Pose::new(row(x.x, y.x, z.x), row(x.y, y.y, z.y), row(0.0, 0.0, 0.0));
        let seats = folded.faces.iter().map(|face| face.then(&view)).collect();
        Self { part, chain, seats }
    }

    /// A point of a face's plane at height `z`, in the section.
    fn dot(&self, face: usize, p: Point<FaceFrame>, z: f64) -> Point<ViewFrame> {
        let p = self.seats[face].lifted(p, z);
        Point::new(p.x, p.y)
    }

    /// The cut sheet: along its upper side, and back along its underside.
    fn outline(&self) -> Path<ViewFrame> {
        let mut ahead = self.surface(self.part.thickness);
        let back = Path { vertices: self.surface(0.0) };
        ahead.extend(back.reversed().vertices);
        let path = Path { vertices: ahead }.cleaned();
        if path.area() < 0.0 { path.reversed() } else { path }
    }

    /// One side of the sheet from end to end, bends as arcs; the last vertex is straight.
    fn surface(&self, z: f64) -> Vec<Vertex<ViewFrame>> {
        let mut run = Vec::new();
        for (i, leg) in self.chain.legs.iter().enumerate() {
            let bulge = self.chain.bends.get(i).map_or(0.0, |&bend| self.bulge(i, bend));
            run.push(Vertex { at: self.dot(leg.face, leg.ends[0], z), bulge: 0.0 });
            run.push(Vertex { at: self.dot(leg.face, leg.ends[1], z), bulge });
        }
        run
    }

    /// tan(angle / 4) of the bend behind a leg, positive where the section turns left.
    fn bulge(&self, leg: usize, bend: usize) -> f64 {
        let ahead = self.along(leg);
        let next = self.along(leg + 1);
        let across = self.across(leg);
        let bend = &self.part.bends[bend];
        let up = bend.sense == Sense::Up;
        let left = up == (ahead.cross(across) > 0.0);
        debug_assert!(bend.angle > 179.0 || left == (ahead.cross(next) > 0.0), "a bend turns");
        let size = units::tan_deg(bend.angle / 4.0);
        if left { size } else { -size }
    }

    /// Unit vector along a leg, from its start to its end.
    fn along(&self, leg: usize) -> Point<ViewFrame> {
        let Leg { face, ends } = self.chain.legs[leg];
        (self.dot(face, ends[1], 0.0) - self.dot(face, ends[0], 0.0)).unit()
    }

    /// Unit vector along a leg's +z.
    fn across(&self, leg: usize) -> Point<ViewFrame> {
        let axis = self.seats[self.chain.legs[leg].face].z_axis;
        Point::new(axis.x, axis.y)
    }

    /// The bend at the start or at the end of a leg.
    fn bend_at(&self, leg: usize, end: usize) -> Option<&Bend> {
        let index = (leg + end).checked_sub(1)?;
        self.chain.bends.get(index).map(|&i| &self.part.bends[i])
    }

    fn size(&self, leg: usize) -> LegSize {
        let along = self.along(leg);
        let setback = |end: usize| self.bend_at(leg, end).map_or(0.0, |bend| self.setback(bend));
        let outer = [0, 1].map(|end| self.bend_at(leg, end).map(|bend| bend.sense == Sense::Down));
        let upper = match outer {
            [Some(a), Some(b)] if a != b => self.roomy(leg),
            [a, b] => a.or(b).unwrap_or(true),
        };
        let z = if upper { self.part.thickness } else { 0.0 };
        let side = if upper { self.across(leg) } else { -self.across(leg) };
        let Leg { face, ends } = self.chain.legs[leg];
        let from = self.dot(face, ends[0], z) - along * setback(0);
        // Along the leg exactly, also where the two ends lie apart along the bend.
        let to = self.dot(face, ends[1], z) + along * setback(1);
        LegSize { face, from, to, side, size: from.distance(to) }
    }

    /// From the edge of a bend zone to the virtual sharp corner of the outer faces; to the tangent
    /// across the leg for bends sharper than 90 degrees.
    fn setback(&self, bend: &Bend) -> f64 {
        (bend.radius + self.part.thickness) * units::tan_deg(bend.angle.min(90.0) / 2.0)
    }

    /// Whether a leg's upper side looks away from the middle of the section.
    fn roomy(&self, leg: usize) -> bool {
        let mut bounds = Bounds::empty();
        for Leg { face, ends } in &self.chain.legs {
            ends.iter().for_each(|&p| bounds.add(self.dot(*face, p, 0.0)));
        }
        let Leg { face, ends } = self.chain.legs[leg];
        let middle = self.dot(face, ends[0].toward(ends[1], 0.5), 0.0);
        (middle - bounds.centre()).dot(self.across(leg)) >= 0.0
    }

    fn call(&self, index: usize) -> BendCall {
        let bend = &self.part.bends[index];
        let turn = Section::new(bend, self.part.thickness, &self.seats[bend.parent], 2);
        let base = self.seats[bend.parent].lifted(bend.edge[0], 0.0);
        let (inner, outer) = match bend.sense {
            Sense::Up => (self.part.thickness, 0.0),
            Sense::Down => (0.0, self.part.thickness),
        };
        let flat = |z: f64| {
            let p = turn.point(base, 1, z);
            Point::new(p.x, p.y)
        };
        let (inside, outside) = (flat(inner), flat(outer));
        BendCall {
            bend: index,
            inside,
            outside,
            outward: (outside - inside).unit(),
            radius: bend.radius,
            angle: bend.angle,
            between: 180.0 - bend.angle,
        }
    }
}
