//! A fastener clamps only a certain thickness; one that is too short does not set.

use super::{Rule, Subject};
use crate::mate::{Host, clamped};
use crate::note::{Finding, Notes};
use crate::shelf::FastenerKind;

pub(super) const RULE: Rule = Rule {
    id: "fit.grip",
    asks: "what a fastener clamps lies within the grip of one of its lengths",
    limit: "least and greatest grip over the fastener's lengths",
    source: "the fastener's own standard, in the shop's data",
    remedy: "choose another fastener for this joint, or another sheet",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let kit = subject.kit;
    let container = subject.shelf.container(&kit.container.id);
    let host = Host { wall: kit.container.wall.as_ref(), container };
    for joint in &kit.joints {
        let Some(fastener) = subject.shelf.fastener(&joint.fastener) else { continue };
        let grip = clamped(joint, fastener, (&kit.parts, subject.folded), host);
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
                    if fastener.kind == FastenerKind::SelfDrilling { "drills" } else { "clamps" },
                    range[0],
                    range[1]
                ),
            )
            .about(joint.id.clone())
            .measured(grip, limit, "mm")
            .source(fastener.grip_source.clone())
            .help(RULE.remedy),
        );
    }
}
