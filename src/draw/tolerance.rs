//! General tolerances of ISO 2768-1 for lengths, as printed above the title block.

use super::canvas::{Canvas, Room, level, strong};
use super::figure::{Figures, trimmed};
use super::{Align, Pen};
use crate::geom::Point;

/// Upper ends of the ranges of nominal sizes, mm; the first range starts at 0.5.
const RANGES: [f64; 8] = [3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0];

/// Permissible deviations for the ranges, mm, by class (ISO 2768-1 table 1); class v has none below
/// 3 mm, class f none above 2000.
const FINE: [f64; 8] = [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.0];
const MEDIUM: [f64; 8] = [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0];
const COARSE: [f64; 8] = [0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0];
const VERY_COARSE: [f64; 8] = [0.0, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0];

/// Height of the strip, mm.
pub(super) const STRIP: f64 = 9.0;

/// The deviations of the class at the end of a statement such as `ISO 2768-m`; none for another
/// statement.
fn class(statement: &str) -> Option<&'static [f64; 8]> {
    if !statement.contains("2768") {
        return None;
    }
    match statement.chars().next_back()? {
        'f' => Some(&FINE),
        'm' => Some(&MEDIUM),
        'c' => Some(&COARSE),
        'v' => Some(&VERY_COARSE),
        _ => None,
    }
}

/// One range and its deviation, as printed.
fn entries(statement: &str, largest: f64, figures: Figures) -> Vec<(String, String)> {
    let Some(deviations) = class(statement) else { return Vec::new() };
    let bounds = std::iter::once(0.5).chain(RANGES);
    let shown = |mm: f64| {
        if figures.inches { trimmed(mm / crate::units::INCH, 2) } else { trimmed(mm, 1) }
    };
    bounds
        .zip(RANGES)
        .zip(deviations)
        .filter(|((low, _), deviation)| *low < largest && **deviation > 0.0)
        .map(|((low, high), deviation)| {
            (format!("{}–{}", shown(low), shown(high)), format!("±{}", figures.small(*deviation)))
        })
        .collect()
}

/// Draws the strip of ranges up to the largest size used; nothing for an unknown statement.
pub(super) fn strip(canvas: &mut Canvas, area: &Room, statement: &str, size: (f64, Figures)) {
    let (largest, figures) = size;
    let entries = entries(statement, largest, figures);
    if entries.is_empty() {
        return;
    }
    canvas.rectangle(area, Pen::Narrow);
    let head = 28.0;
    let (x, y) = (area.low.x, area.low.y);
    canvas.text(strong(Point::new(x + 2.0, y + 5.4), 1.8, Align::Left, statement));
    let unit = format!("lengths, {}", figures.unit());
    canvas.text(level(Point::new(x + 2.0, y + 1.6), 1.8, Align::Left, unit));
    let width = (area.width() - head) / entries.len() as f64;
    for (i, (range, deviation)) in entries.into_iter().enumerate() {
        let middle = x + head + width * (i as f64 + 0.5);
        canvas.text(level(Point::new(middle, y + 5.4), 1.8, Align::Middle, range));
        canvas.text(level(Point::new(middle, y + 1.4), 2.5, Align::Middle, deviation));
    }
}
