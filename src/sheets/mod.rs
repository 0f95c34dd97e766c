//! Sheets for the laser: the blanks of one or more kits laid out on what stands in the rack, and
//! the order in which each sheet is cut.
//!
//! `gather` makes one job for each material and thickness, `nest` lays it out, and `set_down` turns
//! the layouts into sheets with everything that papers and files say about them. Nothing here
//! chooses a place.

mod cuts;
mod extras;
mod figures;
mod gather;
mod model;
mod nested;
mod rings;
mod set_down;
mod shape;
mod skeleton;
mod tabs;

pub use gather::{gather, request_faults};
pub use model::{
    Board, CutRef, CutSheet, Extras, Figures, Group, KitRow, Laid, LeftOut, Lying, Missing, Origin,
    Request, Segment, Wanted, Why,
};
pub use set_down::{set_down, with_extras};
pub use shape::{grown, shape};
