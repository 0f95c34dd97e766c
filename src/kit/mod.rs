//! The kit: parts as trees of faces joined by bends, joints between them, all placed in the site.

mod model;
mod amend;
mod around;
mod part;
mod build;
mod desk;
mod exact;
mod draft;
mod expand;
mod faces;
mod flanges;
mod lengths;
mod mirror;
mod neighbour;
mod outline;
mod pattern;
mod places;
mod relief;
mod hollows;
mod identity;
mod issue;
mod keep_out;
mod section;
mod site;
mod steps;
mod teeth;
mod work;

pub use crate::cutting::Bar;
pub use crate::template::Value;
pub use amend::{Amended, amend_holes};
pub use around::{KeepOut, Member, SetFrom, Setting, Shape};
pub(crate) use desk::Desk;
pub use draft::{Draft, JointPlan, MemberPlan};
pub use exact::{settle, settle_holes};
pub use expand::expand;
pub use identity::{Identity, shared_number};
pub use issue::Issue;
pub use lengths::Lengths;
pub use model::{Container, Fastener, Joint, JointMember, Kit, Previous, Revision, Step, Wall};
pub use neighbour::{Meeting, Neighbour};
pub use part::{
    Bend, Face, Hand, Hole, HoleShape, Lie, Mark, Material, Part, Relief, Sense, Side, Sunk,
};
pub use work::{Foam, Measure, Need, OnSite, Supply};
