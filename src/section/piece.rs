//! The pieces of a section: flats and corners of one thickness about their middle line, with exact
//! moments of area in closed form.

use std::f64::consts::PI;

use crate::geom::{Point, SectionFrame};
use crate::units;

pub(super) type P = Point<SectionFrame>;

/// A piece of a section, given by its middle line. Millimetres and degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// A rectangle along a straight middle line.
    Flat {
        /// Where it starts.
        from: Point<SectionFrame>,
        /// Where it ends.
        to: Point<SectionFrame>,
    },
    /// A part of a ring along an arc.
    Corner {
        /// Centre of the arc.
        centre: Point<SectionFrame>,
        /// Where the arc starts.
        from: Point<SectionFrame>,
        /// How far it runs, degrees, counter-clockwise positive.
        sweep: f64,
    },
}

/// Area and the first and second moments about the origin; they add up.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Moments {
    /// mm2.
    pub area: f64,
    /// Integrals of x and of y, mm3.
    pub first: [f64; 2],
    /// Integrals of x², x y and y², mm4.
    pub second: [f64; 3],
}

impl Moments {
    /// The sum of two.
    pub fn plus(self, other: Self) -> Self {
        let add = |i: usize| self.second[i] + other.second[i];
        Self {
            area: self.area + other.area,
            first: [self.first[0] + other.first[0], self.first[1] + other.first[1]],
            second: [add(0), add(1), add(2)],
        }
    }

    /// Those of the same piece with a share of its thickness.
    pub fn scaled(self, share: f64) -> Self {
        Self {
            area: self.area * share,
            first: self.first.map(|value| value * share),
            second: self.second.map(|value| value * share),
        }
    }
}

impl Piece {
    /// End of the middle line.
    pub fn end(&self) -> P {
        match *self {
            Piece::Flat { to, .. } => to,
            Piece::Corner { centre, from, sweep } => centre + (from - centre).turned(sweep),
        }
    }

    /// Start of the middle line.
    pub fn start(&self) -> P {
        match *self {
            Piece::Flat { from, .. } | Piece::Corner { from, .. } => from,
        }
    }

    /// Length of the middle line, mm.
    pub fn length(&self) -> f64 {
        match *self {
            Piece::Flat { from, to } => from.distance(to),
            Piece::Corner { centre, from, sweep } => {
                from.distance(centre) * sweep.abs() * PI / 180.0
            }
        }
    }

    /// Radius of the middle line; none for a flat.
    pub fn radius(&self) -> Option<f64> {
        match *self {
            Piece::Flat { .. } => None,
            Piece::Corner { centre, from, .. } => Some(from.distance(centre)),
        }
    }

    /// The point at a share (0 to 1) of the middle line.
    pub fn at(&self, share: f64) -> P {
        match *self {
            Piece::Flat { from, to } => from.toward(to, share),
            Piece::Corner { centre, from, sweep } => centre + (from - centre).turned(sweep * share),
        }
    }

    /// The same piece run the other way.
    pub fn reversed(&self) -> Self {
        match *self {
            Piece::Flat { from, to } => Piece::Flat { from: to, to: from },
            Piece::Corner { centre, sweep, .. } => {
                Piece::Corner { centre, from: self.end(), sweep: -sweep }
            }
        }
    }

    /// Exact moments about the origin of the rectangle, or of the part of a ring, of that
    /// thickness. A ring whose middle radius is half the thickness is full to its centre.
    pub fn moments(&self, thickness: f64) -> Moments {
        match *self {
            Piece::Flat { from, to } => flat_moments(from, to, thickness),
            Piece::Corner { centre, from, sweep } => {
                let half = sweep.abs() / 2.0;
                let bisector = (from - centre).unit().turned(sweep / 2.0);
                ring_moments(centre, bisector, (from.distance(centre), thickness), half)
            }
        }
    }

    /// Farthest the piece reaches in a direction given by a unit vector, mm from the origin.
    pub fn reach(&self, direction: P, thickness: f64) -> f64 {
        match *self {
            Piece::Flat { from, to } => {
                let across = (to - from).unit().cross(direction).abs() * thickness / 2.0;
                from.dot(direction).max(to.dot(direction)) + across
            }
            Piece::Corner { centre, from, sweep } => {
                let radius = from.distance(centre);
                let edges = [radius + thickness / 2.0, (radius - thickness / 2.0).max(0.0)];
                let ends = [from, self.end()].map(|end| (end - centre).unit());
                let at = |ray: P, edge: f64| (centre + ray * edge).dot(direction);
                let rays = ends.iter().flat_map(|ray| edges.map(|edge| at(*ray, edge)));
                let farthest = rays.fold(f64::NEG_INFINITY, f64::max);
                let middle = ends[0].turned(sweep / 2.0);
                let inside = middle.dot(direction) >= units::cos_deg((sweep / 2.0).abs());
                if inside { farthest.max(at(direction, edges[0])) } else { farthest }
            }
        }
    }
}

fn flat_moments(from: P, to: P, thickness: f64) -> Moments {
    let length = from.distance(to);
    let (along, middle) = ((to - from).unit(), from.toward(to, 0.5));
    let area = length * thickness;
    let terms = [
        (area * length * length / 12.0, square(along)),
        (area * thickness * thickness / 12.0, square(along.left())),
        (area, square(middle)),
    ];
    Moments { area, first: [area * middle.x, area * middle.y], second: total(&terms) }
}

/// A part of a ring that reaches `half` degrees to both sides of its bisector.
fn ring_moments(centre: P, bisector: P, (middle, thickness): (f64, f64), half: f64) -> Moments {
    let (inner, outer) = ((middle - thickness / 2.0).max(0.0), middle + thickness / 2.0);
    let alpha = half * PI / 180.0;
    let (sin, cos) = (units::sin_deg(half), units::cos_deg(half));
    let area = alpha * (outer * outer - inner * inner);
    let pull = 2.0 * sin / 3.0 * (outer * outer * outer - inner * inner * inner);
    let fourth = (outer * outer * outer * outer - inner * inner * inner * inner) / 4.0;
    let terms = [
        (fourth * (alpha + sin * cos), square(bisector)),
        (fourth * (alpha - sin * cos), square(bisector.left())),
        (2.0 * pull, product(centre, bisector)),
        (area, square(centre)),
    ];
    let first = [area * centre.x + pull * bisector.x, area * centre.y + pull * bisector.y];
    Moments { area, first, second: total(&terms) }
}

fn square(u: P) -> [f64; 3] {
    product(u, u)
}

/// The symmetric product of two vectors: x x, x y, y y.
fn product(u: P, v: P) -> [f64; 3] {
    [u.x * v.x, (u.x * v.y + u.y * v.x) / 2.0, u.y * v.y]
}

fn total(terms: &[(f64, [f64; 3])]) -> [f64; 3] {
    [0, 1, 2].map(|i| terms.iter().map(|(weight, product)| weight * product[i]).sum())
}
