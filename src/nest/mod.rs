//! Parts laid out on sheets: which part lies where on which sheet, and how good that is.
//!
//! Whole hundredths of a millimetre throughout, so that a layout is the same on every machine.

mod batch;
mod bed;
mod bound;
mod compact;
mod core;
mod crowd;
mod dice;
mod dive;
mod edge;
mod fault;
mod field;
mod fill;
mod master;
mod minkowski;
mod model;
mod nfp;
mod press;
mod pad;
mod plan;
mod price;
mod remnant;
mod ring;
mod row;
mod separate;
mod sliver;
mod sound;
mod squeeze;
mod stack;
mod strip;
mod turned;
mod verify;

pub use bed::{Bed, Rule, Spot};
pub use core::{Core, Pose};
pub use dice::Dice;
pub use fill::{Candidate, fill, place, top_up};
pub use model::{
    Bounds, Effort, Fault, Item, Job, Layout, Left, Nest, Placed, Rect, Ring, Shape, Stock, Turns,
};

pub use plan::{Share, nest};
pub use remnant::remnant;
pub use squeeze::{pack_strip, squeeze};
pub use verify::{Flaw, verify};
