//! Parts developed: each part's blank.

mod blank;

pub use blank::{Blank, BlankBend, BlankHole, Contour, Etch};
