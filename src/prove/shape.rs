//! What plain shape a contour of a DXF file has: round, slot or rectangle.

use super::contour::SAME_CONTOUR;
use crate::flat::Contour;
use crate::geom::{BlankFrame, Path, Point};
use crate::units;

type P = Point<BlankFrame>;

/// A contour measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Plain {
    /// Diameter.
    Round(f64),
    /// Width, overall length, direction of the length in degrees from +x.
    Slot(f64, f64, f64),
    /// Side, other side, direction of the other side.
    Rectangle(f64, f64, f64),
    /// Anything else.
    Free,
}

/// Centre and shape of a contour.
pub(super) fn measure(contour: &Contour) -> (P, Plain) {
    match contour {
        Contour::Circle(centre, diameter) => (*centre, Plain::Round(*diameter)),
        Contour::Loop(path) => measure_loop(path),
    }
}

fn measure_loop(path: &Path<BlankFrame>) -> (P, Plain) {
    let bounds = path.bounds();
    let corners = &path.vertices;
    if corners.len() != 4 {
        return (bounds.centre(), Plain::Free);
    }
    let centre = corners.iter().fold(P::new(0.0, 0.0), |sum, v| sum + v.at) * 0.25;
    let sides = [0, 1, 2, 3].map(|i| corners[(i + 1) % 4].at - corners[i].at);
    let square = (0..4).all(|i| {
        let (u, v) = (sides[i], sides[(i + 1) % 4]);
        u.dot(v).abs() <= SAME_CONTOUR * u.length().max(v.length())
    });
    if !square {
        return (bounds.centre(), Plain::Free);
    }
    let direction = |v: P| units::atan2_deg(v.y, v.x);
    let bulges = [0, 1, 2, 3].map(|i| corners[i].bulge);
    if bulges == [0.0; 4] {
        return (
            centre,
            Plain::Rectangle(sides[1].length(), sides[0].length(), direction(sides[0])),
        );
    }
    let round = |i: usize| {
        let half = (bulges[i] + 1.0).abs() <= 1e-9 && (bulges[(i + 2) % 4] + 1.0).abs() <= 1e-9;
        half && bulges[(i + 1) % 4] == 0.0 && bulges[(i + 3) % 4] == 0.0
    };
    match (0..2).find(|i| round(*i)) {
        Some(end) => {
            let (width, along) = (sides[end].length(), sides[(end + 1) % 4]);
            (centre, Plain::Slot(width, width + along.length(), direction(along)))
        }
        None => (bounds.centre(), Plain::Free),
    }
}

impl Plain {
    /// The same shape with its length in the direction that is told: a rectangle has two, a length
    /// points both ways.
    pub(super) fn toward(self, told: f64) -> Self {
        match self {
            Plain::Slot(w, l, direction) => Plain::Slot(w, l, along(direction, told)),
            Plain::Rectangle(w, l, direction) => {
                let off = |d: f64| (along(d, told) - told).abs();
                if off(direction) <= off(direction + 90.0) {
                    Plain::Rectangle(w, l, along(direction, told))
                } else {
                    Plain::Rectangle(l, w, along(direction + 90.0, told))
                }
            }
            other => other,
        }
    }

    /// By how much it differs from a hole of `kit.json`, mm; infinite for another kind of shape.
    pub(super) fn apart(self, word: &str, size: &[f64], told: f64) -> f64 {
        let sized = |[w, l]: [f64; 2], direction: f64| match size {
            [width, length] => {
                let turned = (direction - told).abs().to_radians() * l / 2.0;
                (w - width).abs().max((l - length).abs()).max(turned)
            }
            _ => f64::INFINITY,
        };
        match (self.toward(told), word, size) {
            (Plain::Round(d), "round", [diameter]) => (d - diameter).abs(),
            (Plain::Slot(w, l, direction), "slot", _) => sized([w, l], direction),
            (Plain::Rectangle(w, l, direction), "rectangle", _) => sized([w, l], direction),
            _ => f64::INFINITY,
        }
    }
}

/// The direction, or its opposite, that is nearer to the one told; within a quarter turn of it.
fn along(direction: f64, told: f64) -> f64 {
    let turn = (direction - told).rem_euclid(180.0);
    told + if turn > 90.0 { turn - 180.0 } else { turn }
}
