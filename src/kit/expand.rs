//! From a template and its values to parts, not yet joined.

use std::sync::Arc;

use super::amend::{cut_notches, look_over, notches_of};
use super::build::{Built, build};
use super::desk::Desk;
use super::faces::lay_out;
use super::hollows::hollows;
use super::keep_out::volumes;
use super::lengths::lengths;
use super::mirror::{mirror, reflection};
use super::pattern::{points, shape};
use super::places::places;
use super::steps::steps;
use super::work::on_site;
use super::{
    Amended, Draft, Face, Hand, Hole, HoleShape, Issue, JointPlan, Lie, Mark, Material, MemberPlan,
    Part, SetFrom, Wall,
};
use crate::geom::{FaceFrame, Map2};
use crate::note::Notes;
use crate::resolve::{Resolved, Sheet};
use crate::shelf::{Fastener, Shelf};
use crate::spec::Amendment;
use crate::template::{Hands, HoleItem, Joint, Member, PartItem, SideWord, Template, Through};

/// Works the template out: parts with their own holes, and the joints still to be carried through
/// space. Findings are about the template or the values that lead to them.
pub fn expand(template: &Template, resolved: &Resolved, shelf: &Shelf, notes: &mut Notes) -> Draft {
    let container = resolved.container.as_ref().map(super::site::container);
    let wall = container.as_ref().and_then(|container| container.wall.as_ref());
    let mut desk = Desk { file: Arc::clone(&template.file), scope: resolved.scope.clone(), notes };
    let mut draft = Draft::default();
    for (number, item) in numbered(&mut desk, template, resolved) {
        let maker = PartMaker { item, resolved, shelf, wall, number };
        let made = maker.make(&mut desk, "-left");
        let mirrored = item.mirrored.is_some() && desk.holds(item.mirrored.as_ref());
        match made {
            Some(made) if mirrored => maker.add(mirrored_alone(made), None, &mut draft),
            Some(made) => {
                let other = maker.other_hand(&mut desk);
                maker.add(made, other, &mut draft);
            }
            None => {}
        }
        desk.scope = resolved.scope.clone();
    }
    if !desk.notes.has_errors() {
        look_over(resolved, template, &draft, desk.notes);
    }
    let planner = Planner { template, resolved, shelf, wall };
    for joint in &template.joints {
        if desk.holds(joint.when.as_ref()) {
            draft.joints.extend(planner.joint(&mut desk, joint));
            desk.scope = resolved.scope.clone();
        }
    }
    draft.keep_outs = volumes(&mut desk, template, &template.keep_outs, wall);
    draft.lengths = lengths(&mut desk, template);
    draft.notes = desk.texts(&template.notes);
    draft.cautions = desk.texts(&template.cautions);
    draft.on_site = on_site(&mut desk, template, wall);
    draft.steps = steps(&mut desk, template, &draft);
    let hollows = hollows(&mut desk, template);
    draft.container = container.map(|mut container| {
        container.members.extend(hollows);
        container
    });
    draft
}

/// The parts that are made, with their numbers, in the order of these.
fn numbered<'a>(
    desk: &mut Desk,
    template: &'a Template,
    resolved: &Resolved,
) -> Vec<(usize, &'a PartItem)> {
    let mut numbers = resolved.numbers.clone();
    let made = template.parts.iter().filter(|item| desk.holds(item.when.as_ref()));
    let mut made: Vec<_> = made.map(|item| (numbers.next(item.name.get_ref()), item)).collect();
    made.sort_by_key(|(number, _)| *number);
    made
}

/// Makes one part of the template.
struct PartMaker<'a> {
    item: &'a PartItem,
    resolved: &'a Resolved,
    shelf: &'a Shelf,
    wall: Option<&'a Wall>,
    number: usize,
}

type Drawings = Vec<Map2<FaceFrame, FaceFrame>>;

/// A part with the maps from its author's frames, and what amendments did to it.
type Made = (Part, Drawings, Vec<Amended>);

impl PartMaker<'_> {
    /// The part of one hand, drawn as the left one, where it has two; else the part.
    fn make(&self, desk: &mut Desk, hand: &str) -> Option<Made> {
        let item = self.item;
        let Some(sheet) = self.resolved.sheets.get(item.sheet.get_ref()) else {
            let known: Vec<&str> = self.resolved.sheets.keys().map(String::as_str).collect();
            let message = format!(
                "there is no sheet group `{}`; groups are {}",
                item.sheet.get_ref(),
                known.join(", ")
            );
            desk.wrong("template.sheet", item.sheet.span(), message);
            return None;
        };
        desk.scope.set_number("t", sheet.thickness);
        desk.scope.set_number("r", sheet.rule.radius);
        let mut plans = lay_out(desk, item, sheet, self.wall)?;
        let notches = self.notches(hand);
        let asked = (&self.resolved.amendments, &notches[..]);
        let before = desk.notes.len();
        let amended = cut_notches(&mut plans, sheet.thickness, asked, desk.notes);
        if before < desk.notes.len() {
            return None;
        }
        let built = match build(plans, sheet.thickness) {
            Ok(built) => built,
            Err(message) => {
                let message = format!("{}: {message}", item.name.get_ref());
                desk.wrong("template.outline", item.name.span(), message);
                return None;
            }
        };
        let mut part = self.part(desk, sheet, &built)?;
        self.holes(desk, &built, &mut part);
        self.marks(desk, &built, &mut part);
        Some((part, built.drawings, amended))
    }

    /// The notches that amendments cut in one hand, or in a part without hands.
    fn notches(&self, hand: &str) -> Vec<(usize, &Amendment)> {
        let hand = if self.item.hands == Hands::One { "" } else { hand };
        notches_of(&self.resolved.amendments, &format!("{}{hand}", self.item.name.get_ref()))
    }

    /// The right hand, drawn as the left one, where amendments cut it otherwise.
    fn other_hand(&self, desk: &mut Desk) -> Option<Made> {
        let differs =
            self.item.hands == Hands::Both && self.notches("-left") != self.notches("-right");
        differs.then(|| self.make(desk, "-right"))?
    }

    fn part(&self, desk: &mut Desk, sheet: &Sheet, built: &Built) -> Option<Part> {
        let item = self.item;
        let thickness = sheet.thickness;
        let places = places(desk, &item.places, thickness, self.wall)?;
        Some(Part {
            number: format!("{}-{:02}", self.resolved.kit, self.number),
            name: item.name.get_ref().clone(),
            title: desk.text(&item.title)?,
            hand: None,
            material: Arc::new(Material {
                id: sheet.material.id.clone(),
                title: sheet.material.title.clone(),
                density: sheet.material.density,
                tensile: sheet.material.tensile,
            }),
            thickness,
            gauge: sheet.gauge.clone(),
            faces: built.faces.clone(),
            bends: built.bends.clone(),
            marks: Vec::new(),
            places,
            remarks: desk.texts(&item.notes),
            relations: desk.texts(&item.relations),
            lie: Lie { grain: item.grain || sheet.material.grain, mirror: item.mirror },
            issue: Issue::default(),
        })
    }

    fn holes(&self, desk: &mut Desk, built: &Built, part: &mut Part) {
        let mut count = 0;
        for item in &self.item.holes {
            if !desk.holds(item.when.as_ref()) {
                continue;
            }
            let Some(face) = face_index(desk, part, &item.face) else { continue };
            let holes = self.face_holes(desk, item, &built.drawings[face]);
            if let Some(past) = past_edge(&part.faces[face], &holes) {
                let message = format!(
                    "{}: a hole for `{}` reaches {past:.2} mm past the edge of face `{}`",
                    self.item.name.get_ref(),
                    item.purpose.get_ref(),
                    item.face.get_ref()
                );
                desk.wrong("template.hole-outside", item.face.span(), message);
            }
            for hole in holes {
                count += 1;
                part.faces[face].holes.push(Hole { id: format!("h{count}"), ..hole });
            }
        }
    }

    fn face_holes(
        &self,
        desk: &mut Desk,
        item: &HoleItem,
        drawing: &Map2<FaceFrame, FaceFrame>,
    ) -> Vec<Hole> {
        let fastener = self.shelf.fastener(item.purpose.get_ref());
        let Some(shape) = shape(desk, &item.size, fastener, item.purpose.span()) else {
            return Vec::new();
        };
        let shape = shape.turned(drawing);
        points(desk, &item.holes, self.wall)
            .into_iter()
            .map(|at| Hole {
                id: String::new(),
                centre: drawing.point(at),
                shape: shape.clone(),
                purpose: item.purpose.get_ref().clone(),
                joint: None,
                sunk: None,
            })
            .collect()
    }

    fn marks(&self, desk: &mut Desk, built: &Built, part: &mut Part) {
        for item in &self.item.marks {
            let Some(face) = face_index(desk, part, &item.face) else { continue };
            let drawing = &built.drawings[face];
            let (text, at) = (desk.text(&item.text), desk.point(&item.at));
            let direction = desk.number_or(item.direction.as_ref(), 0.0);
            let height = desk.number_or(item.height.as_ref(), 8.0);
            if let (Some(text), Some(at), Some(direction), Some(height)) =
                (text, at, direction, height)
            {
                part.marks.push(Mark {
                    face,
                    at: drawing.point(at),
                    direction: drawing.direction(direction),
                    height,
                    text,
                });
            }
        }
    }

    /// Adds the part, and its other hand, which is the same reflected unless given.
    fn add(&self, made: Made, other: Option<Made>, draft: &mut Draft) {
        let (part, drawings, amended) = made;
        let index = draft.parts.len();
        let at = |it: Amended, part: usize| Amended { part, ..it };
        if self.item.hands == Hands::One {
            draft.amended.extend(amended.into_iter().map(|it| at(it, index)));
            draft.parts.push(part);
            draft.drawings.push(drawings);
            return;
        }
        let (other, other_amended) = match other {
            Some((part, _, amended)) => (part, amended),
            None => (part.clone(), amended.clone()),
        };
        draft.amended.extend(amended.into_iter().map(|it| at(it, index)));
        draft.amended.extend(reflected(other_amended).into_iter().map(|it| at(it, index + 1)));
        let right = mirror(&other);
        for (part, hand) in [(part, Hand::Left), (right, Hand::Right)] {
            draft.parts.push(Part {
                number: format!("{}{}", part.number, hand.letter()),
                name: format!("{}-{}", part.name, hand.word()),
                title: format!("{}, {}", part.title, hand.word()),
                hand: Some(hand),
                ..part
            });
            draft.drawings.push(drawings.clone());
        }
    }
}

/// By how much the worst of some holes reaches past the outline of its face; none when all lie
/// inside.
pub(super) fn past_edge(face: &Face, holes: &[Hole]) -> Option<f64> {
    let past = holes.iter().map(|hole| {
        let (points, radius) = hole.core();
        let nearest = points.iter().map(|p| face.outline.clearance(*p));
        radius - nearest.fold(f64::INFINITY, f64::min)
    });
    past.fold(
        None,
        |worst: Option<f64>, past| {
            if past > 0.0 { Some(worst.map_or(past, |w| w.max(past))) } else { worst }
        },
    )
}

/// A part that is made in the other hand only, with the maps from its author's frame.
fn mirrored_alone((part, drawings, amended): Made) -> Made {
    let turned = drawings.iter().enumerate().map(|(face, map)| map.then(&reflection(face)));
    (Part { hand: None, ..mirror(&part) }, turned.collect(), reflected(amended))
}

/// Where amendments stand in the other hand.
fn reflected(amended: Vec<Amended>) -> Vec<Amended> {
    let turned = |it: Amended| Amended { at: reflection(it.face).point(it.at), ..it };
    amended.into_iter().map(turned).collect()
}

/// Index of a face by name, or a finding.
fn face_index(desk: &mut Desk, part: &Part, name: &toml::Spanned<String>) -> Option<usize> {
    let index = part.faces.iter().position(|face| face.name == *name.get_ref());
    if index.is_none() {
        let names: Vec<&str> = part.faces.iter().map(|face| face.name.as_str()).collect();
        let message = format!("no face `{}`; faces are {}", name.get_ref(), names.join(", "));
        desk.wrong("template.face", name.span(), message);
    }
    index
}

/// Works out joints.
struct Planner<'a> {
    template: &'a Template,
    resolved: &'a Resolved,
    shelf: &'a Shelf,
    wall: Option<&'a Wall>,
}

impl Planner<'_> {
    fn joint(&self, desk: &mut Desk, joint: &Joint) -> Option<JointPlan> {
        let Some(fastener) = self.shelf.fastener(joint.fastener.get_ref()) else {
            let known: Vec<&str> = self.shelf.fasteners.iter().map(|f| f.id.as_str()).collect();
            let message = format!(
                "no fastener `{}`; known are {}",
                joint.fastener.get_ref(),
                known.join(", ")
            );
            desk.wrong("template.fastener", joint.fastener.span(), message);
            return None;
        };
        let name = joint.from.part.get_ref();
        let part = self.template.parts.iter().find(|part| part.name.get_ref() == name);
        let sheet = part.and_then(|part| self.resolved.sheets.get(part.sheet.get_ref()));
        if let Some(sheet) = sheet {
            desk.scope.set_number("t", sheet.thickness);
            desk.scope.set_number("r", sheet.rule.radius);
        }
        let all: Vec<&Member> = std::iter::once(&joint.from).chain(&joint.to).collect();
        let under_head = match joint.set_from {
            _ if all.len() < 2 => None,
            SideWord::From => Some(0),
            SideWord::To => Some(all.len() - 1),
        };
        let mut members = Vec::new();
        for (index, member) in all.into_iter().enumerate() {
            let wide = fastener.holes.head.filter(|_| under_head == Some(index));
            members.push(plan_member(desk, member, fastener, wide)?);
        }
        Some(JointPlan {
            name: desk.text(&joint.name)?,
            fastener: fastener.id.clone(),
            both: joint.hands == Hands::Both,
            gap: desk.number_or(joint.gap.as_ref(), 0.0)?,
            pattern: points(desk, &joint.holes, self.wall),
            members,
            into: joint.into.as_ref().map(|into| into.get_ref().clone()),
            set_from: match joint.set_from {
                SideWord::From => SetFrom::From,
                SideWord::To => SetFrom::To,
            },
            before: self.known_parts(desk, &joint.before),
            through: joint.through.as_ref().and_then(|it| self.through(desk, it)),
            place: desk.place(joint.name.span()),
        })
    }
}

impl Planner<'_> {
    /// Names of parts; one that the template does not have is told.
    fn known_parts(&self, desk: &mut Desk, names: &[toml::Spanned<String>]) -> Vec<String> {
        let known = |name: &&toml::Spanned<String>| known_part(desk, self.template, name);
        names.iter().filter(known).map(|name| name.get_ref().clone()).collect()
    }

    fn through(&self, desk: &mut Desk, it: &Through) -> Option<(String, String)> {
        let (part, hole) = (it.part.get_ref(), it.hole.get_ref());
        if !known_part(desk, self.template, &it.part) {
            return None;
        }
        let mut items = self.template.parts.iter().filter(|item| item.name.get_ref() == part);
        if !items.any(|item| item.holes.iter().any(|h| h.purpose.get_ref() == hole)) {
            let message = format!("`{part}` has no hole for `{hole}`");
            desk.wrong("template.through", it.hole.span(), message);
            return None;
        }
        Some((part.clone(), hole.clone()))
    }
}

/// Whether the template has a part of that name; told when it has not.
pub(super) fn known_part(
    desk: &mut Desk,
    template: &Template,
    name: &toml::Spanned<String>,
) -> bool {
    let known = template.parts.iter().any(|part| part.name.get_ref() == name.get_ref());
    if !known {
        let names: Vec<&str> = template.parts.iter().map(|p| p.name.get_ref().as_str()).collect();
        let message = format!("no part `{}`; parts are {}", name.get_ref(), names.join(", "));
        desk.wrong("template.part", name.span(), message);
    }
    known
}

/// A member with its hole: what the template says, else the given diameter, else the clearance
/// hole.
fn plan_member(
    desk: &mut Desk,
    member: &Member,
    fastener: &Fastener,
    diameter: Option<f64>,
) -> Option<MemberPlan> {
    let face = member.face.get_ref().clone();
    let diameter = diameter.filter(|_| member.size.is_silent());
    Some(MemberPlan {
        part: member.part.get_ref().clone(),
        mirrored: member.mirrored.as_ref().map_or(face.clone(), |name| name.get_ref().clone()),
        face,
        shape: match diameter {
            Some(diameter) => HoleShape::Round(diameter),
            None => shape(desk, &member.size, Some(fastener), member.part.span())?,
        },
    })
}
