//! Holes are never where they are drawn: laser and brake have their tolerances, and a fastener goes
//! in only where they do not add up to more than its clearance.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::stackup::{JointStack, TARGET, percent};

pub(super) const RULE: Rule = Rule {
    id: "fit.stackup",
    asks: "all fasteners of every joint pass, with the shop's tolerances, in 99.5 of 100 kits",
    limit: "99.5 %",
    source: "linear stack-up of the shop's tolerances; the limit is common practice (3 sigma: 99.7 %)",
    remedy: "widen the hole under the head, or make it a slot",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for joint in &subject.stackup.joints {
        if joint.chance < TARGET {
            notes.add(finding(joint));
        }
    }
    if let Some(words) = subject.stackup.tried_words() {
        notes
            .add(Finding::note(RULE.id, words).source("errors drawn within the shop's tolerances"));
    }
}

fn finding(joint: &JointStack) -> Finding {
    let causes: Vec<String> =
        joint.causes.iter().map(|(what, share)| format!("{what} {:.0} %", share * 100.0)).collect();
    Finding::warning(
        RULE.id,
        format!(
            "{}: all {} fasteners pass in {}; two holes stand {:.2} mm apart at one sigma and may \
             by {:.2} mm ({})",
            joint.name,
            joint.fasteners,
            percent(joint.chance),
            joint.deviation,
            joint.clearance,
            causes.join(", ")
        ),
    )
    .about(joint.id.clone())
    .measured(100.0 * joint.chance, 100.0 * TARGET, "%")
    .source(RULE.source)
    .help(joint.advice.words())
}
