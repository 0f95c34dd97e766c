//! Length-keeping maps between two planes: a turn, perhaps a reflection, and a shift.

use std::marker::PhantomData;

use super::Point;
use crate::units;

/// A map from the plane of frame `A` to that of frame `B` that keeps lengths.
#[derive(Debug, PartialEq)]
pub struct Map2<A, B> {
    /// Image of the x direction.
    pub x_axis: Point<B>,
    /// Image of the y direction: `x_axis` turned left, or right when the map reflects.
    pub y_axis: Point<B>,
    /// Image of the origin.
    pub shift: Point<B>,
    from: PhantomData<A>,
}

impl<A, B> Clone for Map2<A, B> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<A, B> Copy for Map2<A, B> {}

impl<A, B> Map2<A, B> {
    /// The map that sends (x, y) to `shift + x * x_axis + y * y_axis`; the axes are orthonormal.
    pub const fn new(x_axis: Point<B>, y_axis: Point<B>, shift: Point<B>) -> Self {
        Self { x_axis, y_axis, shift, from: PhantomData }
    }

    /// The map that changes nothing but the label.
    pub const fn identity() -> Self {
        Self::new(Point::new(1.0, 0.0), Point::new(0.0, 1.0), Point::new(0.0, 0.0))
    }

    /// A turn about the origin by `angle` degrees, counter-clockwise.
    pub fn turn(angle: f64) -> Self {
        let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
        Self::new(Point::new(cos, sin), Point::new(-sin, cos), Point::new(0.0, 0.0))
    }

    /// A shift alone.
    pub const fn shift(by: Point<B>) -> Self {
        Self::new(Point::new(1.0, 0.0), Point::new(0.0, 1.0), by)
    }

    /// The same map followed by a shift.
    pub fn shifted(self, by: Point<B>) -> Self {
        Self { shift: self.shift + by, ..self }
    }

    /// Image of a point.
    pub fn point(&self, p: Point<A>) -> Point<B> {
        self.shift + self.vector(p)
    }

    /// Image of a vector: turned, not shifted.
    pub fn vector(&self, v: Point<A>) -> Point<B> {
        self.x_axis * v.x + self.y_axis * v.y
    }

    /// Whether the map turns left into right.
    pub fn reflects(&self) -> bool {
        self.x_axis.cross(self.y_axis) < 0.0
    }

    /// `self` first, then `next`.
    pub fn then<C>(&self, next: &Map2<B, C>) -> Map2<A, C> {
        Map2::new(next.vector(self.x_axis), next.vector(self.y_axis), next.point(self.shift))
    }

    /// The way back.
    pub fn inverse(&self) -> Map2<B, A> {
        let x_axis = Point::new(self.x_axis.x, self.y_axis.x);
        let y_axis = Point::new(self.x_axis.y, self.y_axis.y);
        let back: Map2<B, A> = Map2::new(x_axis, y_axis, Point::new(0.0, 0.0));
        let shift = -back.vector(self.shift);
        back.shifted(shift)
    }

    /// Direction in frame `B`, degrees, of a direction given in degrees in frame `A`.
    pub fn direction(&self, angle: f64) -> f64 {
        let v = self.vector(Point::new(units::cos_deg(angle), units::sin_deg(angle)));
        units::atan2_deg(v.y, v.x)
    }
}
