//! How the two sides of a bend move while it is made.
//!
//! The sheet lies on the die's two shoulders and is bent in the middle by the punch: both sides
//! rise alike, each by half the angle. The bend zone keeps the length of its neutral line and is
//! evenly curved at every moment; the undersides slide on the shoulders. The radius of the
//! shoulders is left out: it lowers the sheet by less than a tenth of it.

use std::f64::consts::PI;

use crate::geom::{BrakeFrame, Point};
use crate::units::{cos_deg, sin_deg, tan_deg};

/// One side of a bend as it lies flat on the die: x from the bending line outwards, y up from the
/// underside, z along the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum SheetFrame {}

/// A stroke in the plane across the bending line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Swing {
    /// Thickness, mm.
    pub(super) thickness: f64,
    /// Length of the neutral line in the bend, mm.
    pub(super) zone: f64,
    /// Height of the neutral line above the underside, mm.
    pub(super) neutral: f64,
    /// Half the die's opening, mm.
    pub(super) half_opening: f64,
    /// Angle at the end, degrees.
    pub(super) last: f64,
}

/// Both sides at one moment: where the punch's tip is, and how the right one lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    cos: f64,
    sin: f64,
    /// Image of the neutral line's point at the edge of the bend zone.
    edge: Point<BrakeFrame>,
    /// That point before the stroke.
    from: Point<SheetFrame>,
    /// y of the punch's tip.
    pub(super) nose: f64,
}

impl Swing {
    /// The sheet when it is bent by `angle` degrees.
    pub(super) fn at(&self, angle: f64) -> Moment {
        let half = angle / 2.0;
        let (cos, sin, tan) = (cos_deg(half), sin_deg(half), tan_deg(half));
        let radians = angle * PI / 180.0;
        // The neutral radius is zone / radians; near 0 its products with sines are taken instead.
        let [across, rise] = if radians < 1e-6 {
            [self.zone / 2.0, 0.0]
        } else {
            let quarter = sin_deg(half / 2.0);
            let radius = self.zone / radians;
            [radius * sin, radius * 2.0 * quarter * quarter / cos]
        };
        let apex = -self.half_opening * tan + self.neutral / cos;
        Moment {
            cos,
            sin,
            edge: Point::new(across, apex + across * tan),
            from: Point::new(self.zone / 2.0, self.neutral),
            nose: apex + (self.thickness - self.neutral) + rise,
        }
    }

    /// The second derivative of the path of any point within `reach` of the bending line, seen from
    /// the die or from the punch, is at most this, mm for each degree squared: the turn gives a
    /// quarter of the reach (for radians), the shift what the tangent of half the angle and its
    /// like give for lengths of half the opening, the thickness and the bend zone.
    pub(super) fn curvature(&self, reach: f64) -> f64 {
        let cos = cos_deg(self.last / 2.0);
        let shift = (self.half_opening + self.thickness + 3.0 * self.zone) / (cos * cos * cos);
        (reach / 4.0 + self.zone / 4.0 + shift) * (PI / 180.0) * (PI / 180.0)
    }
}

impl Moment {
    /// Where a point of the right-hand side (towards the gauge) is.
    pub(super) fn point(&self, p: Point<SheetFrame>) -> Point<BrakeFrame> {
        let d = p - self.from;
        self.edge + Point::new(d.x * self.cos - d.y * self.sin, d.x * self.sin + d.y * self.cos)
    }

    /// Where a direction of the right-hand side points.
    pub(super) fn direction(&self, d: Point<SheetFrame>) -> Point<BrakeFrame> {
        Point::new(d.x * self.cos - d.y * self.sin, d.x * self.sin + d.y * self.cos)
    }
}
