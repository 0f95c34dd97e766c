//! Drawings as plain 2D primitives, in the units of what they are drawn on.

mod sheet;
mod text;
mod lettering;
mod laser;
mod nest_laser;
mod picture;
mod dots;
pub mod view;
mod part_views;

// How a page is laid out.
mod figure;
mod scale;
mod setting;
mod occupancy;
mod canvas;
mod dimension;
mod block;
mod paper;
mod tolerance;
mod title_block;
mod leaf;

// The pages.
mod blank_view;
mod folded_view;
mod balloon;
mod shop_drawing;
mod changes;
mod cover;
mod layout;
mod plan;
mod preview;
mod report;
mod brake_sheet;
mod set;
mod site;
mod stock_sheets;
mod quote;

pub use block::{Block, Column, column, figures, sentences};
pub use brake_sheet::brake_sheets;
pub use changes::{changes, overlay_picture};
pub use cover::cover;
pub use dots::dots;
pub use laser::{
    BendLines, LaserItem, LaserShape, LaserSheet, LaserStyle, Layer, Role, etched_length,
    laser_items, laser_sheet,
};
pub use lettering::{can_letter, lettering, lettering_width};
pub use nest_laser::nest_laser;
pub use part_views::PartViews;
pub use picture::{Area, Label, Picture, Stroke};
pub use preview::preview;
pub use quote::{Offer, quote_pages};
pub use report::report;
pub use set::{DrawingSet, drawing_set};
pub use sheet::{Align, Fill, Item, Pen, Shape, Sheet, Text};
pub use shop_drawing::shop_drawing;
pub use site::site_papers;
pub use stock_sheets::stock_sheets;
pub use text::{REPLACEMENT, Typeface, text_width};
