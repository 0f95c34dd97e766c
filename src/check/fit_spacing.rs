//! Fasteners too near one another share the same strip of sheet.

use super::worst::{Broken, worst};
use super::{Rule, Subject};
use crate::kit::Face;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.spacing",
    asks: "fasteners of one face keep their spacing, centre to centre, in diameters",
    limit: "the fastener's spacing, in diameters",
    source: "EN 1993-1-3 tables 8.1, 8.2; EN 1993-1-8 table 3.3",
    remedy: "use fewer fasteners, or a longer row",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for face in &part.faces {
            let broken = close(subject, face);
            let Some((Broken { found, limit, .. }, holes)) = worst(broken) else { continue };
            notes.add(
                Finding::warning(
                    RULE.id,
                    format!(
                        "{} ({}): {holes} on {} {found:.2} mm from a neighbour; {limit:.2} mm is usual",
                        part.number, part.name, face.name
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

/// Fasteners' holes of a face that stand too near another one behind them in the list.
fn close(subject: &Subject, face: &Face) -> Vec<Broken> {
    let fastened: Vec<_> = face
        .holes
        .iter()
        .filter_map(|hole| Some((hole, subject.shelf.fastener(&hole.purpose)?)))
        .collect();
    let mut close = Vec::new();
    for (i, (hole, fastener)) in fastened.iter().enumerate() {
        let limit = fastener.spacing * fastener.diameter;
        let others = fastened[i + 1..].iter().map(|(other, _)| hole.centre.distance(other.centre));
        let found = others.fold(f64::INFINITY, f64::min);
        if found + 1e-6 < limit {
            close.push(Broken { found, limit, hole: hole.id.clone() });
        }
    }
    close
}
