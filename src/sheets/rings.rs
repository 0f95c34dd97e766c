//! The contours of a sheet as they lie on it, and where a lead-in to each has room.

use super::cuts::laid;
use super::{Lying, Segment, Wanted};
use crate::flat::Contour;
use crate::geom::{BedFrame, Bounds, Path, Point, Vertex, side_distance};
use crate::units;

type P = Point<BedFrame>;

/// Sag of the chords that stand for arcs, mm.
const SAG: f64 = 0.02;
/// What a pierce keeps from every other contour, mm: it spatters.
const PIERCE: f64 = 1.0;
/// Shares of the length asked for that are tried for a lead-in, longest first.
const SHARES: [f64; 3] = [1.0, 0.6, 0.35];
/// Part of a hole's shorter side that a lead-in takes at most.
const OF_HOLE: f64 = 0.4;

/// A contour as it lies on the sheet.
pub(super) struct Ring {
    /// Index of the inside contour in the blank; none for the outline.
    pub(super) hole: Option<usize>,
    /// The material on its left; a circle from its point of greatest x.
    pub(super) path: Path<BedFrame>,
    /// The same with straight sides.
    pub(super) straight: Path<BedFrame>,
    bounds: Bounds<BedFrame>,
}

/// All contours of a sheet: those of the first blank, its outline last, then those of the next.
pub(super) struct Rings {
    pub(super) all: Vec<Ring>,
    size: [f64; 2],
    /// Where the contours of each blank begin.
    first: Vec<usize>,
}

impl Rings {
    /// The contours of what lies on a sheet of this size.
    pub(super) fn of(wanted: &[Wanted], lying: &[Lying], size: [f64; 2]) -> Self {
        let (mut all, mut first) = (Vec::new(), Vec::new());
        for own in lying {
            first.push(all.len());
            let blank = wanted[own.wanted].blank;
            let inner = blank.inner.iter().map(|hole| on_sheet(&hole.contour, own));
            let paths = inner.enumerate().map(|(hole, path)| (Some(hole), path));
            let paths = paths.chain([(None, laid(&blank.outer, own))]);
            all.extend(paths.map(|(hole, path)| {
                let straight = Path::polygon(&path.points(SAG));
                let bounds = path.bounds();
                Ring { hole, path, straight, bounds }
            }));
        }
        first.push(all.len());
        Self { all, size, first }
    }

    /// The contours of one blank, its outline last.
    pub(super) fn of_blank(&self, lying: usize) -> &[Ring] {
        &self.all[self.first[lying]..self.first[lying + 1]]
    }

    /// Index of a contour.
    pub(super) fn index(&self, lying: usize, hole: Option<usize>) -> usize {
        hole.map_or(self.first[lying + 1] - 1, |hole| self.first[lying] + hole)
    }

    /// The corners of a contour to which the longest lead-in has room; none where there is no room
    /// for any. A circle is begun at its point of greatest x alone.
    pub(super) fn corners(&self, index: usize, length: f64) -> Vec<usize> {
        let round = self.all[index].hole.is_some() && self.all[index].path.vertices.len() == 2;
        let count = if round { 1 } else { self.all[index].path.vertices.len() };
        let room = |corner: &usize| {
            let lead = self.lead_in(index, *corner, length);
            lead.map_or(0.0, |[pierce, start]| pierce.distance(start))
        };
        let rooms: Vec<f64> = (0..count).map(|corner| room(&corner)).collect();
        let most = rooms.iter().copied().fold(0.0, f64::max);
        let best = (0..count).filter(|corner| 0.0 < most && most - 1e-6 <= rooms[*corner]);
        best.collect()
    }

    /// The longest lead-in to a corner that stays in the waste; none where it has no room.
    pub(super) fn lead_in(&self, index: usize, corner: usize, length: f64) -> Option<Segment> {
        let ring = &self.all[index];
        let (start, out) = start(&ring.path, corner)?;
        let most = if ring.hole.is_none() {
            length
        } else {
            length.min(OF_HOLE * ring.bounds.width().min(ring.bounds.height()))
        };
        let lines = SHARES.iter().map(|share| [start + out * (most * share), start]);
        lines.into_iter().find(|line| self.free(index, line))
    }

    /// Whether a lead-in crosses no contour, its pierce keeping clear of the others and on the
    /// sheet.
    fn free(&self, index: usize, [pierce, start]: &Segment) -> bool {
        let [x, y] = self.size;
        let on_sheet =
            PIERCE < pierce.x.min(pierce.y) && pierce.x < x - PIERCE && pierce.y < y - PIERCE;
        let length = pierce.distance(*start);
        // The line is tried from a little way off the contour that it leads to.
        let line = [*pierce, start.toward(*pierce, 0.02)];
        on_sheet
            && self.all.iter().enumerate().all(|(other, ring)| {
                let keep = if other == index { 0.5 * length } else { PIERCE };
                if beyond(&ring.bounds, &line, keep) {
                    return true;
                }
                ring.straight.sides().all(|(a, b, _)| {
                    !crosses(&line, &[a, b]) && keep <= side_distance(*pierce, a, b, 0.0)
                })
            })
    }
}

/// An inside contour on the sheet; a circle as two arcs from its point of greatest x.
fn on_sheet(contour: &Contour, own: &Lying) -> Path<BedFrame> {
    match contour {
        Contour::Loop(path) => laid(path, own),
        Contour::Circle(centre, diameter) => {
            let (centre, arm) = (own.map().point(*centre), Point::new(diameter / 2.0, 0.0));
            let vertices = [centre + arm, centre - arm].map(|at| Vertex { at, bulge: -1.0 });
            Path { vertices: vertices.to_vec() }
        }
    }
}

/// A corner of a contour, and the direction into the waste there.
fn start(path: &Path<BedFrame>, corner: usize) -> Option<(P, P)> {
    let count = path.vertices.len();
    let before = (corner + count).checked_sub(1)? % count;
    let (first, last) = (path.sides().nth(corner)?, path.sides().nth(before)?);
    let turned = |(a, b, bulge): (P, P, f64), sign: f64| {
        (b - a).unit().turned(sign * 2.0 * units::atan_deg(bulge))
    };
    let (leaving, arriving) = (turned(first, -1.0), turned(last, 1.0));
    let out = (leaving.right() + arriving.right()).unit();
    (0.5 < out.length()).then_some((first.0, out))
}

/// Whether a line keeps farther than `keep` from a box.
fn beyond(bounds: &Bounds<BedFrame>, [a, b]: &Segment, keep: f64) -> bool {
    a.x.max(b.x) + keep < bounds.low.x
        || bounds.high.x + keep < a.x.min(b.x)
        || a.y.max(b.y) + keep < bounds.low.y
        || bounds.high.y + keep < a.y.min(b.y)
}

/// Whether two lines have a point in common.
fn crosses([a, b]: &Segment, [c, d]: &Segment) -> bool {
    let side = |p: P, q: P, r: P| (q - p).cross(r - p);
    side(*a, *b, *c) * side(*a, *b, *d) <= 0.0 && side(*c, *d, *a) * side(*c, *d, *b) <= 0.0
}
