//! The laser burns a hole that is small against the sheet's thickness out of round.

use super::edges::holes;
use super::{Rule, Subject};
use crate::kit::HoleShape;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.hole-size",
    asks: "no hole is narrower than the laser's share of the thickness",
    limit: "1 t (shop's data), not under 1 mm",
    source: "common practice: not under one thickness, nor under 1 mm",
    remedy: "make the hole larger, or the sheet thinner",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        let limit = (subject.shelf.shop.laser.least_hole * part.thickness).max(1.0);
        for (_, face, hole) in holes(part) {
            let found = match &hole.shape {
                HoleShape::Round(diameter) => *diameter,
                HoleShape::Slot(width, ..) => *width,
                HoleShape::Rectangle(width, length, _) => width.min(*length),
                HoleShape::Cutout(path) => path.bounds().width().min(path.bounds().height()),
            };
            if limit <= found + 1e-6 {
                continue;
            }
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): {} on {} is {found:.2} mm wide; {limit:.2} mm is the least",
                        part.number, part.name, hole.id, face.name
                    ),
                )
                .about(part.number.clone())
                .measured(found, limit, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
            );
        }
    }
}
