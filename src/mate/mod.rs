//! Joints carried through space: each is declared on one face, and the holes of the faces it meets
//! follow from where those faces stand when folded.

mod assemble;
mod axis;
mod grip;
mod join;
mod sink;
mod stack;

pub use assemble::{Words, assemble, assemble_numbered, container_member, fasteners};
pub use grip::{Host, clamped};
pub use sink::sink_remarks;
pub use stack::{Layer, layers};
