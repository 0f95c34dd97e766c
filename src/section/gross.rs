//! Values of the gross section, exact for rectangles and parts of rings: holes and notches are
//! ignored.

use super::piece::{Moments, P};
use crate::units;

/// Second moments about the centroid and what follows from them. Axes are those of the section's
/// frame; mm2, mm and mm4.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Values {
    /// Area.
    pub area: f64,
    /// Centroid.
    pub centroid: P,
    /// Integral of y² about the centroid: bending about the x axis.
    pub ix: f64,
    /// Integral of x² about the centroid: bending about the y axis.
    pub iy: f64,
    /// Integral of x y about the centroid.
    pub ixy: f64,
    /// Greatest and least second moment about an axis through the centroid.
    pub principal: [f64; 2],
    /// Direction of the axis of the greatest one, degrees from +x, above -90 up to 90.
    pub angle: f64,
}

impl Values {
    /// From moments about the origin. What has no area has no centroid: all is 0.
    pub fn of(moments: &Moments) -> Self {
        let area = moments.area;
        let centroid = if area > 0.0 {
            P::new(moments.first[0] / area, moments.first[1] / area)
        } else {
            P::new(0.0, 0.0)
        };
        let [xx, xy, yy] = moments.second;
        let ix = yy - area * centroid.y * centroid.y;
        let iy = xx - area * centroid.x * centroid.x;
        let ixy = xy - area * centroid.x * centroid.y;
        let (mean, half) = ((ix + iy) / 2.0, (ix - iy) / 2.0);
        let spread = units::hypot(half, ixy);
        // Below rounding there is no greatest axis: x is taken.
        let angle = if spread <= 1e-12 * mean { 0.0 } else { units::atan2_deg(-ixy, half) / 2.0 };
        Self { area, centroid, ix, iy, ixy, principal: [mean + spread, mean - spread], angle }
    }

    /// Integral of the square of the distance from the axis through the centroid along a unit
    /// vector.
    pub fn about(&self, axis: P) -> f64 {
        self.ix * axis.x * axis.x - 2.0 * self.ixy * axis.x * axis.y + self.iy * axis.y * axis.y
    }

    /// Radii of gyration of the two principal axes, mm.
    pub fn gyration(&self) -> [f64; 2] {
        self.principal.map(|i| if self.area > 0.0 { (i.max(0.0) / self.area).sqrt() } else { 0.0 })
    }

    /// Unit vectors along the principal axes, the greatest first.
    pub fn axes(&self) -> [P; 2] {
        let first = P::new(units::cos_deg(self.angle), units::sin_deg(self.angle));
        [first, first.left()]
    }
}
