//! Folded parts as exact bodies: planes, cylinders and cones, bounded by straight lines and
//! circles, each edge shared by just two of them. For other programs that measure solids.

mod model;
mod ring;
mod face;
mod bend;
mod assembly;

pub use assembly::{Assembly, Shape, assemble, body};
pub use model::{Axes, Body, Curve, Edge, Patch, Surface, Way};
