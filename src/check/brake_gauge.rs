//! A bend that nothing can be held against the gauge for is made by a scribed line.

use super::{Rule, Subject};
use crate::brake::Outcome;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "brake.gauge",
    asks: "every stroke has an edge or a face to hold against the back gauge: parallel to the bend, \
           within reach, with nothing behind it",
    limit: "the gauge's reach and the least length of edge (shop's data)",
    source: "the shop's data",
    remedy: "bend to a scribed line, or give the part a straight edge along the bend",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for (part, outcome) in subject.kit.parts.iter().zip(subject.bending) {
        let Some(plan) = outcome.as_ref().and_then(Outcome::plan) else { continue };
        for step in plan.steps.iter().filter(|step| step.stop.is_none()) {
            let bend = step.bends.first().map_or("", |bend| part.bends[*bend].name.as_str());
            let message = format!(
                "{} ({}): stroke {}, bend {bend}: nothing lies against the back gauge",
                part.number, part.name, step.number
            );
            notes.add(
                Finding::warning(RULE.id, message)
                    .about(part.number.clone())
                    .source(RULE.source)
                    .help(RULE.remedy),
            );
        }
    }
}
