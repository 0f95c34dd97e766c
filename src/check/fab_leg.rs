//! A leg shorter than the die allows slips off the die's shoulder while it is bent.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.leg",
    asks: "every leg reaches over the shoulder of the die that bends it",
    limit: "0.7 V (shop's data)",
    source: "common practice: 0.7 of the die's opening, outside size",
    remedy: "lengthen the leg, or give the bend a smaller radius so that a narrower die serves",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for bend in &part.bends {
            let Some(rule) = subject.bend_rule(part, bend.angle, bend.radius) else { continue };
            let face = &part.faces[bend.child];
            let found = part.leg(bend);
            if rule.least_leg <= found + 1e-6 {
                continue;
            }
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): leg {} is {found:.2} mm; the {:.0} mm die needs {:.2} mm",
                        part.number, part.name, face.name, rule.opening, rule.least_leg
                    ),
                )
                .about(part.number.clone())
                .measured(found, rule.least_leg, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
            );
        }
    }
}
