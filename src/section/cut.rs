//! The section of a part, cut square to its longest bend in the middle of that bend. What runs
//! along less than half of the part (end flanges, single teeth) is left out; holes and notches are
//! ignored.

use super::piece::{P, Piece};
use super::shape::Section;
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, PartFrame, Point, Point3, Pose, SectionFrame, tolerance};
use crate::kit::{Bend, Part, Sense};

/// Where a part is cut, and what the cut shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The section's frame in the part's: z is against the sweep.
    pub frame: Pose<SectionFrame, PartFrame>,
    /// Length of the root face along the sweep, mm.
    pub length: f64,
    /// The section.
    pub section: Section,
}

/// Share of the part's length along which a face must run to count.
const PREVAILING: f64 = 0.5;

/// Cuts a part; none where its root has no bend.
pub fn cut(part: &Part, folded: &FoldedPart) -> Option<Cut> {
    let of_root = part.bends.iter().filter(|bend| bend.parent == 0);
    let longest = of_root.max_by(|a, b| bend_length(a).total_cmp(&bend_length(b)))?;
    let along = (longest.edge[1] - longest.edge[0]).unit();
    // The sweep runs along the root's +y or +x, whichever way the bend was walked.
    let sweep = if along.y.abs() >= along.x.abs() { along.y } else { along.x };
    let along = if sweep < 0.0 { -along } else { along };
    let middle = longest.edge[0].toward(longest.edge[1], 0.5).dot(along);
    let axis = Point3::new(along.x, along.y, 0.0);
    let up = Point3::new(0.0, 0.0, 1.0);
    let frame = Pose::new(axis.cross(up), up, axis * middle);
    let knife = Knife { part, folded, axis, to_section: frame.inverse(), middle };
    let length = knife.run(0);
    let mut low = knife.side(0, None, -axis.cross(up), length);
    let high = knife.side(0, None, axis.cross(up), length);
    let root = Piece::Flat { from: low.start, to: high.start };
    low.row.reverse();
    let mut section = Section::empty(part.thickness);
    low.row.into_iter().for_each(|(piece, name)| section.push(piece.reversed(), name));
    section.push(root, part.faces[0].name.clone());
    high.row.into_iter().for_each(|(piece, name)| section.push(piece, name));
    Some(Cut { frame, length, section })
}

fn bend_length(bend: &Bend) -> f64 {
    bend.edge[0].distance(bend.edge[1])
}

/// What hangs on one side of a face: where that face's flat ends, and the pieces beyond.
struct Wing {
    start: P,
    row: Vec<(Piece, String)>,
}

/// The plane that cuts.
struct Knife<'a> {
    part: &'a Part,
    folded: &'a FoldedPart,
    axis: Point3<PartFrame>,
    to_section: Pose<PartFrame, SectionFrame>,
    middle: f64,
}

impl Knife<'_> {
    /// The pieces on the side of a face towards which `out` points; `from` is the bend by which
    /// the face itself hangs.
    fn side(&self, face: usize, from: Option<&Bend>, out: Point3<PartFrame>, length: f64) -> Wing {
        let next = self.part.bends.iter().find(|bend| {
            bend.parent == face && self.counts(bend, length) && self.outward(bend).dot(out) > 0.5
        });
        let Some(bend) = next else {
            return Wing { start: self.free_end(face, from, out), row: Vec::new() };
        };
        let outward = self.outward(bend);
        let (start, corner) = self.corner(bend, outward);
        let child = &self.folded.faces[bend.child];
        let x_axis = child.vector(Point3::new(1.0, 0.0, 0.0));
        let beyond = self.side(bend.child, Some(bend), x_axis, length);
        let from = corner.end();
        let mut row = Vec::new();
        if corner.length() > 0.0 {
            row.push((corner, String::new()));
        }
        let name = self.part.faces[bend.child].name.clone();
        row.push((Piece::Flat { from, to: beyond.start }, name));
        row.extend(beyond.row);
        Wing { start, row }
    }

    /// Direction out of the parent at a bend.
    fn outward(&self, bend: &Bend) -> Point3<PartFrame> {
        let out = (bend.edge[1] - bend.edge[0]).unit().right();
        self.folded.faces[bend.parent].vector(Point3::new(out.x, out.y, 0.0))
    }

    /// Whether a bend runs along the sweep, across the plane, and along enough of the part.
    fn counts(&self, bend: &Bend, length: f64) -> bool {
        let pose = &self.folded.faces[bend.parent];
        let ends = bend.edge.map(|end| self.axis.dot(pose.lifted(end, 0.0)));
        let run = (ends[1] - ends[0]).abs();
        let parallel = bend_length(bend) - run <= 1e-9 * bend_length(bend);
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        parallel && low < self.middle && self.middle < high && PREVAILING * length <= run
    }

    /// The end of the parent's middle line at a bend, and the corner beyond it.
    fn corner(&self, bend: &Bend, outward: Point3<PartFrame>) -> (P, Piece) {
        let t = self.part.thickness;
        let pose = &self.folded.faces[bend.parent];
        let height = match bend.sense {
            Sense::Up => t + bend.radius,
            Sense::Down => -bend.radius,
        };
        let from = self.flat(pose.lifted(bend.edge[0], t / 2.0));
        let centre = self.flat(pose.lifted(bend.edge[0], height));
        let out = self.to_section.vector(outward);
        let left = (from - centre).cross(Point::new(out.x, out.y)) >= 0.0;
        let sweep = if left { bend.angle } else { -bend.angle };
        (from, Piece::Corner { centre, from, sweep })
    }

    fn flat(&self, p: Point3<PartFrame>) -> P {
        let p = self.to_section.point(p);
        Point::new(p.x, p.y)
    }

    /// The farthest point of a face's middle surface in the cutting plane in a direction; where
    /// the plane misses the face, the end of the bend it hangs by.
    fn free_end(&self, face: usize, from: Option<&Bend>, out: Point3<PartFrame>) -> P {
        let pose = &self.folded.faces[face];
        let height = self.part.thickness / 2.0;
        let outline = self.part.faces[face].outline.points(tolerance::SAG);
        let ends = outline.iter().zip(outline.iter().cycle().skip(1));
        let across = |p: Point<FaceFrame>| self.axis.dot(pose.lifted(p, height)) - self.middle;
        let crossings = ends.filter_map(|(a, b)| {
            let (before, after) = (across(*a), across(*b));
            let crosses = (before < 0.0) != (after < 0.0);
            crosses.then(|| pose.lifted(a.toward(*b, before / (before - after)), height))
        });
        let farthest = crossings.max_by(|a, b| a.dot(out).total_cmp(&b.dot(out)));
        let hung = from.map_or(Point::new(0.0, 0.0), |bend| bend.child_start);
        self.flat(farthest.unwrap_or_else(|| pose.lifted(hung, height)))
    }

    /// Extent of a face along the sweep.
    fn run(&self, face: usize) -> f64 {
        let pose = &self.folded.faces[face];
        let along = |at: Point<FaceFrame>| self.axis.dot(pose.lifted(at, 0.0));
        let places = self.part.faces[face].outline.vertices.iter().map(|v| along(v.at));
        let (low, high) = places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        high - low
    }
}
