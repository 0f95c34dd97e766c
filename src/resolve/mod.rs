//! Names bound and numbers checked: the wall laid out, the opening fitted to it.

mod opening;
mod opening_refusal;
mod survey;
mod wall;
mod wall_members;

pub use opening::{Fitted, Position, Prefer, Wish, fit};
pub use opening_refusal::Refusal;
pub use survey::{SurveyFit, SurveyReading};
pub use wall::{WallLayout, lay_out};
