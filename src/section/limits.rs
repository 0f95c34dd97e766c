//! Widths that the rules cover: EN 1993-1-3 table 5.1 (from memory) and AISI's limits as US Army TI
//! 809-07 prints them. Beyond them the rules ask for tests.

use super::piece::Piece;
use super::plate::Standard;
use super::shape::Section;

/// Greatest width over thickness of a flat with a free edge.
const FREE: [f64; 2] = [50.0, 60.0];
/// Of a flat stiffened by a single lip at one side.
const LIPPED: f64 = 60.0;
/// Of a flat held at both sides.
const HELD: f64 = 500.0;

/// A sentence for each flat that is wider than the rule covers.
pub(super) fn outside(section: &Section, standard: Standard) -> Vec<String> {
    let named = section.pieces.iter().zip(&section.names);
    let flats: Vec<(f64, &str)> = named
        .filter(|(piece, _)| matches!(piece, Piece::Flat { .. }))
        .map(|(piece, name)| (piece.length() / section.thickness, name.as_str()))
        .collect();
    let last = flats.len().saturating_sub(1);
    let [low, high] = section.held;
    let limit = |i: usize| {
        let free = (i == 0 && !low) || (i == last && !high);
        let lipped = (i == 1 && !low) || (i + 1 == last && !high);
        match (free, lipped, standard) {
            (true, _, Standard::En) => FREE[0],
            (true, _, Standard::Aisi) => FREE[1],
            (false, true, _) => LIPPED,
            (false, false, _) => HELD,
        }
    };
    let wide = flats.iter().enumerate().filter(|(i, (ratio, _))| limit(*i) < *ratio);
    let sentence = |(i, (ratio, name)): (usize, &(f64, &str))| {
        let most = limit(i);
        format!(
            "{name} is {ratio:.0} times as wide as thick; the rule covers {most:.0}, beyond asks for tests"
        )
    };
    wide.map(sentence).collect()
}
