//! No part may stand in the container's steel, nor where something else must have room: a door and
//! its track, a shaft, whatever the kit's family declares.

use super::fit_clash::{about, finding, told};
use super::{Asked, Rule, Subject};
use crate::note::{Finding, Notes, Severity};
use crate::solid::{Owner, TOUCH};

pub(super) const RULE: Rule = Rule {
    id: "fit.keep-out",
    asks: "no part shares a volume thicker than 0.1 mm with wall, rails, posts, floor, roof, the mouth of a \
           fork pocket or a keep-out",
    limit: "0.1 mm; before a fork pocket a warning",
    source: "geometry; the family's own keep-outs",
    remedy: "give the part more clearance, or cut the wall further",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let scene = subject.scene;
    for clash in scene.intrusions(TOUCH) {
        let [a, b] = clash.sides.map(|side| told(subject.kit, side));
        let found = finding(&RULE, &clash, [&a, &b], about(subject.kit, clash.sides[0].owner));
        match clash.sides[1].owner {
            Owner::Mouth(i) if meant(subject, i) => {}
            Owner::Mouth(_) => notes.add(closed(found)),
            _ => notes.add(found),
        }
    }
}

/// Whether the family closes this hollow of the container on purpose; not asked again of a kit that
/// was read back.
fn meant(subject: &Subject, member: usize) -> bool {
    let name = &subject.kit.container.members[member].name;
    let closes = |asked: Asked| asked.template.template.closes.iter().any(|c| name.contains(c));
    subject.asked.is_none_or(closes)
}

/// A part before a fork pocket harms nothing by itself, but no fork may go in any more.
fn closed(found: Finding) -> Finding {
    Finding { severity: Severity::Warning, ..found }.help(
        "keep the part off the mouth; or close the pocket, mark the box \"no forks here\", and \
         accept this warning with that reason",
    )
}
