//! What became of a kit: two revisions, each as its `kit.json` has it, held against each other.
//!
//! Parts are matched by name, then by likeness; holes by what they join and the nearest place.
//! A part counts as unchanged only when its blank, holes, bends, etched texts and sheet agree to
//! [`SAME`], and its drawing says the same. What lies on the shelf is judged by what a shop can do:
//! take sheet away, never add it.

mod align;
mod bends;
mod faces;
mod holes;
mod likeness;
mod made;
mod mirror;
mod model;
mod opening;
mod pair;
mod piece;
mod region;
mod shelf;
mod stroke;
mod sunk;
mod text;
mod values;
mod words;

use crate::reading::KitRow;

pub use model::{
    Comparison, Drawn, FastenerChange, Head, Judgement, Named, OnShelf, Overlay, PartChange, State,
    ValueChange, Verdict,
};
pub use text::as_text;

/// Greatest difference, mm or degrees, between things that count as the same: far below what a
/// laser resolves, far above the rounding of doubles.
pub const SAME: f64 = 1e-6;

/// Holds two revisions against each other, the older one first.
pub fn compare(old: &KitRow, new: &KitRow) -> Comparison {
    let words = words::Words { inches: new.units == "in" };
    let parts = likeness::pairs(&old.parts, &new.parts);
    Comparison {
        heads: [old, new].map(model::Head::of),
        inches: words.inches,
        values: values::changes(old, new),
        parts: parts.into_iter().map(|it| pair::part((old, new), it, words)).collect(),
        fasteners: values::fasteners(old, new),
    }
}
