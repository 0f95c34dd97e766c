//! The kit as a whole: the draft's parts and joints with the spec's words around them.

use super::join::join;
use super::sink::sink;
use super::{Host, clamped};
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, Point};
use crate::kit::{
    Container, Draft, Fastener, Joint, JointMember, Kit, Mark, Meeting, Neighbour, Part, Revision,
    amend_holes,
};
use crate::note::Notes;
use crate::resolve::Resolved;
use crate::shelf::Shelf;
use crate::spec::{Spec, Units};
use crate::template::Template;
use crate::units;

/// Height of the part number etched on a blank, mm: read from arm's length.
const NUMBER_HEIGHT: f64 = 8.0;

/// What a kit is assembled from besides its draft.
#[derive(Debug, Clone, Copy)]
pub struct Words<'a> {
    /// The spec.
    pub spec: &'a Spec,
    /// SHA-256 of the spec's bytes, hexadecimal.
    pub sha256: &'a str,
    /// The template.
    pub template: &'a Template,
    /// What was resolved.
    pub resolved: &'a Resolved,
    /// The shop's data.
    pub shelf: &'a Shelf,
}

/// Joins the draft's parts and puts the kit together. `folded` stands in the order of the draft's
/// parts; joints add holes, which move no face.
pub fn assemble(words: &Words, draft: Draft, folded: &[FoldedPart], notes: &mut Notes) -> Kit {
    assemble_numbered(words, draft, folded, &|_| {}, notes)
}

/// The same with `number` called once the parts have all their holes: it may give them other
/// numbers, which are then etched.
pub fn assemble_numbered(
    words: &Words,
    mut draft: Draft,
    folded: &[FoldedPart],
    number: &dyn Fn(&mut Draft),
    notes: &mut Notes,
) -> Kit {
    let mut joints = join(&mut draft, folded, notes);
    amend_holes(&words.resolved.amendments, &mut draft, &mut joints, notes);
    sink(&mut draft.parts, (&joints, folded), words.shelf);
    number(&mut draft);
    for part in &mut draft.parts {
        number_mark(part);
    }
    let Words { spec, template, resolved, shelf, .. } = words;
    let host = Host {
        wall: draft.container.as_ref().and_then(|container| container.wall.as_ref()),
        container: draft.container.as_ref().and_then(|container| shelf.container(&container.id)),
    };
    let fasteners = fasteners((&joints, &[]), shelf, (&draft.parts, folded), host);
    let mut kit = Kit {
        number: spec.kit.value.clone(),
        title: title(spec, template),
        revision: spec.revision.value.clone(),
        date: spec.date.value.clone(),
        drawn_by: spec.drawn_by.value.clone(),
        approved_by: spec.approved_by.value.clone(),
        owner: shelf.shop.owner.clone(),
        site: spec.site.value.clone(),
        inches: spec.units == Units::Inch,
        template: (template.template.name.clone(), template.template.title.clone()),
        spec_sha256: words.sha256.to_string(),
        values: values(resolved),
        container: draft.container.unwrap_or_else(no_container),
        parts: draft.parts,
        fasteners,
        joints,
        keep_outs: draft.keep_outs,
        lengths: draft.lengths,
        neighbours: Vec::new(),
        notes: draft.notes,
        cautions: draft.cautions,
        steps: draft.steps,
        on_site: draft.on_site,
        previous: None,
        amended: draft.amended,
        revisions: revisions(spec),
        tolerance: shelf.shop.drawing.tolerance.clone(),
        shared: false,
    };
    kit.issue();
    kit
}

/// The kit's title: the spec's, or its family's where the spec gives none.
fn title(spec: &Spec, template: &Template) -> String {
    let own = spec.title.value.trim();
    if own.is_empty() { template.template.title.clone() } else { own.to_owned() }
}

fn no_container() -> Container {
    Container { id: String::new(), title: String::new(), wall: None, members: Vec::new() }
}

fn values(resolved: &Resolved) -> Vec<(String, crate::kit::Value)> {
    resolved
        .order
        .iter()
        .filter_map(|name| resolved.scope.get(name).map(|value| (name.clone(), value.clone())))
        .collect()
}

fn revisions(spec: &Spec) -> Vec<Revision> {
    let lines = spec.revisions.iter().map(|line| Revision {
        index: line.index.value.clone(),
        date: line.date.value.clone(),
        text: line.text.value.clone(),
    });
    lines.collect()
}

/// The fasteners that the joints use and those that join the kit to neighbours and are ordered
/// with it, in the order of the shop's data, with spares and the lengths to buy.
pub fn fasteners(
    (joints, neighbours): (&[Joint], &[Neighbour]),
    shelf: &Shelf,
    made: (&[Part], &[FoldedPart]),
    host: Host,
) -> Vec<Fastener> {
    let spare_share = shelf.shop.drawing.spare_percent / 100.0;
    let used = shelf.fasteners.iter().filter_map(|fastener| {
        let mine: Vec<&Joint> = joints.iter().filter(|j| j.fastener == fastener.id).collect();
        let ordered = neighbours.iter().flat_map(|n| n.ordered_here().map(|m| (n.kit.as_str(), m)));
        let between: Vec<(&str, &Meeting)> =
            ordered.filter(|(_, meeting)| meeting.fastener == fastener.id).collect();
        let count = mine.iter().map(|joint| joint.pairs.len()).sum::<usize>()
            + between.iter().map(|(_, meeting)| meeting.count).sum::<usize>();
        let mut counts = lengths(&mine, fastener, made, host);
        between.iter().for_each(|(_, m)| counts.add(fastener, m.grip, m.count));
        (count > 0).then(|| Fastener {
            id: fastener.id.clone(),
            title: format!("{}{}{}", fastener.title, counts.words(), joins(&between)),
            count,
            spare: (count as f64 * spare_share).ceil() as usize,
            hole: fastener.holes.normal,
            diameter: fastener.diameter,
            grip: fastener.grip(),
            edge: fastener.edge,
            source: format!(
                "hole: {}; grip: {}; edge: {}",
                fastener.hole_source, fastener.grip_source, fastener.edge_source
            ),
        })
    });
    used.collect()
}

/// What of a row joins the kit to others: `; 7 of them join this kit to K-1, which orders none`.
fn joins(between: &[(&str, &Meeting)]) -> String {
    let one = |(kit, meeting): &(&str, &Meeting)| {
        format!("; {} of them join this kit to {kit}, which orders none", meeting.count)
    };
    between.iter().map(one).collect()
}

/// Lengths of a fastener, mm, with their counts; the shortest that clamps is taken.
struct Counts(Vec<(f64, usize)>);

impl Counts {
    fn add(&mut self, fastener: &crate::shelf::Fastener, clamped: f64, count: usize) {
        let grip = fastener.for_grip(clamped).map(|grip| grip.length);
        let row = self.0.iter_mut().find(|(length, _)| Some(*length) == grip);
        row.into_iter().for_each(|(_, known)| *known += count);
    }

    /// The lengths to buy: `, 8 mm (70), 10 mm (42)`.
    fn words(&self) -> String {
        let needed = self.0.iter().filter(|(_, count)| *count > 0);
        let words: Vec<String> = needed
            .map(|(length, count)| format!("{} mm ({count})", units::number(*length, 1)))
            .collect();
        if words.is_empty() { String::new() } else { format!(", {}", words.join(", ")) }
    }
}

fn lengths(
    joints: &[&Joint],
    fastener: &crate::shelf::Fastener,
    made: (&[Part], &[FoldedPart]),
    host: Host,
) -> Counts {
    let mut counts = Counts(fastener.grips.iter().map(|grip| (grip.length, 0)).collect());
    for joint in joints {
        counts.add(fastener, clamped(joint, fastener, made, host), joint.pairs.len());
    }
    counts
}

/// Etches the part number on the root face where it meets no hole, as near the middle as it can.
fn number_mark(part: &mut Part) {
    let bounds = part.faces[0].outline.bounds();
    let upright = bounds.height() > bounds.width();
    let long = NUMBER_HEIGHT * 0.9 * part.number.len() as f64 / 2.0 + 3.0;
    let half = if upright { (NUMBER_HEIGHT, long) } else { (long, NUMBER_HEIGHT) };
    let middle = bounds.centre();
    let mut places: Vec<Point<FaceFrame>> = Vec::new();
    for i in -9..=9 {
        for j in -9..=9 {
            let share = |i: i32| f64::from(i) / 20.0;
            let offset = Point::new(share(i) * bounds.width(), share(j) * bounds.height());
            places.push(middle + offset);
        }
    }
    places.sort_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)));
    let Some(at) = places.into_iter().find(|at| is_free(part, *at, half)) else { return };
    part.marks.push(Mark {
        face: 0,
        at,
        direction: if upright { 90.0 } else { 0.0 },
        height: NUMBER_HEIGHT,
        text: part.number.clone(),
    });
}

/// Whether a box about a point of the root face, given by its half sides, is free of holes and
/// other marks and lies inside the face.
fn is_free(part: &Part, at: Point<FaceFrame>, (rx, ry): (f64, f64)) -> bool {
    let face = &part.faces[0];
    let away = face.holes.iter().all(|hole| {
        let (from, reach) = (hole.centre - at, hole.shape.reach() + 2.0);
        from.x.abs() > rx + reach || from.y.abs() > ry + reach
    });
    let others = part.marks.iter().filter(|mark| mark.face == 0);
    let apart = |mark: &Mark| {
        let room = mark.height * (mark.text.len() as f64 + 2.0);
        mark.at.distance(at) > rx.max(ry) + room / 2.0
    };
    let corners = [(-rx, -ry), (rx, -ry), (rx, ry), (-rx, ry), (0.0, 0.0)];
    let inside = |(x, y): (f64, f64)| face.outline.clearance(at + Point::new(x, y)) > 1.0;
    away && others.into_iter().all(apart) && corners.into_iter().all(inside)
}

/// Whether a pair's members stand for the container.
pub fn container_member(pair: &[JointMember]) -> Option<&str> {
    pair.iter().find_map(|member| match member {
        JointMember::Into(what) => Some(what.as_str()),
        JointMember::Hole { .. } => None,
    })
}
