//! Sheets to PDF: one page a sheet, of exactly the paper's size, with text that can be selected
//! and searched.

mod content;
mod curve;
mod deflate;
mod document;
mod font;

pub use document::{About, pdf};
