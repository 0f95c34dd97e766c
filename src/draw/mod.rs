//! Drawings as plain 2D primitives, in the units of what they are drawn on.

mod sheet;

pub use sheet::{Align, Fill, Item, Pen, Shape, Sheet, Text};
