//! Notches that amendments cut in the edges of faces.

use super::words::Words;
use super::{Amended, Numbered};
use crate::geom::{FaceFrame, Point};
use crate::kit::build::{Built, FacePlan, build};
use crate::kit::faces::{edge_names, find_edge};
use crate::kit::outline::Feature;
use crate::note::{Finding, Notes};
use crate::spec::{Amendment, Amendments, Change, Said};

/// How far inside its corners a notch is held against the face, mm: its corner may lie on an edge.
const INSIDE: f64 = 1e-3;

/// A notch as the spec asks for it.
struct Asked<'a> {
    on: &'a Said<String>,
    span: [f64; 2],
    depth: f64,
    amendment: &'a Amendment,
}

/// Adds the notches to the faces' mould polygons; gives what was done. The error of one is told at
/// its place in the spec, and nothing is cut.
pub(in crate::kit) fn cut_notches(
    plans: &mut [FacePlan],
    thickness: f64,
    (amendments, asked): (&Amendments, &[Numbered<'_>]),
    notes: &mut Notes,
) -> Vec<Amended> {
    if asked.is_empty() {
        return Vec::new();
    }
    // Without notches: what they must lie inside of. Where that fails the template is told.
    let Ok(whole) = build(plans.to_vec(), thickness) else { return Vec::new() };
    let mut done = Vec::new();
    for (order, amendment) in asked {
        let Change::Notch { on, from, to, depth } = &amendment.change else { continue };
        let asked = Asked { on, span: [from.value, to.value], depth: depth.value, amendment };
        match cut(plans, &whole, &asked) {
            Ok((face, at)) => done.push(Amended {
                order: *order,
                part: 0,
                face,
                at,
                reach: 0.0,
                text: Words::of(amendments).notch(&on.value, asked.span, asked.depth),
                reason: amendment.reason.value.clone(),
                revision: amendment.revision.value.clone(),
            }),
            Err(fault) => {
                let (finding, span) = *fault;
                notes.add(finding.at(amendments.place(&span)));
            }
        }
    }
    done
}

/// What is wrong, and where that stands in the spec.
type Fault = Box<(Finding, std::ops::Range<usize>)>;

/// Cuts one notch; gives its face and middle in the face's own frame.
fn cut(
    plans: &mut [FacePlan],
    whole: &Built,
    asked: &Asked<'_>,
) -> Result<(usize, Point<FaceFrame>), Fault> {
    let at = |finding: Finding| Box::new((finding, asked.on.span.clone()));
    let on = asked.on.value.as_str();
    let Some((face, edge)) = find_edge(plans, on) else {
        let known = edge_names(plans);
        let names: Vec<&str> = known.iter().map(String::as_str).collect();
        return Err(at(Amendment::unknown("amend.edge", "edge", on, &names)));
    };
    let whole_span = asked.amendment.span.clone();
    let [from, to] = asked.span;
    if !(from < to && asked.depth > 0.0) {
        let message = format!(
            "a notch from {from:.2} to {to:.2} mm and {:.2} mm deep has no size",
            asked.depth
        );
        let help = "`to` lies beyond `from`, and the depth is above 0";
        let finding = Finding::error("amend.size", message).about(on).help(help);
        return Err(Box::new((finding, whole_span)));
    }
    let folded = plans.iter().enumerate().any(|(index, plan)| {
        let hang = plan.hang.as_ref();
        hang.is_some_and(|h| [(h.parent, h.edge), (index, h.near)].contains(&(face, edge)))
    });
    if folded {
        let message = format!("`{on}` is folded: a notch there would cut into the bend");
        let help = "cut a hole in the face, or a notch in a free edge";
        return Err(at(Finding::error("amend.edge", message).about(on).help(help)));
    }
    let mould = &plans[face].mould;
    let ends = asked.span.map(|coordinate| mould.along(edge, coordinate));
    let [low, high] = [ends[0].min(ends[1]), ends[0].max(ends[1])];
    let outside = |why: String| {
        let message = format!("a notch in `{on}` from {from:.2} to {to:.2} mm {why}");
        let help = "keep the notch on its face and clear of what stands there";
        let finding = Finding::error("amend.outside", message).about(on).help(help);
        Box::new((finding, whole_span.clone()))
    };
    if let Some(why) = mould.no_room(edge, [low, high]) {
        return Err(outside(why));
    }
    let (along, out) = mould.edge_axes(edge);
    let point = |c: f64, depth: f64| {
        whole.drawings[face].point(mould.edge_start(edge) + along * c - out * depth)
    };
    let corners = [low + INSIDE, high - INSIDE].map(|c| point(c, asked.depth));
    let inside = |p: &Point<FaceFrame>| whole.faces[face].outline.clearance(*p);
    let worst = corners.iter().map(inside).fold(f64::INFINITY, f64::min);
    if worst <= 0.0 {
        return Err(outside(format!("and {:.2} mm deep leaves its face", asked.depth)));
    }
    let middle = point((low + high) / 2.0, asked.depth / 2.0);
    let feature = Feature::Notch { from: low, to: high, depth: asked.depth };
    plans[face].mould.features.push((edge, feature));
    Ok((face, middle))
}
