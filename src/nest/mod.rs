//! Parts laid out on sheets: which part lies where on which sheet, and how good that is.
//!
//! Whole hundredths of a millimetre throughout, so that a layout is the same on every machine.

mod fault;
mod model;
mod plan;
mod rects;
mod remnant;
mod turned;

pub use model::{
    Bounds, Effort, Fault, Item, Job, Layout, Left, Nest, Placed, Rect, Ring, Shape, Stock, Turns,
};
pub use plan::{Share, nest};
pub use remnant::remnant;
