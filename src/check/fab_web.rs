//! A narrow web between two cuts burns through or breaks off; holes that meet are no holes.

use super::edges::{between, core, holes, to_free_edge};
use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.web",
    asks: "what is left between two holes, and between a hole and the edge, is as wide as the laser needs",
    source: "common practice: not under one thickness",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        let limit = subject.shelf.shop.laser.least_web * part.thickness;
        let all: Vec<_> = holes(part).collect();
        for (i, (index, face, hole)) in all.iter().enumerate() {
            let (points, radius) = core(hole);
            let edge = points
                .iter()
                .map(|p| {
                    let to_edge = to_free_edge(part, *index, *p);
                    let inside = face.outline.clearance(*p) > 0.0;
                    if inside { to_edge - radius } else { -to_edge - radius }
                })
                .fold(f64::INFINITY, f64::min);
            let others = all[i + 1..].iter().filter(|(other, ..)| other == index);
            let nearest = others
                .map(|(_, _, other)| (between(hole, other), other.id.clone()))
                .min_by(|a, b| a.0.total_cmp(&b.0));
            let mut tell = |found: f64, what: String| {
                notes.add(
                    Finding::error(
                        RULE.id,
                        format!(
                            "{} ({}): {found:.2} mm is left between {} on {} and {what}; {limit:.2} mm is the least",
                            part.number, part.name, hole.id, face.name
                        ),
                    )
                    .about(part.number.clone())
                    .measured(found, limit, "mm")
                    .source(RULE.source)
                    .help("move or shrink the hole"),
                );
            };
            if edge + 1e-6 < limit {
                tell(edge, "the edge".to_string());
            }
            if let Some((apart, other)) = nearest.filter(|(apart, _)| apart + 1e-6 < limit) {
                tell(apart, other);
            }
        }
    }
}
