//! How far two blanks lie apart.

use crate::flat::Contour;
use crate::geom::{BlankFrame, Bounds, Path, Point, Vertex, side_distance};
use crate::reading::{CutPart, LyingRow, path};

type P = Point<BlankFrame>;

/// Sag of the chords that stand for arcs, mm.
const SAG: f64 = 0.005;

/// A blank where it lies on the sheet: its outline, and the openings that could hold another.
pub(super) struct Outline {
    rings: Vec<Path<BlankFrame>>,
    bounds: Bounds<BlankFrame>,
}

/// Openings with a shorter side than this hold nothing, mm.
const OPENING: f64 = 20.0;

impl Outline {
    /// A part's blank in its place.
    pub(super) fn of(part: &CutPart, row: &LyingRow) -> Self {
        let map = row.map();
        let straight = |own: &Path<BlankFrame>| Path::polygon(&own.mapped(&map).points(SAG));
        let mut rings = vec![straight(&path(&part.blank.outer))];
        for inner in &part.blank.inner {
            let own = match inner.contour() {
                Contour::Loop(own) => own,
                Contour::Circle(centre, diameter) => circle(centre, diameter),
            };
            let bounds = own.bounds();
            if OPENING < bounds.width().min(bounds.height()) {
                rings.push(straight(&own));
            }
        }
        let bounds = rings[0].bounds();
        Self { rings, bounds }
    }

    /// The box around it.
    pub(super) fn bounds(&self) -> &Bounds<BlankFrame> {
        &self.bounds
    }

    /// Distance to a box; below 0 when they overlap.
    pub(super) fn off_box(&self, place: &Bounds<BlankFrame>) -> f64 {
        let (a, b) = (place.low, place.high);
        let corners = [a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)];
        let other = Self { rings: vec![Path::polygon(&corners)], bounds: *place };
        apart(self, &other, f64::INFINITY)
    }

    /// A line, as a body without width.
    pub(super) fn line([a, b]: [P; 2]) -> Self {
        let ring = Path::polygon(&[a, b]);
        let bounds = ring.bounds();
        Self { rings: vec![ring], bounds }
    }

    /// Distance to another outline; below 0 when they overlap.
    pub(super) fn off(&self, other: &Self) -> f64 {
        apart(self, other, f64::INFINITY)
    }

    /// Whether a point lies in the material.
    fn covers(&self, at: P) -> bool {
        let inside = |ring: &Path<BlankFrame>| 0.0 < ring.clearance(at);
        inside(&self.rings[0]) && !self.rings[1..].iter().any(inside)
    }
}

fn circle(centre: P, diameter: f64) -> Path<BlankFrame> {
    let arm = Point::new(diameter / 2.0, 0.0);
    let vertex = |at| Vertex { at, bulge: -1.0 };
    Path { vertices: vec![vertex(centre - arm), vertex(centre + arm)] }
}

/// Distance between two blanks; below 0 when they overlap. What is farther than `most` comes out as
/// some number beyond it.
pub(super) fn apart(one: &Outline, other: &Outline, most: f64) -> f64 {
    let between = boxes_apart(&one.bounds, &other.bounds);
    if most <= between && 0.0 < between {
        return between;
    }
    let covered =
        |a: &Outline, b: &Outline| a.rings[0].vertices.first().is_some_and(|v| b.covers(v.at));
    if covered(one, other) || covered(other, one) {
        return -1.0;
    }
    let mut least = f64::INFINITY;
    for a in &one.rings {
        for b in &other.rings {
            least = least.min(rings_apart((a, &one.bounds), (b, &other.bounds), most));
        }
    }
    least
}

fn boxes_apart(a: &Bounds<BlankFrame>, b: &Bounds<BlankFrame>) -> f64 {
    let across = (a.low.x - b.high.x).max(b.low.x - a.high.x).max(0.0);
    let up = (a.low.y - b.high.y).max(b.low.y - a.high.y).max(0.0);
    across.max(up)
}

type Ringed<'a> = (&'a Path<BlankFrame>, &'a Bounds<BlankFrame>);

/// Distance between two closed runs of lines, -1 where they cross; sides far from the other
/// blank's box are passed over.
fn rings_apart(a: Ringed, b: Ringed, most: f64) -> f64 {
    let near = |ring: &Path<BlankFrame>, other: &Bounds<BlankFrame>| -> Vec<[P; 2]> {
        let sides = ring.sides().map(|(p, q, _)| [p, q]);
        sides.filter(|side| boxes_apart(&around(side), other) < most).collect()
    };
    let (ours, theirs) = (near(a.0, b.1), near(b.0, a.1));
    let mut least = f64::INFINITY;
    for one in &ours {
        for other in &theirs {
            least = least.min(sides_apart(one, other, least.min(most)));
        }
    }
    least
}

fn around([p, q]: &[P; 2]) -> Bounds<BlankFrame> {
    Bounds {
        low: Point::new(p.x.min(q.x), p.y.min(q.y)),
        high: Point::new(p.x.max(q.x), p.y.max(q.y)),
    }
}

/// Distance of two sides, -1 where they cross; not worked out where it is `most` or more.
fn sides_apart(one: &[P; 2], other: &[P; 2], most: f64) -> f64 {
    if most <= boxes_apart(&around(one), &around(other)) {
        return f64::INFINITY;
    }
    let side = |[p, q]: &[P; 2], r: P| (*q - *p).cross(r - *p);
    let parted = |a: &[P; 2], b: &[P; 2]| side(a, b[0]) * side(a, b[1]) < 0.0;
    if parted(one, other) && parted(other, one) {
        return -1.0;
    }
    let to = |p: P, [a, b]: &[P; 2]| side_distance(p, *a, *b, 0.0);
    let ends = [to(one[0], other), to(one[1], other), to(other[0], one), to(other[1], one)];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}
