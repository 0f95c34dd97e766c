//! Drawings to bytes: one writer a format. Writers see sheets, never parts; same sheet, same bytes.

mod number;
mod pen;
mod outline;
mod dxf;
mod svg;
mod pdf;
mod gltf;
mod step;

pub use dxf::{DxfWriter, dxf};
pub use gltf::glb;
pub use number::{fixed, rounded};
pub use pdf::{About, PdfPages, pdf};
pub use step::step;
pub use svg::svg;
