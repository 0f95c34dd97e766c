//! Views of folded parts and of the whole kit: isometric pictures with hidden lines removed, and
//! sections across the bends.

mod model;
mod room;
mod hole;
mod wall;
mod zone;
mod solid;
mod ring;
mod extent;
mod common;
mod cover;
mod grid;
mod visible;
mod chain;
mod tint;
mod label;
mod ghost;
mod broken;
mod direction;
mod isometric;
mod clip;
mod stage;
mod legs;
mod profile;

pub use isometric::{isometric_kit, isometric_part, part_from, part_view};
pub use profile::{BendCall, LegSize, ProfileView, profile, profiles};
pub use stage::{Stage, Staged, stage};
