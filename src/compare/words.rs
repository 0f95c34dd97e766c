//! Numbers of a comparison as people read them.

use super::opening::Shape;
use crate::geom::Point;
use crate::units::{INCH, number};

/// How one comparison writes its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Words {
    /// Inches instead of millimetres.
    pub(super) inches: bool,
}

impl Words {
    /// A bare length: `40`, `3.25`, or `0.128` inches. What would round to nothing keeps digits.
    pub(super) fn size(self, mm: f64) -> String {
        let (value, decimals) = if self.inches { (mm / INCH, 3) } else { (mm, 2) };
        let text = number(value, decimals);
        if text == "0" && mm != 0.0 { number(value, 6) } else { text }
    }

    /// A length with its unit: `3.2 mm`.
    pub(super) fn length(self, mm: f64) -> String {
        format!("{} {}", self.size(mm), if self.inches { "in" } else { "mm" })
    }

    /// Two sizes: `2300 × 210`.
    pub(super) fn two(self, [a, b]: [f64; 2]) -> String {
        format!("{} × {}", self.size(a), self.size(b))
    }

    /// A place in the blank: `from X 1036, Y 0`.
    pub(super) fn place<F>(self, at: Point<F>) -> String {
        format!("from X {}, Y {}", self.size(at.x), self.size(at.y))
    }

    /// A shift along the blank's axes: `X +3.2`, `X +3.2, Y -1`.
    pub(super) fn shift<F>(self, by: Point<F>) -> String {
        let part = |axis: &str, mm: f64| {
            let text = self.size(mm);
            let sign = if mm > 0.0 { "+" } else { "" };
            (text != "0").then(|| format!("{axis} {sign}{text}"))
        };
        [part("X", by.x), part("Y", by.y)].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// The range of some lengths with the unit: `3.2 mm`, `0.4 to 3.2 mm`.
    pub(super) fn range(self, lengths: &[f64]) -> String {
        let low = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        let high = lengths.iter().copied().fold(0.0, f64::max);
        let (from, to) = (self.size(low), self.length(high));
        if to.starts_with(&format!("{from} ")) { to } else { format!("{from} to {to}") }
    }

    /// A hole's size: `⌀5.8`, `slot 9 × 18`.
    pub(super) fn shape(self, shape: &Shape) -> String {
        match shape {
            Shape::Round(d) => format!("⌀{}", self.size(*d)),
            Shape::Slot(w, l, _) => format!("slot {}", self.two([*w, *l])),
            Shape::Rectangle(w, l, _) => format!("rectangle {}", self.two([*w, *l])),
            Shape::Free(w, h) => format!("cut-out {}", self.two([*w, *h])),
        }
    }
}

/// `1 hole`, `3 holes`.
pub(super) fn counted(count: usize, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}

/// A name of the template as it reads in a sentence: `inner end left`.
pub(super) fn spoken(name: &str) -> String {
    name.replace('_', " ")
}
