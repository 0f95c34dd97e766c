//! A bend that needs more force than the brake has stalls it.

use super::{Rule, Subject};
use crate::brake::air_bending_force;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.force",
    asks: "no bend needs more force than the brake has: F = C Rm t² L / V",
    limit: "the brake's force",
    source: "common handbook form of the air-bending force; C from the shop's data",
    remedy: "take a thinner sheet or a wider die",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let brake = &subject.shelf.shop.brake;
    for part in &subject.kit.parts {
        let Some(material) = subject.material(part) else { continue };
        for bend in &part.bends {
            let Some(rule) = subject.bend_rule(part, bend.angle, bend.radius) else { continue };
            let length = bend.edge[0].distance(bend.edge[1]);
            let found = air_bending_force(brake, material, part.thickness, length, rule.opening);
            if found <= brake.force {
                continue;
            }
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): bend {} needs {:.0} kN; the brake has {:.0} kN",
                        part.number,
                        part.name,
                        bend.name,
                        found / 1000.0,
                        brake.force / 1000.0
                    ),
                )
                .about(part.number.clone())
                .measured(found, brake.force, "N")
                .source(RULE.source)
                .help(RULE.remedy),
            );
        }
    }
}
