//! The kit: parts as trees of faces joined by bends, joints between them, all placed in the site.

mod model;
mod part;
mod build;
mod mirror;
mod outline;

pub use crate::template::Value;
pub use model::{Container, Fastener, Joint, JointMember, KeepOut, Kit, Revision, Wall};
pub use part::{Bend, Face, Hand, Hole, HoleShape, Mark, Material, Part, Relief, Sense, Side};
