//! Pages before they are put together: drawn and compressed once, for as many documents as they
//! are in.

use std::borrow::Cow;
use std::collections::BTreeSet;

use sha2::{Digest, Sha256};

use super::content;
use super::deflate::Coder;
use super::font::{self, Embedded};
use crate::draw::{Item, Sheet, Text};

/// Pages that share their fonts.
pub struct PdfPages {
    pub(super) pages: Vec<Page>,
    fonts: [Cow<'static, Embedded>; 2],
}

/// One page.
pub(super) struct Page {
    /// Paper width, mm.
    pub(super) width: f64,
    /// Paper height, mm.
    pub(super) height: f64,
    /// Title for the document's outline.
    pub(super) title: String,
    /// The compressed content.
    pub(super) stream: Vec<u8>,
    /// What tells this content from any other.
    pub(super) sha256: [u8; 32],
    uses: [bool; 2],
}

impl PdfPages {
    /// The pages of these sheets, in their order.
    pub fn of<'a>(sheets: impl IntoIterator<Item = &'a Sheet>) -> Self {
        let sheets: Vec<&Sheet> = sheets.into_iter().collect();
        let fonts = [false, true].map(|bold| font::covering(bold, &characters(&sheets, bold)));
        let (mut coder, mut operators) = (Coder::quick(), Vec::new());
        let pages = sheets.iter().map(|sheet| {
            content::write(&mut operators, sheet, [&fonts[0], &fonts[1]]);
            let stream = coder.stream(&operators);
            Page {
                width: sheet.width,
                height: sheet.height,
                title: sheet.title.clone(),
                sha256: Sha256::digest(&stream).into(),
                stream,
                uses: [false, true].map(|bold| texts(sheet, bold).next().is_some()),
            }
        });
        Self { pages: pages.collect(), fonts }
    }

    /// The weight of the typeface that the pages are set in.
    pub(super) fn font(&self, bold: bool) -> &Embedded {
        &self.fonts[usize::from(bold)]
    }
}

impl Page {
    /// Whether any text is set in that weight.
    pub(super) fn uses(&self, bold: bool) -> bool {
        self.uses[usize::from(bold)]
    }
}

/// The characters of all texts of one weight that are not plain ASCII.
fn characters(sheets: &[&Sheet], bold: bool) -> BTreeSet<char> {
    let texts = sheets.iter().flat_map(|sheet| texts(sheet, bold));
    texts.filter(|text| !text.content.is_ascii()).flat_map(|text| text.content.chars()).collect()
}

fn texts(sheet: &Sheet, bold: bool) -> impl Iterator<Item = &Text> {
    sheet.items.iter().filter_map(move |item| match item {
        Item::Text(text) if text.bold == bold => Some(text),
        _ => None,
    })
}
