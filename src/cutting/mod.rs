//! Lengths cut from bars: which pieces come out of which bar, and how little stock any plan could
//! do with.

mod bound;
mod plan;
mod search;

pub use plan::{Bar, Piece, Plan, plan};
