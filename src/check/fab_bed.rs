//! A bend longer than the brake's bed cannot be made in one stroke.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.bed",
    asks: "no bend is longer than the brake's bed",
    limit: "the brake's bed length",
    source: "the shop's data",
    remedy: "split the part, or have it bent elsewhere",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let limit = subject.shelf.shop.brake.length;
    for part in &subject.kit.parts {
        for bend in &part.bends {
            let found = bend.edge[0].distance(bend.edge[1]);
            if found <= limit + 1e-6 {
                continue;
            }
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): bend {} is {found:.1} mm long; the brake takes {limit:.0} mm",
                        part.number, part.name, bend.name
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
