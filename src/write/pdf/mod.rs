//! Sheets to PDF: one page a sheet, of exactly the paper's size, with text that can be selected
//! and searched.

mod content;
mod curve;
mod deflate;
mod font;
mod page;
mod document;

pub use document::{About, pdf};
pub use page::PdfPages;
