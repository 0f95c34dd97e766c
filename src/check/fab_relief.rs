//! A bend that ends inside an edge without a relief tears the sheet at its end.

use super::{Rule, Subject};
use crate::geom::{FaceFrame, Path, Point, tolerance};
use crate::kit::{Bend, Part};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.relief",
    asks: "the outline turns away from the bend line at every end of a bend",
    limit: "no straight run past a bend's end",
    source: "common practice: a relief past the bend zone, or the bend runs out at the edge",
    remedy: "give the face a notch there, or let the bend run out",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        for bend in &part.bends {
            let seats = [(bend.parent, bend.edge), (bend.child, bend.child_edge())];
            let torn = seats.into_iter().filter(|(face, edge)| torn(part, *face, *edge));
            torn.for_each(|(face, _)| notes.add(finding(part, bend, face)));
        }
    }
}

fn finding(part: &Part, bend: &Bend, face: usize) -> Finding {
    Finding::error(
        RULE.id,
        format!(
            "{} ({}): bend {} ends inside an edge of {} without a relief",
            part.number, part.name, bend.name, part.faces[face].name
        ),
    )
    .about(part.number.clone())
    .source(RULE.source)
    .help(RULE.remedy)
}

/// Whether the outline goes straight on at either end of the edge that carries a bend.
fn torn(part: &Part, face: usize, edge: [Point<FaceFrame>; 2]) -> bool {
    let outline: &Path<FaceFrame> = &part.faces[face].outline;
    let corners = &outline.vertices;
    let n = corners.len();
    let along = (edge[1] - edge[0]).unit();
    let near = |a: Point<FaceFrame>, b: Point<FaceFrame>| a.distance(b) < tolerance::SIDE_MATCH;
    let Some(i) = (0..n).find(|&i| near(corners[i].at, edge[0])) else { return true };
    let before = (corners[i].at - corners[(i + n - 1) % n].at).unit();
    let after = (corners[(i + 2) % n].at - corners[(i + 1) % n].at).unit();
    let straight = |v: Point<FaceFrame>| v.cross(along).abs() < 1e-6 && v.dot(along) > 0.0;
    straight(before) || straight(after)
}
