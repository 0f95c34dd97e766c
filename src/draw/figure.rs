//! Numbers as people read them on drawings: millimetres with one decimal, or inches.

use crate::kit::HoleShape;
use crate::units::INCH;

/// One square foot in square metres.
const SQUARE_FOOT: f64 = 144.0 * INCH * INCH * 1e-6;

/// How one drawing set writes its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Figures {
    /// Inches instead of millimetres.
    pub(super) inches: bool,
}

impl Figures {
    /// A length for a dimension: `2750.0`, or `108-1/4 [108.27]`: the nearest sixteenth of an inch
    /// beside the decimal that governs.
    pub(super) fn length(self, mm: f64) -> String {
        if self.inches {
            format!("{} [{}]", sixteenths(mm / INCH), fixed(mm / INCH, 2))
        } else {
            fixed(mm, 1)
        }
    }

    /// A coordinate in a table: `2750.0` or `108.268`.
    pub(super) fn place(self, mm: f64) -> String {
        if self.inches { fixed(mm / INCH, 3) } else { fixed(mm, 1) }
    }

    /// A small size such as a diameter, a radius or a thickness: `4.9`, `1.25` or `0.193`.
    pub(super) fn small(self, mm: f64) -> String {
        if self.inches { fixed(mm / INCH, 3) } else { trimmed(mm, 2) }
    }

    /// The drill to take: `⌀4.4`, or `⌀0.172 in (4.37 mm)`: drills are sold by either size.
    pub(super) fn drill(self, mm: f64) -> String {
        let size = format!("⌀{}", self.small(mm));
        if self.inches { format!("{size} in ({} mm)", trimmed(mm, 2)) } else { size }
    }

    /// An area of sheet: `5.35 m²`, or `57.6 ft² (5.35 m²)`.
    pub(super) fn area(self, m2: f64) -> String {
        let metric = format!("{} m²", fixed(m2, 2));
        if self.inches { format!("{} ft² ({metric})", fixed(m2 / SQUARE_FOOT, 1)) } else { metric }
    }

    /// A volume of foam: `84 l`, or `36 board ft (84 l)`: square feet, an inch deep.
    pub(super) fn volume(self, litres: f64) -> String {
        let metric = format!("{} l", fixed(litres, if litres < 10.0 { 1 } else { 0 }));
        let feet = litres / (144.0 * INCH * INCH * INCH * 1e-6);
        if self.inches { format!("{} board ft ({metric})", fixed(feet, 0)) } else { metric }
    }

    /// A worked-out length that the brake operator sets: `4.163` or `0.1639`.
    pub(super) fn fine(self, mm: f64) -> String {
        if self.inches { fixed(mm / INCH, 4) } else { fixed(mm, 3) }
    }

    /// The unit's sign.
    pub(super) fn unit(self) -> &'static str {
        if self.inches { "in" } else { "mm" }
    }

    /// A hole's size: `⌀4.9`, `4 × 6.6` slot, and so on.
    pub(super) fn hole(self, shape: &HoleShape) -> String {
        match shape {
            HoleShape::Round(d) => format!("⌀{}", self.small(*d)),
            HoleShape::Slot(w, l, _) => format!("slot {} × {}", self.small(*w), self.small(*l)),
            HoleShape::Rectangle(w, l, _) => format!("{} × {}", self.small(*w), self.small(*l)),
            HoleShape::Cutout(path) => {
                let bounds = path.bounds();
                format!("cut-out {} × {}", self.small(bounds.width()), self.small(bounds.height()))
            }
        }
    }
}

/// Degrees without needless decimals: `90°`, `82.5°`.
pub(super) fn degrees(angle: f64) -> String {
    format!("{}°", trimmed(angle, 2))
}

/// A number with so many decimals, never "-0".
pub(super) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// A number with at most so many decimals and no trailing zeros.
pub(super) fn trimmed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Inches to the nearest sixteenth: `108-1/4`, `3/8`, `7`.
pub(super) fn sixteenths(inches: f64) -> String {
    let total = (inches.abs() * 16.0).round() as u64;
    let (whole, mut part, mut of) = (total / 16, total % 16, 16);
    while part != 0 && part.is_multiple_of(2) {
        (part, of) = (part / 2, of / 2);
    }
    let sign = if inches < 0.0 && total != 0 { "-" } else { "" };
    match (whole, part) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, part) => format!("{sign}{part}/{of}"),
        (whole, part) => format!("{sign}{whole}-{part}/{of}"),
    }
}

/// A name of the template as it reads on paper: `inner end left`.
pub(super) fn spoken(name: &str) -> String {
    name.replace('_', " ")
}
