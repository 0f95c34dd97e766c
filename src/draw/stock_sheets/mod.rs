//! The papers for the laser: a list of all sheets, and a page for each with its picture, what lies
//! where, and what it takes.

mod label;
mod list;
mod little;
mod page;
mod picture;
mod words;

use super::Sheet;
use super::title_block::number;
use crate::kit::Kit;
use crate::sheets::{Laid, Wanted};

/// Everything the papers are about.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    /// Whose title block the pages bear.
    kit: &'a Kit,
    /// The parts.
    wanted: &'a [Wanted<'a>],
    /// The sheets.
    laid: &'a Laid,
}

/// The papers, numbered among themselves: the list first, then the sheets. `kit` gives the title
/// block; the parts may be of several kits. None where nothing is cut.
pub fn stock_sheets(kit: &Kit, wanted: &[Wanted], laid: &Laid) -> Vec<Sheet> {
    if laid.sheets.is_empty() {
        return Vec::new();
    }
    let subject = Subject { kit, wanted, laid };
    let mut sheets = list::pages(&subject);
    sheets.extend(laid.sheets.iter().flat_map(|sheet| page::pages(&subject, sheet)));
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

impl Subject<'_> {
    /// What a part is called in the pictures: its number without the kit's where all are of one
    /// kit, else its line in the list of parts.
    fn short(&self, wanted: usize) -> String {
        let own = &self.wanted[wanted];
        let one_kit = self.wanted.iter().all(|other| other.kit == own.kit);
        let rest = own.part.number.strip_prefix(own.kit).and_then(|rest| rest.strip_prefix('-'));
        match rest {
            Some(rest) if one_kit => rest.to_owned(),
            _ => (wanted + 1).to_string(),
        }
    }
}
