//! Drawings to bytes: one writer a format. Writers see sheets, never parts; same sheet, same bytes.

mod number;
mod dxf;

pub use dxf::dxf;
