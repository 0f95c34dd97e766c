//! From the plan of a part (mould polygons hung on one another) to its faces and bends.

use super::outline::{BendSeat, Feature, Mould};
use super::{Bend, Face, Relief, Sense};
use crate::geom::{FaceFrame, Map2, Point, tolerance};
use crate::units;

type P = Point<FaceFrame>;
type Drawing = Map2<FaceFrame, FaceFrame>;

/// A face as its author declares it.
#[derive(Debug, Clone)]
pub(super) struct FacePlan {
    pub(super) name: String,
    pub(super) mould: Mould,
    /// How it hangs on another face; none for the root, which comes first.
    pub(super) hang: Option<Hang>,
}

/// How a face hangs on its parent.
#[derive(Debug, Clone)]
pub(super) struct Hang {
    pub(super) parent: usize,
    /// Edge of the parent's mould polygon.
    pub(super) edge: usize,
    /// Edge of its own mould polygon.
    pub(super) near: usize,
    /// c of its own start on the parent's edge.
    pub(super) from: f64,
    /// The span of the parent's edge it is held to, c; all of it when none.
    pub(super) span: Option<[f64; 2]>,
    pub(super) angle: f64,
    pub(super) sense: Sense,
    pub(super) radius: f64,
    pub(super) k: f64,
    pub(super) k_source: String,
}

/// A built part: faces, bends, and for each face the map from its author's frame.
pub(super) struct Built {
    pub(super) faces: Vec<Face>,
    pub(super) bends: Vec<Bend>,
    pub(super) drawings: Vec<Drawing>,
}

/// From the mould line to the edge of the bend zone: `tan(angle / 2) * (radius + thickness)` to
/// the virtual sharp corner of the outer faces; past 90 degrees legs are measured to the tangent,
/// which lies `radius + thickness` from it.
pub(super) fn setback(angle: f64, radius: f64, thickness: f64) -> f64 {
    if angle > 90.0 {
        radius + thickness
    } else {
        units::tan_deg(angle / 2.0) * (radius + thickness)
    }
}

/// The relief cut at a bend's end: width at least the thickness and 1.5 mm, depth past the zone
/// thickness + radius (common practice, `reference: bend_relief`).
fn relief(radius: f64, thickness: f64) -> Relief {
    Relief { width: thickness.max(1.5), depth: thickness + radius }
}

/// Builds faces and bends; an error names the face.
pub(super) fn build(mut plans: Vec<FacePlan>, thickness: f64) -> Result<Built, String> {
    let seats = seat_bends(&mut plans, thickness)?;
    let mut built = Built { faces: Vec::new(), bends: Vec::new(), drawings: Vec::new() };
    let mut outlines = Vec::new();
    for (i, plan) in plans.iter().enumerate() {
        let (outline, ends) =
            plan.mould.outline().map_err(|why| format!("face {}: {why}", plan.name))?;
        let drawing = match &plan.hang {
            None => Map2::identity(),
            Some(hang) => hang_map(&plans, &built.drawings, i, hang),
        };
        let placed = outline.mapped(&drawing);
        let placed = if drawing.reflects() { placed.reversed() } else { placed };
        if placed.area() <= 0.0 {
            return Err(format!("face {}: nothing is left of it between its bends", plan.name));
        }
        built.faces.push(Face { name: plan.name.clone(), outline: placed, holes: Vec::new() });
        built.drawings.push(drawing);
        outlines.push(ends);
    }
    for (child, plan) in plans.iter().enumerate() {
        if let Some(hang) = &plan.hang {
            let index = built.bends.len();
            let ends = outlines[hang.parent].iter().find(|(bend, _)| *bend == index);
            let ends = ends.ok_or_else(|| format!("face {}: no edge to fold from", plan.name))?.1;
            let bend = bend(&plans, &built, child, hang, (ends, &seats[index], thickness));
            built.bends.push(bend);
        }
    }
    Ok(built)
}

/// A bend's seat while it is worked out.
struct Seating {
    child: usize,
    hang: Hang,
    inset: f64,
    span: [f64; 2],
}

/// Works out the span of every bend and cuts its seats into both mould polygons.
///
/// Whether a bend runs out at a corner depends on what its neighbours leave there, so the seats are
/// cut twice: as the hanging alone tells, then with the neighbours' true spans known.
fn seat_bends(plans: &mut [FacePlan], thickness: f64) -> Result<Vec<Vec<Relief>>, String> {
    let seatings = spans(plans, thickness)?;
    let first = seated(plans, &seatings, &provisional(plans, thickness), thickness);
    let second = seated(plans, &seatings, &first, thickness);
    for (plan, mould) in plans.iter_mut().zip(second) {
        plan.mould = mould;
    }
    let reliefs = seatings.iter().enumerate().map(|(bend, seating)| {
        let relief = relief(seating.hang.radius, thickness);
        let moulds = [seating.hang.parent, seating.child].map(|face| &plans[face].mould);
        let cut: usize = moulds.iter().map(|mould| ends_inside(mould, bend)).sum();
        vec![relief; cut]
    });
    Ok(reliefs.collect())
}

/// How many ends of a bend lie inside an edge of this face.
fn ends_inside(mould: &Mould, bend: usize) -> usize {
    let seat = mould.features.iter().find_map(|(_, feature)| match feature {
        Feature::Bend(seat) if seat.bend == bend => Some(seat),
        _ => None,
    });
    seat.map_or(0, |seat| seat.flush.iter().filter(|flush| !**flush).count())
}

fn spans(plans: &[FacePlan], thickness: f64) -> Result<Vec<Seating>, String> {
    let moulds = provisional(plans, thickness);
    let mut seatings = Vec::new();
    for (child, plan) in plans.iter().enumerate() {
        let Some(hang) = &plan.hang else { continue };
        let inset = setback(hang.angle, hang.radius, thickness);
        let [offer, own] = offers(&moulds, child, hang, inset);
        let held = hang.span.unwrap_or(offer);
        let span = [offer[0].max(own[0]).max(held[0]), offer[1].min(own[1]).min(held[1])];
        if span[1] - span[0] < 2.0 * thickness {
            return Err(format!(
                "face {}: only {:.2} mm of edge is left to fold it from {}",
                plan.name,
                (span[1] - span[0]).max(0.0),
                plans[hang.parent].name
            ));
        }
        seatings.push(Seating { child, hang: hang.clone(), inset, span });
    }
    Ok(seatings)
}

/// What the parent and the child can give to the bend between them, c on the parent's edge.
fn offers(moulds: &[Mould], child: usize, hang: &Hang, inset: f64) -> [[f64; 2]; 2] {
    let offer = moulds[hang.parent].usable(hang.edge, inset);
    let own = moulds[child].usable(hang.near, inset).map(|c| c + hang.from);
    [offer, own]
}

/// The mould polygons with the seats of all bends, running out where `neighbours` leave no more.
fn seated(
    plans: &[FacePlan],
    seatings: &[Seating],
    neighbours: &[Mould],
    thickness: f64,
) -> Vec<Mould> {
    let mut moulds: Vec<Mould> = plans.iter().map(|plan| plan.mould.clone()).collect();
    for (bend, seating) in seatings.iter().enumerate() {
        let Seating { child, hang, inset, span } = seating;
        let relief = relief(hang.radius, thickness);
        let [offer, own] = offers(neighbours, *child, hang, *inset);
        let flush =
            |range: [f64; 2]| [0, 1].map(|e| (range[e] - span[e]).abs() < tolerance::SIDE_MATCH);
        let seat = |range, span| {
            Feature::Bend(BendSeat { bend, span, setback: *inset, flush: flush(range), relief })
        };
        moulds[hang.parent].features.push((hang.edge, seat(offer, *span)));
        moulds[*child].features.push((hang.near, seat(own, span.map(|c| c - hang.from))));
    }
    moulds
}

/// The mould polygons with every bend seated as its hanging alone tells: what a bend's neighbours
/// take away from the ends of its edge does not depend on how far those neighbours run.
pub(super) fn provisional(plans: &[FacePlan], thickness: f64) -> Vec<Mould> {
    let mut moulds: Vec<Mould> = plans.iter().map(|plan| plan.mould.clone()).collect();
    for (child, plan) in plans.iter().enumerate() {
        let Some(hang) = &plan.hang else { continue };
        let inset = setback(hang.angle, hang.radius, thickness);
        let length = plans[hang.parent].mould.edge_length(hang.edge);
        let span = hang.span.unwrap_or([0.0, length]);
        let flush = [span[0] <= inset, span[1] >= length - inset];
        let relief = Relief { width: f64::NEG_INFINITY, depth: 0.0 };
        let seat = |span, flush| BendSeat { bend: child, span, setback: inset, flush, relief };
        moulds[hang.parent].features.push((hang.edge, Feature::Bend(seat(span, flush))));
        let own = [0.0, plan.mould.edge_length(hang.near)];
        moulds[child].features.push((hang.near, Feature::Bend(seat(own, [true, true]))));
    }
    moulds
}

/// From the child's author's frame to its own face frame: x out of the bend, y along it in the
/// counter-clockwise sense of the parent, 0 where the parent's edge starts.
fn hang_map(plans: &[FacePlan], drawings: &[Drawing], child: usize, hang: &Hang) -> Drawing {
    let parent = &plans[hang.parent].mould;
    let drawing = &drawings[hang.parent];
    let (along, out) = parent.edge_axes(hang.edge);
    let sign = drawing.vector(along).dot(drawing.vector(out).left()).signum();
    let own = &plans[child].mould;
    let (near_along, near_out) = own.edge_axes(hang.near);
    let near_start = own.edge_start(hang.near);
    let image = |p: P| {
        let from_near = p - near_start;
        Point::new(-from_near.dot(near_out), sign * (hang.from + from_near.dot(near_along)))
    };
    let origin = image(Point::new(0.0, 0.0));
    Map2::new(image(Point::new(1.0, 0.0)) - origin, image(Point::new(0.0, 1.0)) - origin, origin)
}

fn bend(
    plans: &[FacePlan],
    built: &Built,
    child: usize,
    hang: &Hang,
    (ends, reliefs, thickness): ([P; 2], &[Relief], f64),
) -> Bend {
    let drawing = &built.drawings[hang.parent];
    let placed = ends.map(|end| drawing.point(end));
    let edge = if drawing.reflects() { [placed[1], placed[0]] } else { placed };
    let mould = &plans[hang.parent].mould;
    let (along, out) = mould.edge_axes(hang.edge);
    let sign = drawing.vector(along).dot(drawing.vector(out).left()).signum();
    let c = (edge[0] - drawing.point(mould.edge_start(hang.edge))).dot(drawing.vector(along));
    Bend {
        name: format!("{}/{}", plans[hang.parent].name, plans[child].name),
        parent: hang.parent,
        child,
        edge,
        child_start: Point::new(setback(hang.angle, hang.radius, thickness), sign * c),
        angle: hang.angle,
        sense: hang.sense,
        radius: hang.radius,
        k: hang.k,
        k_source: hang.k_source.clone(),
        reliefs: reliefs.to_vec(),
    }
}
