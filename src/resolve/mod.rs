//! Names bound and numbers checked: the wall laid out, the opening fitted to it.

mod opening;
mod survey;
mod wall;

pub use opening::{Fitted, Position, Prefer, Refusal, Wish};
pub use survey::{SurveyFit, SurveyReading};
pub use wall::WallLayout;
