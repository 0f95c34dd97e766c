//! Every fastener can be set: its tool finds a way to stand, its head and its far end have room.

use super::fit_clash::told;
use super::{Rule, Subject};
use crate::kit::Joint;
use crate::note::{Finding, Notes};
use crate::solid::{Blocked, Need, TOUCH, unreachable};

pub(super) const RULE: Rule = Rule {
    id: "fit.reach",
    asks: "the tool, head and far end of every fastener stand clear of parts and container, but \
           for 0.1 mm",
    limit: "0.1 mm",
    source: "the fastener's tool in the shop's data (common practice); geometry",
    remedy: "move the fastener, make room, or say in the joint from which side, before which parts \
             or through which opening it is set",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let scene = subject.scene;
    for joint in &subject.kit.joints {
        let blocked = unreachable(scene, subject.shelf, joint);
        let worst = blocked.iter().max_by(|a, b| a.depth.total_cmp(&b.depth));
        if let Some(worst) = worst {
            notes.add(finding(subject, joint, worst, blocked.len()));
        }
    }
}

fn finding(subject: &Subject, joint: &Joint, worst: &Blocked, count: usize) -> Finding {
    let what = match worst.need {
        Need::Tool => "the tool",
        Need::Head => "the head",
        Need::Far => "the far end",
    };
    let more =
        if count == 1 { String::new() } else { format!(" ({} of {})", count, joint.pairs.len()) };
    let message = format!(
        "{}: {what} of {} at X {:.1}, Y {:.1}, Z {:.1}{more} stands {:.2} mm in {}",
        joint.name,
        joint.fastener,
        worst.at.x,
        worst.at.y,
        worst.at.z,
        worst.depth,
        told(subject.kit, worst.side)
    );
    Finding::error(RULE.id, message)
        .about(joint.id.clone())
        .measured(worst.depth, TOUCH, "mm")
        .source(RULE.source)
        .help(RULE.remedy)
}
