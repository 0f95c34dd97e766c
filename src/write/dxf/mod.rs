//! Laser sheets to DXF: millimetres, closed contours, nothing that a machine would trip over.
//!
//! What surrounds the entities comes from the `dxf` crate, once for a shop's layers; one pass over
//! what it writes gives the file the owners and handles that strict readers ask for, and leaves out
//! clocks and identifiers. The entities of each file are then written into it.

mod pair;
mod entity;
mod frame;
mod pass;
mod writer;

pub use writer::{DxfWriter, dxf};
