//! A part whose bends cannot be made in any order stands half folded in the brake, between punch
//! and die.

use super::{Rule, Subject};
use crate::brake::Outcome;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "brake.order",
    asks: "an order of bends exists in which the part meets neither punch, die, ram nor bed, with \
           tools cut to the length that is free",
    limit: "the shop's clearance over the whole of every stroke",
    source: "geometry of the shop's tools; clearance from the shop's data, common practice",
    remedy: "take another punch, or split the part",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for (part, outcome) in subject.kit.parts.iter().zip(subject.bending) {
        let Some(Outcome::Refusal(refusal)) = outcome else { continue };
        let (number, name) = (&part.number, &part.name);
        let why = refusal.why.join("; or, ");
        let sought = if refusal.exact {
            "no order of its bends can be made"
        } else {
            "no order of its bends was found among the likeliest"
        };
        notes.add(
            Finding::error(RULE.id, format!("{number} ({name}): {sought}: {why}"))
                .about(part.number.clone())
                .source(RULE.source)
                .help(refusal.help.clone()),
        );
    }
}
