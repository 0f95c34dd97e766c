//! Where a fastener's axis may stand: in one hole, and in two holes whose centres lie apart.
//!
//! A pin of diameter d stands anywhere in a round hole D whose centre is no farther off than (D -
//! d) / 2; in a slot the centre may besides lie anywhere on the slot's middle line. Two holes take
//! one pin when their centres lie no farther apart than both allow together: the sum of the two
//! sets, a polygon (a point, a line, a parallelogram) with a rim.

use crate::geom::{FaceFrame, Point};
use crate::kit::HoleShape;
use crate::units;

/// A vector in the plane of a joint, mm.
pub(super) type Flat = [f64; 2];

/// Room for a pin's axis about a hole's centre.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Gate {
    /// Half the middle line of a slot; nothing for a round hole.
    pub(super) half: Option<Flat>,
    /// Radius about it, mm; 0 where the hole is no larger than the pin, which then bites.
    pub(super) radius: f64,
    /// Standard deviation of that radius: half the diameter's, mm.
    pub(super) spread: f64,
}

impl Gate {
    /// The gate of a hole for a pin; `turn` takes a direction of the hole's face to the joint's
    /// plane, `spread` is the deviation of the hole's width. A rectangle counts as the slot in it.
    pub(super) fn of(
        shape: &HoleShape,
        pin: f64,
        spread: f64,
        turn: impl Fn(Point<FaceFrame>) -> Flat,
    ) -> Self {
        let (width, slot) = match shape {
            HoleShape::Round(diameter) => (*diameter, None),
            HoleShape::Slot(width, length, angle) | HoleShape::Rectangle(width, length, angle) => {
                (width.min(*length), Some((width, length, *angle)))
            }
            HoleShape::Cutout(path) => (path.bounds().width().min(path.bounds().height()), None),
        };
        let half = slot.map(|(width, length, angle)| {
            let across = if width <= length { 0.0 } else { 90.0 };
            let (cos, sin) = (units::cos_deg(angle + across), units::sin_deg(angle + across));
            turn(Point::new(cos, sin) * ((length - width).abs() / 2.0))
        });
        let room = (width - pin) / 2.0;
        Self { half, radius: room.max(0.0), spread: if 0.0 < room { spread / 2.0 } else { 0.0 } }
    }

    /// From a point to the set without its radius, mm.
    fn away(&self, p: Flat) -> (f64, Flat) {
        let foot = self.half.map_or([0.0, 0.0], |half| {
            let long = dot(half, half);
            let share = if long == 0.0 { 0.0 } else { (dot(p, half) / long).clamp(-1.0, 1.0) };
            [half[0] * share, half[1] * share]
        });
        (length(minus(p, foot)), foot)
    }
}

/// How far apart the centres of two holes may lie.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Region {
    /// Corners of the core in turn, mirrored in the origin; one for two round holes.
    core: Vec<Flat>,
    /// Rim about the core, mm.
    pub(super) clearance: f64,
    /// Standard deviation of the rim, mm.
    pub(super) spread: f64,
}

impl Region {
    /// What two gates allow together.
    pub(super) fn of(a: &Gate, b: &Gate) -> Self {
        let core = match (a.half, b.half) {
            (None, None) => vec![[0.0, 0.0]],
            (Some(half), None) | (None, Some(half)) => vec![half, minus([0.0, 0.0], half)],
            (Some(one), Some(other)) => parallelogram(one, other),
        };
        let spread = units::hypot(a.spread, b.spread);
        Self { core, clearance: a.radius + b.radius, spread }
    }

    /// Distance of a point from the core, mm; 0 inside.
    pub(super) fn away(&self, p: Flat) -> f64 {
        let count = self.core.len();
        if count == 1 {
            return length(p);
        }
        let edges = (0..count).map(|i| (self.core[i], self.core[(i + 1) % count]));
        let inside = 2 < count && edges.clone().all(|(a, b)| 0.0 < cross(minus(b, a), minus(p, a)));
        if inside { 0.0 } else { edges.map(|(a, b)| from_edge(p, a, b)).fold(f64::MAX, f64::min) }
    }

    /// How far the region with this rim reaches from the origin along a unit vector, mm.
    pub(super) fn reach(&self, along: Flat, rim: f64) -> f64 {
        if self.core.len() == 1 {
            return rim;
        }
        let most = self.core.iter().map(|p| length(*p)).fold(0.0, f64::max) + rim;
        let (mut low, mut high) = (0.0, most);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            let inside = self.away([along[0] * middle, along[1] * middle]) <= rim;
            if inside { low = middle } else { high = middle }
        }
        low
    }
}

fn parallelogram(one: Flat, other: Flat) -> Vec<Flat> {
    let plus = |s: f64, t: f64| [s * one[0] + t * other[0], s * one[1] + t * other[1]];
    let turn = if 0.0 <= cross(one, other) { 1.0 } else { -1.0 };
    let corners = [(1.0, turn), (-1.0, turn), (-1.0, -turn), (1.0, -turn)];
    corners.map(|(s, t)| plus(s, t)).to_vec()
}

/// Whether one pin goes through all holes, whose centres lie at the given places: whether their
/// gates share a point. Found by going to the nearest point of each in turn; a miss of a micrometre
/// counts as none.
pub(super) fn share_a_point(gates: &[(Flat, Gate)]) -> bool {
    let count = gates.len() as f64;
    let sum = gates.iter().fold([0.0, 0.0], |sum, (at, _)| [sum[0] + at[0], sum[1] + at[1]]);
    let mut p = [sum[0] / count, sum[1] / count];
    for _ in 0..200 {
        let mut worst = 0.0f64;
        for (at, gate) in gates {
            let local = minus(p, *at);
            let (far, foot) = gate.away(local);
            let over = far - gate.radius;
            if 0.0 < over {
                worst = worst.max(over);
                let back = over / far;
                p = [p[0] - (local[0] - foot[0]) * back, p[1] - (local[1] - foot[1]) * back];
            }
        }
        if worst < 1e-3 {
            return true;
        }
    }
    false
}

fn from_edge(p: Flat, a: Flat, b: Flat) -> f64 {
    let (along, away) = (minus(b, a), minus(p, a));
    let long = dot(along, along);
    let share = if long == 0.0 { 0.0 } else { (dot(away, along) / long).clamp(0.0, 1.0) };
    length([away[0] - along[0] * share, away[1] - along[1] * share])
}

fn minus(a: Flat, b: Flat) -> Flat {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: Flat, b: Flat) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn cross(a: Flat, b: Flat) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(super) fn length(p: Flat) -> f64 {
    dot(p, p).sqrt()
}
