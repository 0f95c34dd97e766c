//! No part may stand in the container's steel, nor where something else must have room: a door and
//! its track, a shaft, whatever the kit's family declares.

use super::fit_clash::{about, finding, told};
use super::{Rule, Subject};
use crate::note::Notes;
use crate::solid::{Scene, TOUCH};

pub(super) const RULE: Rule = Rule {
    id: "fit.keep-out",
    asks: "no part shares a volume thicker than 0.1 mm with wall, rails, posts, floor, roof or a \
           keep-out",
    limit: "0.1 mm",
    source: "geometry; the family's own keep-outs",
    remedy: "give the part more clearance, or cut the wall further",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let scene = Scene::of(subject.kit, subject.folded);
    for clash in scene.intrusions(TOUCH) {
        let [a, b] = clash.sides.map(|side| told(subject.kit, side));
        notes.add(finding(&RULE, &clash, [&a, &b], about(subject.kit, clash.sides[0].owner)));
    }
}
