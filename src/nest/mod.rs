//! Parts laid out on sheets: which part lies where on which sheet, and how good that is.
//!
//! Whole hundredths of a millimetre throughout, so that a layout is the same on every machine.

mod model;

pub use model::{
    Bounds, Effort, Item, Job, Layout, Left, Nest, Placed, Rect, Ring, Shape, Stock, Turns,
};
