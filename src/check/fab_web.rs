//! A narrow web between two cuts burns through or breaks off; holes that meet are no holes.

use super::edges::{FaceEdges, between};
use super::{Rule, Subject};
use crate::kit::{Face, Hole};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.web",
    asks: "what is left between two holes, and between a hole and the edge, is as wide as the laser needs",
    limit: "1 t (shop's data)",
    source: "common practice: not under one thickness",
    remedy: "move or shrink the hole",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        let limit = subject.shelf.shop.laser.least_web * part.thickness;
        for face in 0..part.faces.len() {
            let holes = &part.faces[face].holes;
            let edges = FaceEdges::of(part, face);
            let webs = holes.iter().enumerate().flat_map(|(i, hole)| {
                let edge = (to_edge(&edges, &part.faces[face], hole), "the edge");
                let other = nearest(hole, &holes[i + 1..]).map(|apart| (apart, "another hole"));
                [Some(edge), other]
                    .into_iter()
                    .flatten()
                    .map(move |(found, what)| (found, what, hole))
            });
            let narrow = webs.filter(|(found, ..)| found + 1e-6 < limit);
            let Some((found, what, hole)) = narrow.min_by(|a, b| a.0.total_cmp(&b.0)) else {
                continue;
            };
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): {found:.2} mm is left between {} on {} and {what}; {limit:.2} mm is the least",
                        part.number, part.name, hole.id, part.faces[face].name
                    ),
                )
                .about(part.number.clone())
                .measured(found, limit, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
            );
        }
    }
}

/// Distance from a hole's contour to the free edge of its face; negative when it reaches past.
fn to_edge(edges: &FaceEdges, face: &Face, hole: &Hole) -> f64 {
    let (points, radius) = hole.core();
    let signed = points.iter().map(|p| {
        let distance = edges.to_free_edge(*p);
        if face.outline.clearance(*p) > 0.0 { distance } else { -distance }
    });
    signed.fold(f64::INFINITY, f64::min) - radius
}

/// Distance from a hole's contour to that of the nearest of some others.
fn nearest(hole: &Hole, others: &[Hole]) -> Option<f64> {
    others.iter().map(|other| between(hole, other)).min_by(f64::total_cmp)
}
