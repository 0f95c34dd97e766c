//! What an amendment does, in words.

use crate::kit::{Hole, HoleShape};
use crate::spec::{Amendments, HoleSize};
use crate::units::{INCH, number};

/// How a spec's amendments read: millimetres or inches.
#[derive(Debug, Clone, Copy)]
pub(super) struct Words {
    inches: bool,
}

impl Words {
    pub(super) fn of(amendments: &Amendments) -> Self {
        Self { inches: amendments.inches }
    }

    /// A bare length.
    pub(super) fn size(self, mm: f64) -> String {
        if self.inches { number(mm / INCH, 3) } else { number(mm, 2) }
    }

    fn unit(self) -> &'static str {
        if self.inches { "in" } else { "mm" }
    }

    /// A place or a shift: `20, 1450 mm`.
    pub(super) fn pair(self, [x, y]: [f64; 2]) -> String {
        format!("{}, {} {}", self.size(x), self.size(y), self.unit())
    }

    /// `⌀22 mm`, `slot 9 × 18 mm`.
    pub(super) fn shape(self, shape: &HoleShape) -> String {
        let sized = match shape {
            HoleShape::Round(d) => format!("⌀{}", self.size(*d)),
            HoleShape::Slot(w, l, _) => format!("slot {} × {}", self.size(*w), self.size(*l)),
            HoleShape::Rectangle(w, l, _) => {
                format!("rectangle {} × {}", self.size(*w), self.size(*l))
            }
            HoleShape::Cutout(_) => return "cut-out".to_owned(),
        };
        format!("{sized} {}", self.unit())
    }

    /// Size and purpose of a hole: `⌀5.8 mm (rivet-4.8)`.
    pub(super) fn hole(self, hole: &Hole) -> String {
        format!("{} ({})", self.shape(&hole.shape), hole.purpose)
    }

    /// `notch 60 × 25 mm, right edge of return, 1420 to 1480 mm`.
    pub(super) fn notch(self, on: &str, [from, to]: [f64; 2], depth: f64) -> String {
        let (face, edge) = on.split_once('.').unwrap_or((on, ""));
        format!(
            "notch {} × {} {unit}, {edge} edge of {}, {} to {} {unit}",
            self.size(to - from),
            self.size(depth),
            face.replace('_', " "),
            self.size(from),
            self.size(to),
            unit = self.unit()
        )
    }
}

/// A size of the spec as a shape in the frame in which the template draws the face.
pub(super) fn shape(size: HoleSize) -> HoleShape {
    match size {
        HoleSize::Round(d) => HoleShape::Round(d),
        HoleSize::Slot(w, l, direction) => HoleShape::Slot(w, l, direction),
        HoleSize::Rectangle(w, l, direction) => HoleShape::Rectangle(w, l, direction),
    }
}
