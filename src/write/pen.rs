//! What the pens of a sheet are on paper: widths and dashes of ISO 128-2.

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

/// Lengths of marks and gaps by turns, mm; none for a continuous line. In line widths, by ISO
/// 128-2: dash 12, long dash 24, gap 3, dot 0.5.
pub(crate) fn dashes(pen: Pen) -> Vec<f64> {
    const DASH: f64 = 12.0;
    const LONG: f64 = 24.0;
    const GAP: f64 = 3.0;
    const DOT: f64 = 0.5;
    let pattern: &[f64] = match pen {
        Pen::Hidden => &[DASH, GAP],
        Pen::Centre => &[LONG, GAP, DOT, GAP],
        Pen::Adjacent => &[LONG, GAP, DOT, GAP, DOT, GAP],
        Pen::Outline | Pen::Narrow | Pen::Frame | Pen::Fine => &[],
    };
    pattern.iter().map(|length| length * width(pen)).collect()
}

/// Share of white of a fill of `percent` black, 0 to 1.
pub(crate) fn whiteness(percent: u8) -> f64 {
    1.0 - f64::from(percent.min(100)) / 100.0
}
