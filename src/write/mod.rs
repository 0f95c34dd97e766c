//! Drawings to bytes: one writer a format. Writers see sheets, never parts; same sheet, same bytes.

mod number;
mod pen;
mod outline;
mod dxf;
mod svg;

pub use dxf::dxf;
pub use svg::svg;
