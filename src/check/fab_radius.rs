//! A bend sharper than the material bears cracks on its outside.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.radius",
    asks: "no inside radius is under the least for material and thickness",
    limit: "DIN 6935 table by thickness and tensile strength",
    source: "DIN 6935 table of least radii, by tensile strength",
    remedy: "take a larger radius or another material",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for bend in part.bends.iter().filter(|bend| bend.radius > 0.0) {
            let Some(rule) = subject.bend_rule(part, bend.angle, bend.radius) else { continue };
            if rule.least_radius <= bend.radius + 1e-6 {
                continue;
            }
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): bend {} has inside radius {:.2} mm; {} mm thick {} needs {:.2} mm",
                        part.number,
                        part.name,
                        bend.name,
                        bend.radius,
                        part.thickness,
                        part.material.title,
                        rule.least_radius
                    ),
                )
                .about(part.number.clone())
                .measured(bend.radius, rule.least_radius, "mm")
                .source(rule.least_radius_source.clone())
                .help(RULE.remedy),
            );
        }
    }
}
