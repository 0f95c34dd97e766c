//! Drawings as plain 2D primitives, in the units of what they are drawn on.

mod sheet;
mod text;
mod lettering;
mod laser;
mod picture;
pub mod view;

pub use laser::{
    BendLines, LaserItem, LaserShape, LaserSheet, LaserStyle, Layer, Role, laser_items, laser_sheet,
};
pub use lettering::{can_letter, lettering, lettering_width};
pub use picture::{Area, Label, Picture, Stroke};
pub use sheet::{Align, Fill, Item, Pen, Shape, Sheet, Text};
pub use text::{REPLACEMENT, Typeface, text_width};
