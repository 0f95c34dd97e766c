//! Reports: tables and paragraphs over the whole width of a page, with the kit's title block.

use super::Sheet;
use super::block::{Block, flow};
use super::leaf::{common, leaf};
use super::title_block::{TitleBlock, number};
use crate::kit::Kit;

/// No report needs more pages; a guard against a row that can never be set.
const MOST_PAGES: usize = 60;

/// A report of the given kind (`Check sheet`) about a kit, its sheets numbered among themselves.
pub fn report(kit: &Kit, kind: &'static str, blocks: Vec<Block>) -> Vec<Sheet> {
    let block = TitleBlock {
        title: kit.title.clone(),
        supplement: kit.template.1.clone(),
        number: kit.number.clone(),
        kind,
        ..common(kit)
    };
    let mut sheets = Vec::new();
    let mut rest = blocks;
    while !rest.is_empty() && sheets.len() < MOST_PAGES {
        let mut page = leaf(kit, &block, None);
        let room = page.place.above();
        rest = flow(&mut page.canvas, rest, &[room]);
        sheets.push(page.finish(format!("{} {kind}", kit.number)));
    }
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}
