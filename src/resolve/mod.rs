//! Names bound and numbers checked: the wall laid out, the opening fitted to it.

mod bind;
mod doorway;
mod ends;
mod need;
mod numbers;
mod opening;
mod opening_refusal;
mod parameter;
mod sheet;
mod site;
mod survey;
mod values;
mod wall;
mod wall_members;

pub use bind::{Resolved, bind, bind_beside};
pub use numbers::Numbers;
pub use opening::{Fitted, Position, Prefer, Wish, fit};
pub use opening_refusal::Refusal;
pub use sheet::Sheet;
pub use site::{Lips, SiteContainer, SiteMember};
pub use survey::{SurveyFit, SurveyReading};
pub use wall::{WallLayout, lay_out};
