//! The document around the pages.

use std::ops::Range;

use pdf_writer::types::{CidFontType, FontFlags, PageMode, SystemInfo};
use pdf_writer::{Date, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use sha2::{Digest, Sha256};

use super::font::Embedded;
use super::page::{Page, PdfPages};
use crate::draw::{Sheet, Typeface};

/// What a document says about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// Title, shown by viewers.
    pub title: String,
    /// Who made it.
    pub author: String,
    /// What it is about.
    pub subject: String,
    /// Date of issue, ISO 8601; nothing is stated when it is not a date.
    pub date: String,
}

/// Objects that are in every document; the pages follow.
const CATALOG: i32 = 1;
const PAGE_TREE: i32 = 2;
const INFO: i32 = 3;
const OUTLINE: i32 = 4;
const FONTS: i32 = 5;

/// Objects of each weight of the typeface.
const OF_FONT: i32 = 5;

/// Objects of each page: itself, its content, its entry in the outline.
const OF_PAGE: i32 = 3;

/// Bytes that a page takes beside its content, and a document beside its pages: both fonts for the
/// most part. Only a guess for the memory's sake.
const PAGE_ROOM: usize = 1024;
const FRAME_ROOM: usize = 80 * 1024;

/// The bytes of a PDF file. The same sheets always give the same bytes.
pub fn pdf(sheets: &[Sheet], about: &About) -> Vec<u8> {
    PdfPages::of(sheets).document(0..sheets.len(), about)
}

impl PdfPages {
    /// The bytes of a PDF file of some of the pages; those beyond the last are none. The same
    /// pages always give the same bytes.
    pub fn document(&self, chosen: Range<usize>, about: &About) -> Vec<u8> {
        let pages = self.pages.get(chosen).unwrap_or_default();
        let streams: usize = pages.iter().map(|page| page.stream.len() + PAGE_ROOM).sum();
        let mut document = Pdf::with_capacity(streams + FRAME_ROOM);
        document.set_version(1, 7);
        let mut hash = Sha256::new();
        for (i, page) in pages.iter().enumerate() {
            hash.update(page.sha256);
            add(&mut document, page, i);
        }
        for bold in [false, true].into_iter().filter(|&bold| pages.iter().any(|p| p.uses(bold))) {
            embed(&mut document, bold, self.font(bold));
        }
        frame(&mut document, pages);
        info(&mut document, about);
        hash.update(format!("{about:?}"));
        let id = hash.finalize()[..16].to_vec();
        document.set_file_id((id.clone(), id));
        document.finish()
    }
}

fn page_ref(i: usize, object: i32) -> Ref {
    Ref::new(FONTS + 2 * OF_FONT + i as i32 * OF_PAGE + object)
}

fn add(document: &mut Pdf, made: &Page, i: usize) {
    let points = |mm: f64| (mm * 72.0 / 25.4) as f32;
    let paper = Rect::new(0.0, 0.0, points(made.width), points(made.height));
    let mut page = document.page(page_ref(i, 0));
    page.parent(Ref::new(PAGE_TREE)).media_box(paper).crop_box(paper).trim_box(paper);
    page.contents(page_ref(i, 1));
    let mut resources = page.resources();
    let mut fonts = resources.fonts();
    for bold in [false, true].into_iter().filter(|&bold| made.uses(bold)) {
        fonts.pair(Name(if bold { b"F1" } else { b"F0" }), font_ref(bold, 0));
    }
    fonts.finish();
    resources.finish();
    page.finish();
    document.stream(page_ref(i, 1), &made.stream).filter(Filter::FlateDecode);
}

/// Catalogue, page tree and, from two pages on, an outline with the sheets' titles.
fn frame(document: &mut Pdf, pages: &[Page]) {
    let count = pages.len();
    let mut catalog = document.catalog(Ref::new(CATALOG));
    catalog.pages(Ref::new(PAGE_TREE)).lang(TextStr("en"));
    catalog.viewer_preferences().display_doc_title(true);
    if 1 < count {
        catalog.outlines(Ref::new(OUTLINE)).page_mode(PageMode::UseOutlines);
    }
    catalog.finish();
    let kids = (0..count).map(|i| page_ref(i, 0));
    document.pages(Ref::new(PAGE_TREE)).kids(kids).count(count as i32);
    if 1 < count {
        outline(document, pages);
    }
}

fn outline(document: &mut Pdf, pages: &[Page]) {
    let last = pages.len() - 1;
    let mut outline = document.outline(Ref::new(OUTLINE));
    outline.first(page_ref(0, 2)).last(page_ref(last, 2)).count(pages.len() as i32);
    outline.finish();
    for (i, page) in pages.iter().enumerate() {
        let mut entry = document.outline_item(page_ref(i, 2));
        entry.title(TextStr(&page.title)).parent(Ref::new(OUTLINE));
        if 0 < i {
            entry.prev(page_ref(i - 1, 2));
        }
        if i < last {
            entry.next(page_ref(i + 1, 2));
        }
        entry.dest().page(page_ref(i, 0)).fit();
    }
}

fn info(document: &mut Pdf, about: &About) {
    let mut info = document.document_info(Ref::new(INFO));
    info.title(TextStr(&about.title)).author(TextStr(&about.author));
    info.subject(TextStr(&about.subject)).creator(TextStr("Blankwright"));
    if let Some(date) = date(&about.date) {
        info.creation_date(date);
    }
}

/// A date from `2026-03-02`; what follows the day is left out.
fn date(text: &str) -> Option<Date> {
    let mut parts = text.get(..10)?.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Some(Date::new(year).month(month).day(day))
}

fn font_ref(bold: bool, object: i32) -> Ref {
    Ref::new(FONTS + i32::from(bold) * OF_FONT + object)
}

/// Embeds a weight: glyphs are addressed by their number in the subset.
fn embed(document: &mut Pdf, bold: bool, font: &Embedded) {
    let name: &[u8] = if bold { b"BLWGHT+DejaVuSans-Bold" } else { b"BLWGHT+DejaVuSans" };
    let id = |object| font_ref(bold, object);
    let mut outer = document.type0_font(id(0));
    outer.base_font(Name(name)).encoding_predefined(Name(b"Identity-H"));
    outer.descendant_font(id(1)).to_unicode(id(4));
    outer.finish();
    let mut inner = document.cid_font(id(1));
    inner.subtype(CidFontType::Type2).base_font(Name(name)).font_descriptor(id(2));
    inner.system_info(SystemInfo {
        registry: Str(b"Adobe"),
        ordering: Str(b"Identity"),
        supplement: 0,
    });
    inner.default_width(0.0).cid_to_gid_map_predefined(Name(b"Identity"));
    inner.widths().consecutive(0, font.widths.iter().copied());
    inner.finish();
    descriptor(document, bold, name);
    let mut program = document.stream(id(3), &font.program);
    program.filter(Filter::FlateDecode).pair(Name(b"Length1"), font.length as i32);
    program.finish();
    document.stream(id(4), &font.to_unicode).filter(Filter::FlateDecode);
}

fn descriptor(document: &mut Pdf, bold: bool, name: &[u8]) {
    let face = Typeface::of(bold);
    let scaled = |units: i16| f32::from(units) * 1000.0 / f32::from(face.units_per_em);
    let mut descriptor = document.font_descriptor(font_ref(bold, 2));
    descriptor.name(Name(name)).flags(FontFlags::NON_SYMBOLIC).italic_angle(0.0);
    if let Some(tables) = face.tables() {
        let bounds = tables.global_bounding_box();
        descriptor.bbox(Rect::new(
            scaled(bounds.x_min),
            scaled(bounds.y_min),
            scaled(bounds.x_max),
            scaled(bounds.y_max),
        ));
        descriptor.ascent(scaled(tables.ascender())).descent(scaled(tables.descender()));
    }
    descriptor.cap_height(f32::from(face.capital_height) * 1000.0 / f32::from(face.units_per_em));
    descriptor.stem_v(if bold { BOLD_STEM } else { REGULAR_STEM }).font_file2(font_ref(bold, 3));
}

/// Widths of the upright strokes in thousandths of the em, read off the letter l: 184 and 358 of
/// 2048 units.
const REGULAR_STEM: f32 = 90.0;
const BOLD_STEM: f32 = 175.0;
