//! What the pens of a sheet are on paper: widths and dashes of ISO 128-2.

use super::number::push_fixed;
use crate::draw::Pen;

/// Width of a pen's line, mm.
pub(crate) fn width(pen: Pen) -> f64 {
    match pen {
        Pen::Frame => 0.7,
        Pen::Outline => 0.5,
        Pen::Narrow | Pen::Hidden | Pen::Centre | Pen::Adjacent => 0.25,
        Pen::Fine => 0.18,
    }
}

/// Whether a pen's line is broken.
pub(crate) fn is_dashed(pen: Pen) -> bool {
    !marks(pen).is_empty()
}

/// Writes the lengths of a broken line's marks and gaps by turns, mm, with blanks between them;
/// nothing for a continuous line.
pub(crate) fn push_dashes(text: &mut Vec<u8>, pen: Pen, decimals: usize) {
    for (i, length) in marks(pen).iter().enumerate() {
        if 0 < i {
            text.push(b' ');
        }
        push_fixed(text, length * width(pen), decimals);
    }
}

/// Lengths of marks and gaps by turns in line widths, by ISO 128-2: dash 12, long dash 24, gap 3,
/// dot 0.5.
fn marks(pen: Pen) -> &'static [f64] {
    const DASH: f64 = 12.0;
    const LONG: f64 = 24.0;
    const GAP: f64 = 3.0;
    const DOT: f64 = 0.5;
    match pen {
        Pen::Hidden => &[DASH, GAP],
        Pen::Centre => &[LONG, GAP, DOT, GAP],
        Pen::Adjacent => &[LONG, GAP, DOT, GAP, DOT, GAP],
        Pen::Outline | Pen::Narrow | Pen::Frame | Pen::Fine => &[],
    }
}

/// Share of white of a fill of `percent` black, 0 to 1.
pub(crate) fn whiteness(percent: u8) -> f64 {
    1.0 - f64::from(percent.min(100)) / 100.0
}
