//! Sections of the profiles, and a screen of their loads: advice, never approval.
//!
//! A part is cut square to its longest bend; the flats and corners so found give exact section
//! values, thin-walled torsion and warping, and the widths that bear under a stress. Which part
//! bears what is declared by the family.

mod beam;
mod column;
mod cut;
mod effective;
mod gross;
mod judge;
mod limits;
mod lip;
mod piece;
mod plate;
mod report;
mod screen;
mod shape;
mod strip;
mod thin;

pub use beam::{Beam, Cantilever};
pub use column::{Critical, critical, reduction};
pub use cut::{Cut, cut};
pub use effective::{Demand, Effective, Field, Stretch, effective};
pub use gross::Values;
pub use piece::{Moments, Piece};
pub use plate::{
    Judge, Plate, Standard, k_internal, k_outstand, share_aisi, share_internal, share_outstand,
    slenderness_aisi, slenderness_en,
};
pub use report::{ADVICE, Figure, LoadCase, PartSection, Screen, Strength};
pub use screen::work_out;
pub use shape::Section;
pub use thin::{Thin, closed_torsion, thin};
