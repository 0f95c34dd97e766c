//! The partly folded part on the die: everything on either side of a bend as convex pieces.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::ops::Range;

use super::convex::{convex_parts, hull};
use super::swing::SheetFrame;
use crate::flat::allowance;
use crate::fold::hinge;
use crate::geom::{FaceFrame, PartFrame, Point, Point3, Pose};
use crate::kit::{Part, Sense};
use crate::units::{cos_deg, sin_deg};

/// Greatest sag of the chords that stand for an outline's arcs, mm: a tenth of the clearance.
const SAG: f64 = 0.1;

/// Sine of the angle under which a face counts as parallel to the bending line.
const ALONG: f64 = 1e-9;

/// Degrees of a bend that one chord stands for.
const CHORD: f64 = 30.0;

/// Bends done, one bit each.
pub(super) type Done = u128;

/// A part made ready for being asked about many states.
pub(super) struct Shape<'a> {
    pub(super) part: &'a Part,
    /// Length of each bend's neutral line, mm.
    pub(super) zones: Vec<f64>,
    /// For each bend, the child's place in its parent's frame while flat and when made.
    hinges: Vec<[Pose<FaceFrame, FaceFrame>; 2]>,
    /// Each face's outline.
    pub(super) outlines: Vec<Vec<Point<FaceFrame>>>,
    /// The same cut into convex polygons.
    parts: Vec<Vec<Vec<Point<FaceFrame>>>>,
}

/// What a piece belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// A face.
    Face(usize),
    /// A bend's zone.
    Bend(usize),
}

/// A prism between two polygons of as many corners, on one side of the bend.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) what: What,
    low: Vec<Point3<SheetFrame>>,
    high: Vec<Point3<SheetFrame>>,
    /// All of it, seen along the bending line; made when it is first asked for.
    whole: OnceCell<Vec<Point<SheetFrame>>>,
    /// Extent along the bending line, mm.
    pub(super) z: [f64; 2],
    /// Extent outwards.
    pub(super) u: [f64; 2],
    /// Extent up from the underside of the sheet on the die.
    pub(super) w: [f64; 2],
    /// Whether all of it lies in the sheet on the die.
    pub(super) level: bool,
}

/// A face as it lies beside the bend: for the stops.
#[derive(Debug, Clone)]
pub(super) struct Lying {
    pub(super) face: usize,
    /// The face's x, y, z directions and origin.
    pub(super) axes: [Point3<SheetFrame>; 3],
    pub(super) origin: Point3<SheetFrame>,
}

/// Everything beside the bend while it is made: the parent's side, then the child's.
#[derive(Debug, Clone)]
pub(super) struct Sides {
    pub(super) pieces: [Vec<Piece>; 2],
    pub(super) faces: [Vec<Lying>; 2],
    /// z of the ends of each bend of the stroke, in the stroke's order.
    pub(super) spans: Vec<[f64; 2]>,
}

impl Sides {
    /// Ends of all bends together.
    pub(super) fn span(&self) -> [f64; 2] {
        let low = self.spans.iter().map(|s| s[0]).fold(f64::INFINITY, f64::min);
        let high = self.spans.iter().map(|s| s[1]).fold(f64::NEG_INFINITY, f64::max);
        [low, high]
    }
}

/// The frame of a bending line: origin in the middle of its zone at its start, in part space.
struct Line {
    at: Point3<PartFrame>,
    out: Point3<PartFrame>,
    up: Point3<PartFrame>,
    along: Point3<PartFrame>,
    lift: f64,
}

impl<'a> Shape<'a> {
    pub(super) fn new(part: &'a Part) -> Self {
        let t = part.thickness;
        let zone = |b: &crate::kit::Bend| allowance(b.angle, b.radius, t, b.k);
        let zones: Vec<f64> = part.bends.iter().map(zone).collect();
        let outlines: Vec<_> = part.faces.iter().map(|face| face.outline.points(SAG)).collect();
        let hinges = part.bends.iter().zip(&zones).map(|(b, z)| [flat_hinge(b, *z), hinge(b, t)]);
        Self {
            part,
            hinges: hinges.collect(),
            parts: outlines.iter().map(|outline| convex_parts(outline)).collect(),
            outlines,
            zones,
        }
    }

    /// Each face's place in the part's frame with these bends made.
    pub(super) fn poses(&self, done: Done) -> Vec<Pose<FaceFrame, PartFrame>> {
        let mut poses = vec![Pose::identity(); self.part.faces.len()];
        for (i, bend) in self.part.bends.iter().enumerate() {
            let made = usize::from(has(done, i));
            poses[bend.child] = self.hinges[i][made].then(&poses[bend.parent]);
        }
        poses
    }

    /// Which faces hang on the bends of a stroke.
    fn beyond(&self, stroke: &[usize]) -> Vec<bool> {
        let mut beyond = vec![false; self.part.faces.len()];
        for (i, bend) in self.part.bends.iter().enumerate() {
            beyond[bend.child] = beyond[bend.parent] || stroke.contains(&i);
        }
        beyond
    }

    /// What lies beside the bends of a stroke.
    pub(super) fn sides(
        &self,
        poses: &[Pose<FaceFrame, PartFrame>],
        done: Done,
        stroke: &[usize],
    ) -> Sides {
        let line = self.line(poses, stroke[0]);
        let beyond = self.beyond(stroke);
        let mut sides = Sides {
            pieces: [Vec::new(), Vec::new()],
            faces: [Vec::new(), Vec::new()],
            spans: stroke.iter().map(|&bend| self.span(poses, &line, bend)).collect(),
        };
        for (face, pose) in poses.iter().enumerate() {
            let side = usize::from(beyond[face]);
            let lying = line.lying(face, pose, side);
            self.add_face(&lying, &mut sides.pieces[side]);
            sides.faces[side].push(lying);
        }
        for (i, bend) in self.part.bends.iter().enumerate() {
            if stroke.contains(&i) {
                continue;
            }
            let side = usize::from(beyond[bend.parent]);
            let lying = line.lying(bend.parent, &poses[bend.parent], side);
            self.add_zone(i, has(done, i), &lying, &mut sides.pieces[side]);
        }
        sides
    }

    /// The bending line of a bend, and which way is up on the machine.
    fn line(&self, poses: &[Pose<FaceFrame, PartFrame>], bend: usize) -> Line {
        let (it, pose) = (&self.part.bends[bend], &poses[self.part.bends[bend].parent]);
        let along = (it.edge[1] - it.edge[0]).unit();
        let out = along.right();
        let middle = it.edge[0] + out * (self.zones[bend] / 2.0);
        let flat = |p: Point<FaceFrame>| pose.vector(Point3::new(p.x, p.y, 0.0));
        let (up, lift) = match it.sense {
            Sense::Up => (pose.z_axis, 0.0),
            Sense::Down => (-pose.z_axis, self.part.thickness),
        };
        Line { at: pose.lifted(middle, 0.0), out: flat(out), up, along: flat(along), lift }
    }

    fn span(&self, poses: &[Pose<FaceFrame, PartFrame>], line: &Line, bend: usize) -> [f64; 2] {
        let it = &self.part.bends[bend];
        let z = it.edge.map(|p| (poses[it.parent].lifted(p, 0.0) - line.at).dot(line.along));
        [z[0].min(z[1]), z[0].max(z[1])]
    }

    /// Whether two bends lie on one line as the part is, and can be made in one stroke.
    pub(super) fn in_line(&self, poses: &[Pose<FaceFrame, PartFrame>], a: usize, b: usize) -> bool {
        let (p, q) = (&self.part.bends[a], &self.part.bends[b]);
        let same = (p.angle - q.angle).abs() < 1e-6
            && (p.radius - q.radius).abs() < 1e-6
            && (self.zones[a] - self.zones[b]).abs() < 1e-6;
        if !same {
            return false;
        }
        let (l, m) = (self.line(poses, a), self.line(poses, b));
        let off = m.at - l.at;
        1.0 - 1e-9 < l.out.dot(m.out)
            && 1.0 - 1e-9 < l.up.dot(m.up)
            && off.dot(l.out).abs() < 1e-3
            && off.dot(l.up).abs() < 1e-3
    }

    fn add_face(&self, lying: &Lying, pieces: &mut Vec<Piece>) {
        let t = self.part.thickness;
        let mut add = |polygon: &[Point<FaceFrame>]| {
            let at = |z: f64| polygon.iter().map(|p| lying.point(*p, z)).collect();
            pieces.push(Piece::new(What::Face(lying.face), at(0.0), at(t), t));
        };
        if lying.axes[2].z.abs() < ALONG {
            add(&self.outlines[lying.face]);
        } else {
            self.parts[lying.face].iter().for_each(|polygon| add(polygon));
        }
    }

    /// The zone of a bend of the parent `lying`: a strip while it is flat, chords when it is made.
    fn add_zone(&self, bend: usize, made: bool, lying: &Lying, pieces: &mut Vec<Piece>) {
        let it = &self.part.bends[bend];
        let t = self.part.thickness;
        let out = (it.edge[1] - it.edge[0]).unit().right();
        let mut add = |cross: &[(f64, f64)]| {
            let at = |end: usize| {
                cross.iter().map(|(n, z)| lying.point(it.edge[end] + out * *n, *z)).collect()
            };
            pieces.push(Piece::new(What::Bend(bend), at(0), at(1), t));
        };
        if !made {
            let zone = self.zones[bend];
            add(&[(0.0, 0.0), (zone, 0.0), (zone, t), (0.0, t)]);
            return;
        }
        let chords = (it.angle / CHORD).ceil().max(1.0) as usize;
        for i in chord_ranges(it.angle, chords) {
            let outer = (it.radius + t) / cos_deg((i.end - i.start) / 2.0);
            add(&chord(it.sense, (it.radius, outer, t), &i));
        }
    }

    /// The polygons that a cut across the bending line at `z` leaves of a side.
    pub(super) fn cut(pieces: &[Piece], z: f64) -> Vec<Vec<Point<SheetFrame>>> {
        let near = |piece: &&Piece| piece.z[0] <= z && z <= piece.z[1];
        let cut = |piece: &Piece| piece.section([z, z]).into_owned();
        pieces.iter().filter(near).map(cut).filter(|polygon| 3 <= polygon.len()).collect()
    }
}

fn chord_ranges(angle: f64, count: usize) -> Vec<Range<f64>> {
    let at = |i: usize| angle * i as f64 / count as f64;
    (0..count).map(|i| at(i)..at(i + 1)).collect()
}

/// Cross-section (n, z) of a part of a bend made: the inner side by its chord, the outer side by
/// its tangents' corners, so that no part of the arc is left out.
fn chord(sense: Sense, (inner, outer, t): (f64, f64, f64), range: &Range<f64>) -> Vec<(f64, f64)> {
    let flip = |(n, z): (f64, f64)| match sense {
        Sense::Up => (n, z),
        Sense::Down => (n, t - z),
    };
    let at = |radius: f64, angle: f64| {
        flip((radius * sin_deg(angle), inner + t - radius * cos_deg(angle)))
    };
    let middle = (range.start + range.end) / 2.0;
    let rim = inner + t;
    vec![
        at(inner, range.start),
        at(rim, range.start),
        at(outer, middle),
        at(rim, range.end),
        at(inner, range.end),
    ]
}

/// The child's frame in its parent's frame while the bend is flat.
fn flat_hinge(bend: &crate::kit::Bend, zone: f64) -> Pose<FaceFrame, FaceFrame> {
    let along = (bend.edge[1] - bend.edge[0]).unit();
    let out = along.right();
    let start = bend.edge[0] + out * (zone - bend.child_start.x) - along * bend.child_start.y;
    let flat = |p: Point<FaceFrame>| Point3::new(p.x, p.y, 0.0);
    Pose::new(flat(out), flat(along), flat(start))
}

/// Whether a bend is among those done.
pub(super) fn has(done: Done, bend: usize) -> bool {
    done >> bend & 1 == 1
}

impl Line {
    /// A face's frame on the die; side 0 is the parent's.
    fn lying(&self, face: usize, pose: &Pose<FaceFrame, PartFrame>, side: usize) -> Lying {
        let sign = if side == 0 { -1.0 } else { 1.0 };
        let turned = |v: Point3<PartFrame>| {
            Point3::new(v.dot(self.out) * sign, v.dot(self.up), v.dot(self.along))
        };
        let origin = turned(pose.shift - self.at) + Point3::new(0.0, self.lift, 0.0);
        Lying { face, axes: [pose.x_axis, pose.y_axis, pose.z_axis].map(turned), origin }
    }
}

impl Lying {
    /// Where a point of the face at height z above its underside lies.
    pub(super) fn point(&self, p: Point<FaceFrame>, z: f64) -> Point3<SheetFrame> {
        self.origin + self.axes[0] * p.x + self.axes[1] * p.y + self.axes[2] * z
    }
}

impl Piece {
    fn new(
        what: What,
        low: Vec<Point3<SheetFrame>>,
        high: Vec<Point3<SheetFrame>>,
        thickness: f64,
    ) -> Self {
        let extent = |of: fn(&Point3<SheetFrame>) -> f64| {
            let nothing = [f64::INFINITY, f64::NEG_INFINITY];
            low.iter().chain(&high).map(of).fold(nothing, |[a, b], v| [a.min(v), b.max(v)])
        };
        let (u, w, z) = (extent(|p| p.x), extent(|p| p.y), extent(|p| p.z));
        let level = -1e-6 <= w[0] && w[1] <= thickness + 1e-6;
        Self { what, z, u, w, level, low, high, whole: OnceCell::new() }
    }

    /// Whether any of it lies between two stations along the bending line.
    pub(super) fn meets(&self, window: [f64; 2]) -> bool {
        self.z[0] < window[1] && window[0] < self.z[1]
    }

    /// What of it lies between two stations, seen along the bending line: a convex polygon.
    pub(super) fn section(&self, window: [f64; 2]) -> Cow<'_, [Point<SheetFrame>]> {
        let seen = |p: &Point3<SheetFrame>| Point::new(p.x, p.y);
        if window[0] <= self.z[0] && self.z[1] <= window[1] {
            let all = || hull(self.low.iter().chain(&self.high).map(seen).collect());
            return Cow::Borrowed(self.whole.get_or_init(all));
        }
        let mut points = Vec::new();
        clip_ring(&self.low, window, &mut points);
        clip_ring(&self.high, window, &mut points);
        for (a, b) in self.low.iter().zip(&self.high) {
            clip_edge(*a, *b, window, &mut points);
        }
        Cow::Owned(hull(points))
    }
}

/// The corners of a polygon between two stations, and where its sides cross them.
fn clip_ring(ring: &[Point3<SheetFrame>], window: [f64; 2], points: &mut Vec<Point<SheetFrame>>) {
    for (i, a) in ring.iter().enumerate() {
        if window[0] <= a.z && a.z <= window[1] {
            points.push(Point::new(a.x, a.y));
        }
        clip_edge(*a, ring[(i + 1) % ring.len()], window, points);
    }
}

fn clip_edge(
    a: Point3<SheetFrame>,
    b: Point3<SheetFrame>,
    window: [f64; 2],
    points: &mut Vec<Point<SheetFrame>>,
) {
    for z in window {
        if (a.z < z) != (b.z < z) {
            let p = a + (b - a) * ((z - a.z) / (b.z - a.z));
            points.push(Point::new(p.x, p.y));
        }
    }
}
