//! The holes and cut-outs of a blank, each with what it is for.

use super::SAME;
use super::piece::P;
use crate::flat::Contour;
use crate::geom::{BlankFrame, Map2, Path, Point, Vertex};
use crate::reading::{HoleRow, JointRow, PartRow, SunkRow};

/// A contour's centre and its hole's are one within this, mm.
const CENTRED: f64 = 1e-3;

/// Size of an opening, mm; directions in degrees from the blank's +x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Shape {
    /// Diameter.
    Round(f64),
    /// Width, overall length, direction of the length.
    Slot(f64, f64, f64),
    /// Width, length, direction of the length.
    Rectangle(f64, f64, f64),
    /// Extents of a free shape.
    Free(f64, f64),
}

/// An inside contour of a blank with what `kit.json` says of it.
#[derive(Debug, Clone)]
pub(super) struct Opening<'a> {
    pub(super) contour: Contour,
    pub(super) centre: P,
    pub(super) shape: Shape,
    pub(super) face: &'a str,
    pub(super) purpose: &'a str,
    /// The joint's name; empty where it belongs to none.
    pub(super) joint: &'a str,
    pub(super) sunk: Option<&'a SunkRow>,
}

impl Opening<'_> {
    /// What it serves, for sentences: the joint's name, else its purpose.
    pub(super) fn serves(&self) -> &str {
        if self.joint.is_empty() { self.purpose } else { self.joint }
    }
}

/// The openings in the order of the contours: holes of plain shape are listed in that order too,
/// and what is none of them is a cut-out.
pub(super) fn openings<'a>(
    row: &'a PartRow,
    inner: &[Contour],
    joints: &'a [JointRow],
) -> Vec<Opening<'a>> {
    let (mut holes, mut cutouts) = (row.holes.iter().peekable(), row.cutouts.iter());
    let each = inner.iter().map(|contour| {
        let centre = centre(contour);
        let own = |hole: &&HoleRow| {
            Point::new(hole.centre[0], hole.centre[1]).distance(centre) <= CENTRED
        };
        let hole = holes.next_if(own);
        let (shape, face, purpose) = match hole {
            Some(hole) => (shape(hole, contour), &*hole.face, &*hole.purpose),
            None => {
                let it = cutouts.next();
                let (face, purpose) = it.map_or(("", ""), |it| (&it.face, &it.purpose));
                (free(contour), face, purpose)
            }
        };
        let joint = joints.iter().find(|j| hole.is_some_and(|it| Some(&j.id) == it.joint.as_ref()));
        let joint = joint.map_or("", |joint| &joint.name);
        let sunk = hole.and_then(|hole| hole.countersink.as_ref());
        Opening { contour: contour.clone(), centre, shape, face, purpose, joint, sunk }
    });
    each.collect()
}

fn centre(contour: &Contour) -> P {
    match contour {
        Contour::Circle(centre, _) => *centre,
        Contour::Loop(path) => {
            let sum = path.vertices.iter().fold(P::new(0.0, 0.0), |sum, v| sum + v.at);
            sum * (1.0 / path.vertices.len().max(1) as f64)
        }
    }
}

fn shape(hole: &HoleRow, contour: &Contour) -> Shape {
    match (hole.shape.as_str(), hole.size.as_slice()) {
        ("round", [d]) => Shape::Round(*d),
        ("slot", [w, l]) => Shape::Slot(*w, *l, hole.direction),
        ("rectangle", [w, l]) => Shape::Rectangle(*w, *l, hole.direction),
        _ => free(contour),
    }
}

fn free(contour: &Contour) -> Shape {
    match contour {
        Contour::Circle(_, d) => Shape::Round(*d),
        Contour::Loop(path) => {
            let bounds = path.bounds();
            Shape::Free(bounds.width(), bounds.height())
        }
    }
}

/// A contour in another blank's frame.
pub(super) fn mapped(contour: &Contour, onto: &Map2<BlankFrame, BlankFrame>) -> Contour {
    match contour {
        Contour::Circle(centre, d) => Contour::Circle(onto.point(*centre), *d),
        Contour::Loop(path) => Contour::Loop(path.mapped(onto)),
    }
}

/// Whether two contours are the same to [`SAME`].
pub(super) fn same(a: &Contour, b: &Contour) -> bool {
    match (a, b) {
        (Contour::Circle(a, d), Contour::Circle(b, e)) => {
            a.distance(*b) <= SAME && (d - e).abs() <= SAME
        }
        (Contour::Loop(a), Contour::Loop(b)) => same_path(a, b),
        _ => false,
    }
}

/// Whether two closed paths are the same to [`SAME`], whichever corner they start from.
pub(super) fn same_path(a: &Path<BlankFrame>, b: &Path<BlankFrame>) -> bool {
    let (a, b) = (&a.vertices, &b.vertices);
    let n = a.len();
    let like = |v: &Vertex<BlankFrame>, w: &Vertex<BlankFrame>, next: P| {
        // Half the chord times the bulge is how far an arc bows.
        let bow = (v.bulge - w.bulge).abs() * next.distance(v.at) / 2.0;
        v.at.distance(w.at) <= SAME && bow <= SAME
    };
    let from = |start: usize| (0..n).all(|i| like(&a[i], &b[(i + start) % n], a[(i + 1) % n].at));
    n == b.len() && (n == 0 || (0..n).any(from))
}

impl Opening<'_> {
    /// From its centre to its farthest point, mm.
    pub(super) fn reach(&self) -> f64 {
        match &self.contour {
            Contour::Circle(_, d) => d / 2.0,
            Contour::Loop(path) => {
                let far = path.points(0.1).into_iter().map(|p| p.distance(self.centre));
                far.fold(0.0, f64::max)
            }
        }
    }
}
