//! Parts developed: each part's blank.

mod blank;
mod unfold;

pub use blank::{Blank, BlankBend, BlankHole, Contour, Etch};
pub use unfold::{allowance, unfold};
