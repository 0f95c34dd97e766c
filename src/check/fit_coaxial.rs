//! Joined holes must lie on one axis when the parts are folded and placed; otherwise the fastener
//! does not go in.

use super::{Rule, Subject};
use crate::geom::tolerance::{COAXIAL, PARALLEL};
use crate::kit::Joint;
use crate::mate::{Layer, layers};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.coaxial",
    asks: "the holes of every joint lie on one axis in the site, within 0.05 mm",
    limit: "0.05 mm",
    source: "geometry",
    remedy: "declare the pattern once, on one of the two faces",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for joint in &subject.kit.joints {
        for pair in &joint.pairs {
            let layers = layers(pair, &subject.kit.parts, subject.folded);
            let Some((first, others)) = layers.split_first() else { continue };
            others.iter().for_each(|other| hold(subject, joint, [first, other], notes));
        }
    }
}

/// Holds two layers of one fastener against each other.
fn hold(subject: &Subject, joint: &Joint, [first, other]: [&Layer; 2], notes: &mut Notes) {
    let apart = other.centre - first.centre;
    let sideways = (apart - first.normal * apart.dot(first.normal)).length();
    let askew = first.normal.cross(other.normal).length();
    if sideways <= COAXIAL && askew <= PARALLEL {
        return;
    }
    let (a, b) = (&subject.kit.parts[first.part], &subject.kit.parts[other.part]);
    notes.add(
        Finding::error(
            RULE.id,
            format!(
                "{}: {} of {} and {} of {} lie {sideways:.3} mm apart",
                joint.name, first.hole.id, a.number, other.hole.id, b.number
            ),
        )
        .about(joint.id.clone())
        .measured(sideways, COAXIAL, "mm")
        .source(RULE.source)
        .help(RULE.remedy),
    );
}
