//! Joined faces must touch, or stand as far apart as the joint says: a rivet pulls a gap shut and
//! the part with it.

use super::{Rule, Subject};
use crate::geom::tolerance::CONTACT;
use crate::mate::layers;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.contact",
    asks: "joined faces touch or stand the stated gap apart, within 0.05 mm",
    limit: "0.05 mm",
    source: "geometry",
    remedy: "move one of the parts, or state the gap in the joint",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for joint in &subject.kit.joints {
        // One finding a joint: its pairs share their faces.
        let worst = joint
            .pairs
            .iter()
            .flat_map(|pair| {
                let layers = layers(pair, &subject.kit.parts, subject.folded);
                let gaps: Vec<(f64, usize, usize)> = layers
                    .windows(2)
                    .map(|two| {
                        let middle = two[1].height - two[0].height;
                        let gap = middle - (two[0].thickness + two[1].thickness) / 2.0;
                        (gap, two[0].part, two[1].part)
                    })
                    .collect();
                gaps
            })
            .max_by(|a, b| (a.0 - joint.gap).abs().total_cmp(&(b.0 - joint.gap).abs()));
        let Some((gap, a, b)) = worst else { continue };
        if (gap - joint.gap).abs() <= CONTACT {
            continue;
        }
        let (a, b) = (&subject.kit.parts[a], &subject.kit.parts[b]);
        let what = if gap < 0.0 { "overlap by" } else { "stand apart" };
        notes.add(
            Finding::error(
                RULE.id,
                format!(
                    "{}: {} ({}) and {} ({}) {what} {:.2} mm; {:.2} mm is meant",
                    joint.name,
                    a.number,
                    a.name,
                    b.number,
                    b.name,
                    gap.abs(),
                    joint.gap
                ),
            )
            .about(joint.id.clone())
            .measured(gap, joint.gap, "mm")
            .source(RULE.source)
            .help(RULE.remedy),
        );
    }
}
