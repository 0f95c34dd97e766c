//! Rigid motions of space from one frame to another.

use std::marker::PhantomData;

use super::{Map2, Point, Point3};
use crate::units;

/// A rigid motion (turn and shift, never a reflection) from frame `A` to frame `B`.
#[derive(Debug, PartialEq)]
pub struct Pose<A, B> {
    /// Image of the x direction, a unit vector.
    pub x_axis: Point3<B>,
    /// Image of the y direction.
    pub y_axis: Point3<B>,
    /// Image of the z direction: `x_axis` cross `y_axis`.
    pub z_axis: Point3<B>,
    /// Image of the origin.
    pub shift: Point3<B>,
    from: PhantomData<A>,
}

impl<A, B> Clone for Pose<A, B> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<A, B> Copy for Pose<A, B> {}

impl<A, B> Pose<A, B> {
    /// The motion with the given images of x, y (orthonormal) and the origin.
    pub fn new(x_axis: Point3<B>, y_axis: Point3<B>, shift: Point3<B>) -> Self {
        Self { x_axis, y_axis, z_axis: x_axis.cross(y_axis), shift, from: PhantomData }
    }

    /// The motion that changes nothing but the label.
    pub fn identity() -> Self {
        let (x, y) = (Point3::new(1.0, 0.0, 0.0), Point3::new(0.0, 1.0, 0.0));
        Self::new(x, y, Point3::new(0.0, 0.0, 0.0))
    }

    /// A plane map without reflection, lifted to space; z stays.
    pub fn flat(map: &Map2<A, B>) -> Self {
        debug_assert!(!map.reflects(), "a reflection is not a rigid motion of space");
        Self::new(lift(map.x_axis), lift(map.y_axis), lift(map.shift))
    }

    /// A turn by `angle` degrees about the unit vector `axis` through the origin, right-handed.
    pub fn turn(axis: Point3<B>, angle: f64) -> Self {
        let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
        let turned =
            |v: Point3<B>| v * cos + axis.cross(v) * sin + axis * (axis.dot(v) * (1.0 - cos));
        let origin = Point3::new(0.0, 0.0, 0.0);
        Self::new(turned(Point3::new(1.0, 0.0, 0.0)), turned(Point3::new(0.0, 1.0, 0.0)), origin)
    }

    /// The same motion followed by a shift.
    pub fn shifted(self, by: Point3<B>) -> Self {
        Self { shift: self.shift + by, ..self }
    }

    /// Image of a point.
    pub fn point(&self, p: Point3<A>) -> Point3<B> {
        self.shift + self.vector(p)
    }

    /// Image of a point of the plane at height z above it.
    pub fn lifted(&self, p: Point<A>, z: f64) -> Point3<B> {
        self.point(Point3::new(p.x, p.y, z))
    }

    /// Image of a vector: turned, not shifted.
    pub fn vector(&self, v: Point3<A>) -> Point3<B> {
        self.x_axis * v.x + self.y_axis * v.y + self.z_axis * v.z
    }

    /// `self` first, then `next`.
    pub fn then<C>(&self, next: &Pose<B, C>) -> Pose<A, C> {
        Pose::new(next.vector(self.x_axis), next.vector(self.y_axis), next.point(self.shift))
    }

    /// The way back.
    pub fn inverse(&self) -> Pose<B, A> {
        let x_axis = Point3::new(self.x_axis.x, self.y_axis.x, self.z_axis.x);
        let y_axis = Point3::new(self.x_axis.y, self.y_axis.y, self.z_axis.y);
        let back: Pose<B, A> = Pose::new(x_axis, y_axis, Point3::new(0.0, 0.0, 0.0));
        let shift = -back.vector(self.shift);
        back.shifted(shift)
    }

    /// The three rows of the 3 x 4 matrix that sends (x, y, z, 1) to the image.
    pub fn rows(&self) -> [[f64; 4]; 3] {
        let (x, y, z, s) = (self.x_axis, self.y_axis, self.z_axis, self.shift);
        [[x.x, y.x, z.x, s.x], [x.y, y.y, z.y, s.y], [x.z, y.z, z.z, s.z]]
    }
}

fn lift<F>(p: Point<F>) -> Point3<F> {
    Point3::new(p.x, p.y, 0.0)
}
