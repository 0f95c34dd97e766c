//! No two folded parts may share space, and none may fold into itself. Bends count with their true
//! cylinders, holes as holes.

use super::{Rule, Subject};
use crate::kit::Kit;
use crate::note::{Finding, Notes};
use crate::solid::{Clash, Owner, Side, TOUCH};

pub(super) const RULE: Rule = Rule {
    id: "fit.clash",
    asks: "no two folded parts, nor two faces of one, share a volume thicker than 0.1 mm",
    limit: "0.1 mm",
    source: "geometry",
    remedy: "set one of the two back, or cut a notch where they meet",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let scene = subject.scene;
    for clash in scene.clashes(TOUCH) {
        let [a, b] = clash.sides.map(|side| told(subject.kit, side));
        notes.add(finding(&RULE, &clash, [&a, &b], about(subject.kit, clash.sides[0].owner)));
    }
}

/// A finding about two things that share space.
pub(super) fn finding(rule: &Rule, clash: &Clash, names: [&str; 2], about: String) -> Finding {
    let (depth, at) = (clash.shared.depth, clash.shared.at);
    let message = format!(
        "{} and {} share space, {depth:.2} mm deep, at X {:.1}, Y {:.1}, Z {:.1}",
        names[0], names[1], at.x, at.y, at.z
    );
    Finding::error(rule.id, message)
        .about(about)
        .measured(depth, TOUCH, "mm")
        .source(rule.source)
        .help(rule.remedy)
}

/// The number of the part that owns a piece.
pub(super) fn about(kit: &Kit, owner: Owner) -> String {
    match owner {
        Owner::Part { part, .. } => kit.parts[part].number.clone(),
        _ => String::new(),
    }
}

/// A piece in words: `OSK-0101-01L (side-frame-left) web`, `top side rail`.
pub(super) fn told(kit: &Kit, side: Side) -> String {
    match side.owner {
        Owner::Part { part, .. } => {
            let it = &kit.parts[part];
            let piece = side.of.map_or("", |of| of.name(it));
            format!("{} ({}) {piece}", it.number, it.name)
        }
        Owner::Wall => "the container's wall".to_owned(),
        Owner::Member(i) => format!("the container's {}", kit.container.members[i].name),
        Owner::Mouth(i) => {
            format!("the mouth of the container's {}", kit.container.members[i].name)
        }
        Owner::KeepOut(i) => format!("keep-out \"{}\"", kit.keep_outs[i].name),
    }
}
