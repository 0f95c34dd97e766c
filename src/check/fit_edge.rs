//! A fastener too near the edge tears out.

use super::edges::FaceEdges;
use super::worst::{Broken, worst};
use super::{Rule, Subject};
use crate::kit::Part;
use crate::note::{Finding, Notes};
use crate::shelf::Fastener;

pub(super) const RULE: Rule = Rule {
    id: "fit.edge",
    asks: "a fastener's hole keeps its edge distance, centre to free edge, in diameters",
    limit: "the fastener's edge distance, in diameters",
    source: "EN 1993-1-3 tables 8.1, 8.2; EN 1993-1-8 table 3.3",
    remedy: "move the hole, or widen the face",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for face in 0..part.faces.len() {
            let edges = FaceEdges::of(part, face);
            for fastener in &subject.shelf.fasteners {
                hold((part, face), &edges, fastener, notes);
            }
        }
    }
}

/// Holds one face's holes for one fastener against its edge distance.
fn hold((part, face): (&Part, usize), edges: &FaceEdges, fastener: &Fastener, notes: &mut Notes) {
    let limit = fastener.edge * fastener.diameter;
    let mine = part.faces[face].holes.iter().filter(|hole| hole.purpose == fastener.id);
    let broken = mine
        .map(|hole| Broken { found: edges.to_free_edge(hole.centre), limit, hole: hole.id.clone() })
        .filter(|broken| broken.found + 1e-6 < limit)
        .collect();
    let Some((Broken { found, .. }, holes)) = worst(broken) else { return };
    notes.add(
        Finding::error(
            RULE.id,
            format!(
                "{} ({}): {holes} on {} for {} {found:.2} mm from the edge; {limit:.2} mm is needed",
                part.number, part.name, part.faces[face].name, fastener.id
            ),
        )
        .about(part.number.clone())
        .measured(found, limit, "mm")
        .source(fastener.edge_source.clone())
        .help(RULE.remedy),
    );
}
