//! Sizes, times and cautions as the papers put them.

use super::super::figure::{Figures, fixed};
use super::Subject;
use crate::sheets::{Board, CutSheet, Group};
use crate::units::{INCH, POUND};

/// A sheet's extents: `3000 × 1500`, or `120.0 × 60.0` in inches.
pub(super) fn size(figures: Figures, [x, y]: [f64; 2]) -> String {
    let side = |mm: f64| {
        if figures.inches { fixed(mm / INCH, 1) } else { crate::units::number(mm, 1) }
    };
    format!("{} × {}", side(x), side(y))
}

/// A sheet of the rack by its size, in inches too where inches are read; remnants by name.
pub(super) fn stock(figures: Figures, board: &Board) -> String {
    let metric = Figures { inches: false };
    let own = if figures.inches {
        format!("{} in ({} mm)", size(figures, board.size), size(metric, board.size))
    } else {
        format!("{} mm", size(metric, board.size))
    };
    if board.remnant { format!("{}, {own}", board.name) } else { own }
}

/// The same for a narrow column: the size as it is read, or a remnant's name.
pub(super) fn stock_short(figures: Figures, board: &Board) -> String {
    if board.remnant { board.name.clone() } else { size(figures, board.size) }
}

/// Seconds as minutes and seconds: `12 min 30 s`; from an hour on hours and minutes.
pub(super) fn time(seconds: f64) -> String {
    let whole = seconds.round().max(0.0) as u64;
    match (whole / 3600, whole / 60 % 60, whole % 60) {
        (0, 0, s) => format!("{s} s"),
        (0, m, s) => format!("{m} min {s} s"),
        (h, m, _) => format!("{h} h {m} min"),
    }
}

/// A length of cut: metres with one decimal, or feet.
pub(super) fn run(figures: Figures, mm: f64) -> String {
    if figures.inches {
        format!("{} ft", fixed(mm / INCH / 12.0, 1))
    } else {
        format!("{} m", fixed(mm / 1000.0, 1))
    }
}

/// A mass to be lifted, to 0.1 kg, in pounds too where inches are read.
pub(super) fn kilograms(kg: f64, inches: bool) -> String {
    let kilograms = format!("{} kg", crate::units::number(kg, 1));
    if inches { format!("{} lb ({kilograms})", fixed(kg / POUND, 0)) } else { kilograms }
}

/// A share in percent.
pub(super) fn percent(share: f64) -> String {
    format!("{} %", fixed(share * 100.0, 1))
}

/// Thickness as it is bought.
pub(super) fn thickness(figures: Figures, group: &Group) -> String {
    let size = format!("{} {}", figures.small(group.thickness), figures.unit());
    if group.gauge.is_empty() { size } else { format!("{} ({size})", group.gauge) }
}

/// The share of a sheet that becomes parts.
pub(super) fn used(sheet: &CutSheet) -> f64 {
    sheet.figures.area / (sheet.board.size[0] * sheet.board.size[1])
}

/// How a sheet of this mass is to be lifted.
pub(super) fn lifting(subject: &Subject, sheet: &CutSheet) -> String {
    let (kg, lift) = (sheet.board.mass, subject.laid.lift);
    let told = kilograms(kg, subject.kit.inches);
    if kg <= lift {
        return format!("Sheet: {told}. Sharp edges: gloves.");
    }
    let people = (kg / lift).ceil();
    let limit = kilograms(lift, subject.kit.inches);
    let hands = if people <= 4.0 {
        format!("lift it with a vacuum lifter or a crane, or with {people} people")
    } else {
        "lift it with a vacuum lifter or a crane, not by hand".to_owned()
    };
    format!(
        "Caution: the sheet weighs {told}; one person lifts {limit} at most (ISO 11228-1, reference mass): {hands}. Sharp edges: gloves. Nobody under the load."
    )
}
