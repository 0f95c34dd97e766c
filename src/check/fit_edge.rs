//! A fastener too near the edge tears out.

use super::edges::to_free_edge;
use super::worst::{Broken, worst};
use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.edge",
    asks: "a fastener's hole keeps its edge distance, centre to free edge, in diameters",
    source: "EN 1993-1-3 tables 8.1, 8.2; EN 1993-1-8 table 3.3",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for (index, face) in part.faces.iter().enumerate() {
            for fastener in &subject.shelf.fasteners {
                let limit = fastener.edge * fastener.diameter;
                let mine = face.holes.iter().filter(|hole| hole.purpose == fastener.id);
                let broken = mine
                    .map(|hole| Broken {
                        found: to_free_edge(part, index, hole.centre),
                        limit,
                        hole: hole.id.clone(),
                    })
                    .filter(|broken| broken.found + 1e-6 < limit)
                    .collect();
                let Some((Broken { found, .. }, holes)) = worst(broken) else { continue };
                notes.add(
                    Finding::error(
                        RULE.id,
                        format!(
                            "{} ({}): {holes} on {} for {} {found:.2} mm from the edge; {limit:.2} mm is needed",
                            part.number, part.name, face.name, fastener.id
                        ),
                    )
                    .about(part.number.clone())
                    .measured(found, limit, "mm")
                    .source(fastener.edge_source.clone())
                    .help("move the hole, or widen the face"),
                );
            }
        }
    }
}
