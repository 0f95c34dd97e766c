//! A fastener clamps only a certain thickness; one that is too short does not set.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::shelf::FastenerKind;

pub(super) const RULE: Rule = Rule {
    id: "fit.grip",
    asks: "what a fastener clamps lies within the grip of one of its lengths",
    source: "the fastener's own standard, in the shop's data",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for joint in &subject.kit.joints {
        let Some(fastener) = subject.shelf.fastener(&joint.fastener) else { continue };
        let into = subject.container_thickness(joint);
        // A drilling range counts the steel that is drilled; parts have clearance holes.
        let drills = fastener.kind == FastenerKind::SelfDrilling && into > 0.0;
        let grip = if drills { into } else { joint.grip + into };
        if fastener.for_grip(grip).is_some() {
            continue;
        }
        let range = fastener.grip();
        let limit = if grip < range[0] { range[0] } else { range[1] };
        notes.add(
            Finding::error(
                RULE.id,
                format!(
                    "{}: {} {} {grip:.2} mm; it takes {:.2} to {:.2} mm",
                    joint.name,
                    fastener.title,
                    if drills { "drills" } else { "clamps" },
                    range[0],
                    range[1]
                ),
            )
            .about(joint.id.clone())
            .measured(grip, limit, "mm")
            .source(fastener.grip_source.clone())
            .help("choose another fastener for this joint, or another sheet"),
        );
    }
}
