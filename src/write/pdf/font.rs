//! The typeface as it is embedded: a subset that covers what drawings are written with, made once
//! per process, since taking a font apart costs more than writing a page.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use pdf_writer::types::UnicodeCmap;
use pdf_writer::{Name, Str, types::SystemInfo};
use subsetter::GlyphRemapper;

use super::deflate::Coder;
use crate::draw::{REPLACEMENT, Typeface};

/// The signs beyond ASCII and Latin-1 that every file can show.
const SIGNS: &str = "\u{2300}\u{2205}\u{2013}\u{2014}\u{2018}\u{2019}\u{201c}\u{201d}\u{201e}\
    \u{2022}\u{2026}\u{2032}\u{2033}\u{215b}\u{215c}\u{215d}\u{215e}\u{2190}\u{2191}\u{2192}\
    \u{2193}\u{2194}\u{2195}\u{25b2}\u{25b3}\u{25b6}\u{25b7}\u{25bc}\u{25bd}\u{25c0}\u{25c1}\
    \u{25a0}\u{25a1}\u{25cb}\u{25cf}\u{25b8}\u{2260}\u{2264}\u{2265}\u{2248}\u{2212}\u{221a}\
    \u{2220}\u{22a5}\u{2225}\u{26a0}\u{2713}\u{2717}\u{20ac}\u{2116}\u{394}\u{3a9}\u{3b1}\
    \u{3b2}\u{3c0}\u{3bc}\u{fffd}";

/// How many of the first characters have their glyphs in a table.
const LATIN: usize = 0x100;

/// Units of a text's width in PDF, to the em.
const EM: f32 = 1000.0;

/// A weight of the typeface ready to be embedded.
#[derive(Clone)]
pub(super) struct Embedded {
    /// The compressed font file.
    pub(super) program: Vec<u8>,
    /// Length of the font file before compression.
    pub(super) length: usize,
    /// Width of each glyph, in thousandths of the em.
    pub(super) widths: Vec<f32>,
    /// The compressed map from glyphs back to characters.
    pub(super) to_unicode: Vec<u8>,
    latin: Vec<u16>,
    others: BTreeMap<char, u16>,
    replacement: u16,
}

impl Embedded {
    /// The glyph that shows a character in the subset.
    pub(super) fn glyph(&self, c: char) -> u16 {
        match self.latin.get(c as usize) {
            Some(glyph) => *glyph,
            None => self.others.get(&c).copied().unwrap_or(self.replacement),
        }
    }
}

/// The subset that covers `used`: the common one unless a document needs characters beyond it.
pub(super) fn covering(bold: bool, used: &BTreeSet<char>) -> Cow<'static, Embedded> {
    static REGULAR: OnceLock<Embedded> = OnceLock::new();
    static BOLD: OnceLock<Embedded> = OnceLock::new();
    let face = Typeface::of(bold);
    let common = if bold { &BOLD } else { &REGULAR }.get_or_init(|| embedded(face, &repertoire()));
    let missing = |c: &char| LATIN <= *c as usize && !common.others.contains_key(c) && face.has(*c);
    if used.iter().any(missing) {
        let wider = repertoire().union(used).copied().collect();
        return Cow::Owned(embedded(face, &wider));
    }
    Cow::Borrowed(common)
}

fn repertoire() -> BTreeSet<char> {
    (' '..='~').chain('\u{a0}'..='\u{ff}').chain(SIGNS.chars()).collect()
}

fn embedded(face: &Typeface, characters: &BTreeSet<char>) -> Embedded {
    let mut remapper = GlyphRemapper::new();
    let mut latin = vec![0; LATIN];
    let mut others = BTreeMap::new();
    let replacement = remapper.remap(face.glyph(REPLACEMENT));
    latin.fill(replacement);
    let mut meanings = BTreeMap::from([(replacement, REPLACEMENT)]);
    for &c in characters.iter().filter(|&&c| face.has(c)) {
        let glyph = remapper.remap(face.glyph(c));
        match latin.get_mut(c as usize) {
            Some(slot) => *slot = glyph,
            None => drop(others.insert(c, glyph)),
        }
        meanings.entry(glyph).or_insert(c);
    }
    // The subsetter only refuses a broken file, and the typeface is part of the program.
    let program = subsetter::subset(face.data, 0, &remapper).unwrap_or_default();
    let mut coder = Coder::smallest();
    let em = f32::from(face.units_per_em);
    let width = |glyph| f32::from(face.glyph_advance(glyph)) * EM / em;
    Embedded {
        length: program.len(),
        program: coder.stream(&program),
        widths: remapper.remapped_gids().map(width).collect(),
        to_unicode: coder.stream(&character_map(&meanings)),
        latin,
        others,
        replacement,
    }
}

/// What lets text be selected and searched.
fn character_map(meanings: &BTreeMap<u16, char>) -> Vec<u8> {
    let system = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
    let mut map = UnicodeCmap::<u16>::new(Name(b"ToCharacters"), system);
    for (&glyph, &c) in meanings {
        map.pair(glyph, c);
    }
    map.finish().to_vec()
}
