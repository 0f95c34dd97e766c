//! What a kit costs, how much it weighs and how large its package is: what sales sends out.
//!
//! Quantities are whole ten-thousandths of a kilogram, an hour or a piece, rates whole
//! ten-thousandths of the shop's currency, amounts whole cents: a quantity times a rate, halves
//! rounded up. So the rows add up to the price exactly, and a spreadsheet finds the same.

mod date;
mod model;
mod money;
mod package;
mod sheet_share;
mod work_out;

pub use date::later;
pub use model::{Kind, Quote, Row};
pub use money::{TEN_THOUSAND, amount};
pub use work_out::{Subject, work_out};
