//! Drawings to bytes: one writer a format. Writers see sheets, never parts; same sheet, same bytes.

mod number;
mod pen;
mod outline;
mod dxf;
mod svg;
mod pdf;

pub use dxf::dxf;
pub use number::{fixed, rounded};
pub use pdf::{About, pdf};
pub use svg::svg;
