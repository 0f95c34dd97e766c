//! How wide text runs: the advance widths of the typeface that all drawings are set in.
//!
//! The typeface is DejaVu Sans, regular and bold. The PDF writer embeds it, so the widths are exact
//! there; the SVG writer asks for it first and states each text's length.

use std::sync::OnceLock;

use ttf_parser::{Face, GlyphId};

/// Width of a line of text in mm, for a height of capitals in mm. Characters that the typeface
/// lacks count as wide as the sign that replaces them.
pub fn text_width(text: &str, height: f64, bold: bool) -> f64 {
    let face = Typeface::of(bold);
    let units: u32 = text.chars().map(|c| face.advance(c)).sum();
    f64::from(units) * height / f64::from(face.capital_height)
}

/// One weight of the typeface with what layout and embedding need of it; lengths in font units.
pub struct Typeface {
    /// The font's file.
    pub data: &'static [u8],
    /// Height of a flat capital above the base line.
    pub capital_height: u16,
    /// Units of the square in which the font is drawn: the font size in these units.
    pub units_per_em: u16,
    face: Option<Face<'static>>,
    latin: [u16; LATIN],
}

/// How many of the first characters have their widths in a table.
const LATIN: usize = 0x100;

/// Stands for every character that the typeface lacks.
pub const REPLACEMENT: char = '\u{fffd}';

impl Typeface {
    /// The regular or the bold weight; read once per process.
    pub fn of(bold: bool) -> &'static Self {
        static REGULAR: OnceLock<Typeface> = OnceLock::new();
        static BOLD: OnceLock<Typeface> = OnceLock::new();
        if bold {
            BOLD.get_or_init(|| Self::read(dejavu::sans::bold()))
        } else {
            REGULAR.get_or_init(|| Self::read(dejavu::sans::regular()))
        }
    }

    /// Size at which the font is set so that its capitals are `height` mm high; mm.
    pub fn size_for(&self, height: f64) -> f64 {
        height * f64::from(self.units_per_em) / f64::from(self.capital_height)
    }

    /// The glyph of a character; the replacement's when the typeface lacks it.
    pub fn glyph(&self, c: char) -> u16 {
        let find = |c| self.face.as_ref().and_then(|face| face.glyph_index(c));
        find(c).or_else(|| find(REPLACEMENT)).map_or(0, |glyph| glyph.0)
    }

    /// Whether the typeface can show a character.
    pub fn has(&self, c: char) -> bool {
        self.face.as_ref().is_some_and(|face| face.glyph_index(c).is_some())
    }

    /// Advance width of a character.
    pub fn advance(&self, c: char) -> u32 {
        let table = self.latin.get(c as usize).copied();
        u32::from(table.unwrap_or_else(|| self.glyph_advance(self.glyph(c))))
    }

    /// Advance width of a glyph.
    pub fn glyph_advance(&self, glyph: u16) -> u16 {
        self.face.as_ref().and_then(|face| face.glyph_hor_advance(GlyphId(glyph))).unwrap_or(0)
    }

    /// The font's parsed tables; none if the embedded file could not be read.
    pub fn tables(&self) -> Option<&Face<'static>> {
        self.face.as_ref()
    }

    fn read(data: &'static [u8]) -> Self {
        let face = Face::parse(data, 0).ok();
        let units_per_em = face.as_ref().map_or(2048, Face::units_per_em);
        let capital_height = face.as_ref().and_then(capital_height).unwrap_or(1493);
        let mut typeface = Self { data, capital_height, units_per_em, face, latin: [0; LATIN] };
        for (code, width) in (0_u8..=255).zip(0..LATIN) {
            typeface.latin[width] = typeface.glyph_advance(typeface.glyph(char::from(code)));
        }
        typeface
    }
}

/// The top of the letter H, which is flat; the font's own table states none.
fn capital_height(face: &Face<'_>) -> Option<u16> {
    let glyph = face.glyph_index('H')?;
    face.glyph_bounding_box(glyph).and_then(|bounds| u16::try_from(bounds.y_max).ok())
}
