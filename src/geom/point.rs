//! Points (and vectors) in a plane and in space, labelled with their frame.

use std::marker::PhantomData;
use std::ops::{Add, Mul, Neg, Sub};

use crate::units;

/// A point or a vector in the plane of frame `F`, in millimetres.
#[derive(Debug, PartialEq)]
pub struct Point<F> {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    frame: PhantomData<F>,
}

impl<F> Clone for Point<F> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<F> Copy for Point<F> {}

impl<F> Point<F> {
    /// The point (x, y).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y, frame: PhantomData }
    }

    /// Scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The z of the vector product: positive when `other` lies to the left of `self`.
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Length of the vector.
    pub fn length(self) -> f64 {
        units::hypot(self.x, self.y)
    }

    /// Distance to another point.
    pub fn distance(self, other: Self) -> f64 {
        (other - self).length()
    }

    /// The vector of length 1 in the same direction; the zero vector stays as it is.
    pub fn unit(self) -> Self {
        let length = self.length();
        if length == 0.0 { self } else { self * (1.0 / length) }
    }

    /// Turned by a quarter to the left.
    pub fn left(self) -> Self {
        Self::new(-self.y, self.x)
    }

    /// Turned by a quarter to the right.
    pub fn right(self) -> Self {
        Self::new(self.y, -self.x)
    }

    /// Turned about the origin by `angle` degrees, counter-clockwise.
    pub fn turned(self, angle: f64) -> Self {
        let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
        Self::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }

    /// The point at `share` of the way to `other` (0 here, 1 there).
    pub fn toward(self, other: Self, share: f64) -> Self {
        self + (other - self) * share
    }

    /// Whether both coordinates are finite.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl<F> Add for Point<F> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl<F> Sub for Point<F> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl<F> Mul<f64> for Point<F> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor)
    }
}

impl<F> Neg for Point<F> {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}

/// A point or a vector in the space of frame `F`, in millimetres.
#[derive(Debug, PartialEq)]
pub struct Point3<F> {
    /// First coordinate.
    pub x: f64,
    /// Second coordinate.
    pub y: f64,
    /// Third coordinate.
    pub z: f64,
    frame: PhantomData<F>,
}

impl<F> Clone for Point3<F> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<F> Copy for Point3<F> {}

impl<F> Point3<F> {
    /// The point (x, y, z).
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z, frame: PhantomData }
    }

    /// Scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Vector product, right-handed.
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// Length of the vector.
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Distance to another point.
    pub fn distance(self, other: Self) -> f64 {
        (other - self).length()
    }

    /// The vector of length 1 in the same direction; the zero vector stays as it is.
    pub fn unit(self) -> Self {
        let length = self.length();
        if length == 0.0 { self } else { self * (1.0 / length) }
    }
}

impl<F> Add for Point3<F> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl<F> Sub for Point3<F> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl<F> Mul<f64> for Point3<F> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}

impl<F> Neg for Point3<F> {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}
