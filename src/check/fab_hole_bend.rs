//! A hole too near a bend is drawn out of round.

use super::edges::FaceEdges;
use super::worst::{Broken, worst};
use super::{Rule, Subject};
use crate::kit::Part;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.hole-bend",
    asks: "a hole's edge stays 2 t from a bend zone (error), 3 t + r (warning)",
    limit: "2 t error, 3 t + r warning",
    source: "common practice; design guides differ between 1.5 t and 3 t + r",
    remedy: "move the hole away from the bend, or take a thinner sheet",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for face in 0..part.faces.len() {
            let near = near_bends(part, face);
            let (hard, soft): (Vec<Broken>, Vec<Broken>) =
                near.into_iter().partition(|broken| broken.found + 1e-6 < 2.0 * part.thickness);
            tell(part, face, hard, notes);
            tell(part, face, soft, notes);
        }
    }
}

/// Holes of a face nearer to a bend zone than wished, each with the limit it breaks.
fn near_bends(part: &Part, face: usize) -> Vec<Broken> {
    let mut near = Vec::new();
    let edges = FaceEdges::of(part, face);
    for hole in &part.faces[face].holes {
        let Some((bend, found)) = edges.to_bend(hole) else { continue };
        let least = 2.0 * part.thickness;
        let wished = 3.0 * part.thickness + part.bends[bend].radius;
        if found + 1e-6 < wished {
            let limit = if found + 1e-6 < least { least } else { wished };
            near.push(Broken { found, limit, hole: hole.id.clone() });
        }
    }
    near
}

fn tell(part: &Part, face: usize, broken: Vec<Broken>, notes: &mut Notes) {
    let Some((Broken { found, limit, .. }, holes)) = worst(broken) else { return };
    let hard = limit <= 2.0 * part.thickness;
    let message = format!(
        "{} ({}): {holes} on {} {found:.2} mm from a bend; {limit:.2} mm is {}",
        part.number,
        part.name,
        part.faces[face].name,
        if hard { "needed" } else { "wished" }
    );
    let finding =
        if hard { Finding::error(RULE.id, message) } else { Finding::warning(RULE.id, message) };
    notes.add(
        finding.about(part.number.clone()).measured(found, limit, "mm").source(RULE.source).help(
            if hard {
                RULE.remedy
            } else {
                "move the hole away from the bend, or accept the warning with a reason"
            },
        ),
    );
}
