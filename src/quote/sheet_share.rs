//! How much sheet each part is charged with.
//!
//! A sheet is cut for the kit whole, so the kit pays all of it but the remnant that goes back into
//! the rack. The parts on it share that area as their blanks share the cut area: skeleton, margins
//! and gaps fall on all alike, whichever part they lie beside.

use std::fmt::Write;

use super::work_out::{Subject, pieces};
use crate::flat::Blank;
use crate::kit::Part;
use crate::sheets::CutSheet;
use crate::units::number;

/// The sheet that all pieces of one part are charged with.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Share {
    /// Area, mm2.
    pub(super) area: f64,
    /// How it was found, in words.
    pub(super) basis: String,
}

/// The shares in the order of the kit's parts.
pub(super) fn shares(subject: &Subject) -> Vec<Share> {
    let Some((wanted, laid)) = subject.laid else { return rectangles(subject) };
    let mut shares = vec![Share::default(); subject.kit.parts.len()];
    for sheet in &laid.sheets {
        let charged = charged(sheet);
        for (index, count) in sheet.counts() {
            let part = wanted[index].blank.area * f64::from(count) / sheet.figures.area;
            let share = &mut shares[index];
            share.area += charged * part;
            let told = number(100.0 * part, 2);
            let join = if share.basis.is_empty() { "" } else { "; " };
            let copies =
                if sheet.copies > 1 { format!("{} × ", sheet.copies) } else { String::new() };
            let rest = if sheet.remnant.is_some() { " less its remnant" } else { "" };
            // Writing to a string cannot fail.
            let _ = write!(share.basis, "{join}{told} % of {copies}{}{rest}", sheet.name());
        }
    }
    shares
}

/// What the kit pays of a sheet in all its copies, mm2: all of it but the remnant.
fn charged(sheet: &CutSheet) -> f64 {
    let [x, y] = sheet.board.size;
    let kept = sheet.remnant.map_or(0.0, |rest| rest.width() * rest.height());
    (x * y - kept) * f64::from(sheet.copies)
}

/// Where the kit has no sheets of its own: the rectangle around each blank and the gap to its
/// neighbour.
fn rectangles(subject: &Subject) -> Vec<Share> {
    let gap = subject.shop.gaps.part;
    let parts = subject.kit.parts.iter().zip(subject.blanks);
    let share = |(part, blank): (&Part, &Blank)| Share {
        area: (blank.width + gap) * (blank.height + gap) * pieces(part),
        basis: format!("rectangle around the blank and a gap of {} mm", number(gap, 2)),
    };
    parts.map(share).collect()
}
