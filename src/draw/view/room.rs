//! The upright box around something in space.

use crate::geom::{FaceFrame, Point3, Pose};
use crate::kit::Part;

/// An upright box; empty until something is added.
#[derive(Debug)]
pub(super) struct Room<F> {
    /// Lower corner.
    pub(super) low: Point3<F>,
    /// Upper corner.
    pub(super) high: Point3<F>,
}

impl<F> Room<F> {
    /// The box around nothing.
    pub(super) const fn empty() -> Self {
        let inf = f64::INFINITY;
        Self { low: Point3::new(inf, inf, inf), high: Point3::new(-inf, -inf, -inf) }
    }

    /// Grown to hold a point.
    pub(super) fn add(&mut self, p: Point3<F>) {
        self.low = lower(self.low, p);
        self.high = -lower(-self.high, -p);
    }

    /// Grown to hold the corners of a part's faces, whose frames stand at `seats`.
    pub(super) fn add_part(&mut self, part: &Part, seats: &[Pose<FaceFrame, F>]) {
        for (face, seat) in part.faces.iter().zip(seats) {
            face.outline.vertices.iter().for_each(|vertex| self.add(seat.lifted(vertex.at, 0.0)));
        }
    }

    /// Its three extents; 0 when it is empty.
    pub(super) fn extents(&self) -> [f64; 3] {
        let size = self.high - self.low;
        [size.x, size.y, size.z].map(|extent| extent.max(0.0))
    }

    /// The box and what lies around it.
    pub(super) fn grown(&self, [x, y, z]: [f64; 3]) -> Self {
        let by = Point3::new(x, y, z);
        Self { low: self.low - by, high: self.high + by }
    }

    /// What two boxes have in common; none when that has no volume.
    pub(super) fn common(&self, other: &Self) -> Option<Self> {
        let low = -lower(-self.low, -other.low);
        let high = lower(self.high, other.high);
        let common = Self { low, high };
        common.extents().iter().all(|extent| *extent > 1e-6).then_some(common)
    }
}

fn lower<F>(a: Point3<F>, b: Point3<F>) -> Point3<F> {
    Point3::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z))
}
