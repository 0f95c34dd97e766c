//! Single-stroke lettering for etching: plain upright capitals of our own drawing, in the manner of
//! ISO 3098, so that the laser follows one line for each stroke.

use crate::geom::Point;

/// A character, its width and its strokes on a grid of 12 units to the capital's height. A stroke
/// is a run of points, one hexadecimal digit for x and one for y; one that ends where it began is
/// closed.
type Glyph = (char, f64, &'static [&'static str]);

/// Height of the capitals on the grid.
const GRID: f64 = 12.0;

/// Space between two characters on the grid: a quarter of the height, near ISO 3098's fifth but
/// clear for an etched line of some width.
const GAP: f64 = 3.0;

/// Every character that can be etched.
#[rustfmt::skip]
const GLYPHS: &[Glyph] = &[
    (' ', 5.0, &[]),
    ('0', 7.0, &["30406173796B4C3C1B09031130"]),
    ('1', 3.0, &["093C30"]),
    ('2', 7.0, &["0A1B3C4C6B7A78660070"]),
    ('3', 7.0, &["0A1B3C4C6B7A78674727", "476674736140301102"]),
    ('4', 7.0, &["505C0373"]),
    ('5', 7.0, &["6C1C0728486775736140301102"]),
    ('6', 7.0, &["6B4C3C1B09031130406173746647371604"]),
    ('7', 7.0, &["0C7C20"]),
    ('8', 7.0, &["37160403113040617374664768797A6B4C3C1B0A09183747"]),
    ('9', 7.0, &["1130406173796B4C3C1B09081635456678"]),
    ('A', 8.0, &["004C80", "1373"]),
    ('B', 7.0, &["000C4C6B7A79684707", "47667473614000"]),
    ('C', 8.0, &["8A7B5C3C1B09031130507182"]),
    ('D', 8.0, &["000C5C7B8983715000"]),
    ('E', 6.0, &["60000C6C", "0656"]),
    ('F', 6.0, &["000C6C", "0656"]),
    ('G', 8.0, &["8A7B5C3C1B090311305071838656"]),
    ('H', 8.0, &["000C", "808C", "0686"]),
    ('I', 0.0, &["000C"]),
    ('J', 5.0, &["5C534130201102"]),
    ('K', 7.0, &["000C", "7C05", "2770"]),
    ('L', 6.0, &["0C0060"]),
    ('M', 8.0, &["000C448C80"]),
    ('N', 8.0, &["000C808C"]),
    ('O', 9.0, &["4050718294988A7B5C4C2B1A0804122140"]),
    ('P', 7.0, &["000C4C6B7978664505"]),
    ('Q', 9.0, &["4050718294988A7B5C4C2B1A0804122140", "6390"]),
    ('R', 7.0, &["000C4C6B7978664505", "4570"]),
    ('S', 7.0, &["7A6B4C3C1B0A08176574726140301102"]),
    ('T', 8.0, &["0C8C", "4C40"]),
    ('U', 8.0, &["0C0311305071838C"]),
    ('V', 8.0, &["0C408C"]),
    ('W', 12.0, &["0C306C90CC"]),
    ('X', 8.0, &["008C", "0C80"]),
    ('Y', 8.0, &["0C468C", "4640"]),
    ('Z', 8.0, &["0C8C0080"]),
    ('-', 5.0, &["0656"]),
    ('.', 1.0, &["0010110100"]),
    (',', 2.0, &["1112222100"]),
    (':', 1.0, &["0212130302", "0717180807"]),
    ('/', 6.0, &["006C"]),
    ('+', 6.0, &["0666", "3339"]),
    ('=', 6.0, &["0464", "0868"]),
    ('(', 3.0, &["3C1A08041230"]),
    (')', 3.0, &["0C2A38342200"]),
    ('\u{d7}', 6.0, &["0369", "0963"]),
    ('\u{b0}', 4.0, &["1838494B3C1C0B0918"]),
    ('\u{2300}', 9.0, &["4050718294988A7B5C4C2B1A0804122140", "009C"]),
    ('\u{2191}', 6.0, &["303C", "093C69"]),
    ('\u{2193}', 6.0, &["3C30", "033063"]),
];

/// Stands for a character that has no glyph: an empty box, so that the lack is seen.
const MISSING: Glyph = ('\u{25a1}', 7.0, &["00707C0C00"]);

/// The strokes of a text whose first character starts at the origin of its base line, capitals
/// `height` mm high. Small letters are etched as capitals; `^` is an upward arrow, and a `v` or `x`
/// that stands among no letters is a downward arrow or a multiplication sign.
pub fn lettering<F>(text: &str, height: f64) -> Vec<Vec<Point<F>>> {
    let scale = height / GRID;
    let mut strokes = Vec::new();
    let mut start = 0.0;
    for (_, width, runs) in glyphs(text) {
        strokes.extend(runs.iter().map(|run| stroke(run, start, scale)));
        start += width + GAP;
    }
    strokes
}

/// Length of a text along its base line, mm.
pub fn lettering_width(text: &str, height: f64) -> f64 {
    let (count, units) = glyphs(text).fold((0_u32, 0.0), |(n, sum), glyph| (n + 1, sum + glyph.1));
    (units + GAP * f64::from(count.saturating_sub(1))) * height / GRID
}

/// Whether every character of a text has a glyph.
pub fn can_letter(text: &str) -> bool {
    glyphs(text).all(|glyph| glyph.0 != MISSING.0)
}

fn glyphs(text: &str) -> impl Iterator<Item = Glyph> {
    plain(text)
        .into_iter()
        .map(|c| GLYPHS.iter().find(|glyph| glyph.0 == c).copied().unwrap_or(MISSING))
}

/// The text in the characters of the table.
fn plain(text: &str) -> Vec<char> {
    let letters: Vec<char> = text.chars().collect();
    let is_letter = |i: Option<usize>| {
        i.and_then(|i| letters.get(i)).is_some_and(|c| c.is_alphabetic() && *c != 'x')
    };
    let alone = |i: usize| !is_letter(i.checked_sub(1)) && !is_letter(i.checked_add(1));
    let mut plain = Vec::with_capacity(letters.len());
    for (i, &c) in letters.iter().enumerate() {
        match c {
            'v' if alone(i) => plain.push('\u{2193}'),
            'x' if alone(i) => plain.push('\u{d7}'),
            '^' => plain.push('\u{2191}'),
            '\u{2012}'..='\u{2015}' | '\u{2212}' => plain.push('-'),
            '\u{d8}' | '\u{f8}' => plain.push('\u{2300}'),
            _ => plain.extend(c.to_uppercase()),
        }
    }
    plain
}

fn stroke<F>(run: &str, start: f64, scale: f64) -> Vec<Point<F>> {
    let digits: Vec<f64> = run.chars().filter_map(|c| c.to_digit(16)).map(f64::from).collect();
    digits.chunks_exact(2).map(|at| Point::new((start + at[0]) * scale, at[1] * scale)).collect()
}
