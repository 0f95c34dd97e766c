//! Countersinks: what changed about one, and whether an old one can become the new one.

use super::SAME;
use super::opening::{Opening, Shape};
use super::words::Words;
use crate::reading::SunkRow;
use crate::units;

/// Whether two holes are sunk alike.
pub(super) fn same(a: Option<&SunkRow>, b: Option<&SunkRow>) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    match (a, b) {
        (Some(a), Some(b)) => {
            near(a.diameter, b.diameter) && near(a.angle, b.angle) && a.side == b.side
        }
        (None, None) => true,
        _ => false,
    }
}

/// `countersink ⌀9.5 × 90° added`.
pub(super) fn change(a: &Opening<'_>, b: &Opening<'_>, words: Words) -> Option<String> {
    if same(a.sunk, b.sunk) {
        return None;
    }
    Some(match (a.sunk, b.sunk) {
        (Some(a), Some(b)) => format!("{} now {}", named(a, words), size(b, words)),
        (Some(a), None) => format!("{} gone", named(a, words)),
        (_, b) => format!("{} added", b.map_or_else(String::new, |b| named(b, words))),
    })
}

/// `countersink ⌀9.5 × 90° from the upper side`.
pub(super) fn named(sunk: &SunkRow, words: Words) -> String {
    format!("countersink {}", size(sunk, words))
}

fn size(sunk: &SunkRow, words: Words) -> String {
    let SunkRow { diameter, angle, side } = sunk;
    format!("⌀{} × {}° from the {side} side", words.size(*diameter), units::number(*angle, 2))
}

/// Whether sinking anew takes away all that an old countersink of the same place took.
pub(super) fn covers(old: &Opening<'_>, new: &Opening<'_>, thickness: f64) -> bool {
    let Some(was) = old.sunk else { return true };
    let Some(is) = new.sunk.filter(|is| is.side == was.side) else { return false };
    let [before, after] = [(was, old), (is, new)].map(|(sunk, it)| Cone::of(sunk, it));
    // Both are straight between these depths.
    let depths = [0.0, before.depth(), after.depth(), thickness];
    depths
        .into_iter()
        .filter(|depth| *depth <= thickness)
        .all(|depth| before.radius(depth) <= after.radius(depth) + SAME)
}

/// A countersunk hole as a body of revolution, by depth below the sunk face.
struct Cone {
    mouth: f64,
    hole: f64,
    /// How much the radius shrinks in a millimetre of depth.
    fall: f64,
}

impl Cone {
    fn of(sunk: &SunkRow, it: &Opening<'_>) -> Self {
        let hole = match it.shape {
            Shape::Round(d) => d / 2.0,
            Shape::Slot(w, ..) | Shape::Rectangle(w, ..) | Shape::Free(w, _) => w / 2.0,
        };
        Self { mouth: sunk.diameter / 2.0, hole, fall: units::tan_deg(sunk.angle / 2.0) }
    }

    fn depth(&self) -> f64 {
        if self.fall > 0.0 { ((self.mouth - self.hole) / self.fall).max(0.0) } else { 0.0 }
    }

    fn radius(&self, depth: f64) -> f64 {
        (self.mouth - depth * self.fall).max(self.hole)
    }
}
