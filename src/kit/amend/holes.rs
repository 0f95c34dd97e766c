//! Holes that amendments cut, move, enlarge or leave out, after the joints have made theirs.

use super::words::{Words, shape};
use super::{Amended, face_of};
use crate::geom::{FaceFrame, Map2, Point};
use crate::kit::expand::past_edge;
use crate::kit::mirror::reflection;
use crate::kit::{Draft, Hand, Hole, HoleShape, Joint, JointMember, Part};
use crate::note::{Finding, Notes};
use crate::spec::{Amendment, Amendments, Change, HoleChoice, Said};

/// A hole is meant where it stands within this of the place that is named, mm.
const NEAR: f64 = 5.0;
/// Most holes listed in a message.
const LISTED: usize = 5;

/// A part's number in the kit and a hole's id: a hole that is left out.
type Removed = (usize, String);

/// Carries out every amendment of holes, in the order of the spec; what was done is noted in the
/// draft. A joint whose holes are all left out loses that fastener; where one of them stays, that
/// is an error.
pub fn amend_holes(
    amendments: &Amendments,
    draft: &mut Draft,
    joints: &mut Vec<Joint>,
    notes: &mut Notes,
) {
    let mut removed = Vec::new();
    for (order, amendment) in amendments.list.iter().enumerate() {
        if amendment.is_notch() {
            continue;
        }
        for index in 0..draft.parts.len() {
            if !amendment.names(&draft.parts[index].name) {
                continue;
            }
            let work = Work { amendments, amendment, joints, index };
            let Some(done) = work.carry_out(draft, &mut removed, notes) else { break };
            draft.amended.extend(done.into_iter().map(|it| Amended { order, ..it }));
        }
    }
    draft.amended.sort_by_key(|it| (it.order, it.part));
    unjoin(&removed, (amendments, draft), joints, notes);
    joints.retain(|joint| !joint.pairs.is_empty());
}

/// One amendment and one part.
struct Work<'a> {
    amendments: &'a Amendments,
    amendment: &'a Amendment,
    joints: &'a [Joint],
    index: usize,
}

impl Work<'_> {
    fn carry_out(
        &self,
        draft: &mut Draft,
        removed: &mut Vec<Removed>,
        notes: &mut Notes,
    ) -> Option<Vec<Amended>> {
        let (change, words) = (&self.amendment.change, Words::of(self.amendments));
        let named = change.face()?;
        let face = face_of(&draft.parts[self.index], named, self.amendments, notes)?;
        let drawing = drawing(draft, self.index, face);
        let part = &mut draft.parts[self.index];
        let before = part.faces[face].holes.clone();
        let (text, holes): (String, Vec<Hole>) = match change {
            Change::Cut { at, size, purpose, .. } => {
                let [x, y] = at.value;
                let hole = Hole {
                    id: format!("h{}", highest(part) + 1),
                    centre: drawing.point(Point::new(x, y)),
                    shape: shape(*size).turned(&drawing),
                    purpose: purpose.as_ref().map_or("amendment", |said| &said.value).to_owned(),
                    joint: None,
                    sunk: None,
                };
                let what = words.shape(&hole.shape);
                let text = format!("{what} cut in {} at {}", spoken(named), words.pair(at.value));
                part.faces[face].holes.push(hole.clone());
                (text, vec![hole])
            }
            Change::Move { hole, by } => {
                let chosen = self.choose(part, face, (hole, &drawing), notes)?;
                let [x, y] = by.value;
                let by_words = words.pair(by.value);
                let text = self.text(&chosen, (part, face), &format!("moved by {by_words}"));
                for index in &chosen {
                    let hole = &mut part.faces[face].holes[*index];
                    hole.centre = hole.centre + drawing.vector(Point::new(x, y));
                }
                (text, of(part, face, &chosen))
            }
            Change::Enlarge { hole, size } => {
                let chosen = self.choose(part, face, (hole, &drawing), notes)?;
                let new = shape(*size).turned(&drawing);
                self.larger(&of(part, face, &chosen), &new, notes)?;
                let to = words.shape(&new);
                let text = self.text(&chosen, (part, face), &format!("opened to {to}"));
                for index in &chosen {
                    part.faces[face].holes[*index].shape = new.clone();
                }
                (text, of(part, face, &chosen))
            }
            Change::Remove { hole } => {
                let chosen = self.choose(part, face, (hole, &drawing), notes)?;
                let text = self.text(&chosen, (part, face), "left out");
                let holes = of(part, face, &chosen);
                part.faces[face].holes.retain(|it| !holes.iter().any(|gone| gone.id == it.id));
                removed.extend(holes.iter().map(|hole| (self.index, hole.id.clone())));
                (text, holes)
            }
            Change::Notch { .. } => return Some(Vec::new()),
        };
        if self.inside(part, face, &holes, notes).is_none() {
            part.faces[face].holes = before;
            return None;
        }
        Some(holes.iter().map(|hole| self.amended(face, hole, text.clone())).collect())
    }

    fn amended(&self, face: usize, hole: &Hole, text: String) -> Amended {
        Amended {
            order: 0,
            part: self.index,
            face,
            at: hole.centre,
            reach: hole.shape.reach(),
            text,
            reason: self.amendment.reason.value.clone(),
            revision: self.amendment.revision.value.clone(),
        }
    }

    /// `3 holes ⌀5 mm (rivet-4.8) in web moved by 0, 12 mm`.
    fn text(&self, chosen: &[usize], (part, face): (&Part, usize), deed: &str) -> String {
        let face = &part.faces[face];
        let Some(first) = chosen.first().map(|index| &face.holes[*index]) else {
            return String::new();
        };
        let what = Words::of(self.amendments).hole(first);
        let count = if chosen.len() == 1 { String::new() } else { format!("{} × ", chosen.len()) };
        format!("{count}hole {what} in {} {deed}", face.name.replace('_', " "))
    }

    /// Holes stay on their face.
    fn inside(&self, part: &Part, face: usize, holes: &[Hole], notes: &mut Notes) -> Option<()> {
        if matches!(self.amendment.change, Change::Remove { .. }) {
            return Some(());
        }
        let Some(past) = past_edge(&part.faces[face], holes) else { return Some(()) };
        let name = &part.faces[face].name;
        let message =
            format!("a hole reaches {past:.2} mm past the edge of face `{name}` of {}", part.name);
        let finding = Finding::error("amend.outside", message).about(part.name.clone());
        let finding = finding.measured(past, 0.0, "mm").help("keep the hole on its face");
        notes.add(finding.at(self.amendments.place(&self.amendment.span)));
        None
    }

    /// An enlarged hole covers the one that was there.
    fn larger(&self, holes: &[Hole], new: &HoleShape, notes: &mut Notes) -> Option<()> {
        let smaller = |hole: &&Hole| {
            let both = extents(&hole.shape).zip(extents(new));
            both.is_none_or(|([w, l], [least, most])| least < w || most < l)
        };
        let Some(small) = holes.iter().find(smaller) else { return Some(()) };
        let words = Words::of(self.amendments);
        let (from, to) = (words.shape(&small.shape), words.shape(new));
        let finding = Finding::error("amend.size", format!("{to} does not cover {from}"));
        let help = "a hole can be opened, not closed: remove it and cut another";
        let finding = finding.about(self.amendment.part.value.clone()).help(help);
        notes.add(finding.at(self.amendments.place(&self.amendment.span)));
        None
    }

    /// The holes that are meant; told where that is none, or not clear.
    fn choose(
        &self,
        part: &Part,
        face: usize,
        (choice, drawing): (&HoleChoice, &Map2<FaceFrame, FaceFrame>),
        notes: &mut Notes,
    ) -> Option<Vec<usize>> {
        let holes = &part.faces[face].holes;
        let back = drawing.inverse();
        let place = |index: &usize| back.point(holes[*index].centre);
        let fits = |index: &usize| self.serves(&holes[*index], choice.hole.as_ref());
        let mut found: Vec<usize> = (0..holes.len()).filter(fits).collect();
        let near = choice.near.as_ref().map(|said| Point::new(said.value[0], said.value[1]));
        if let Some(near) = near {
            found.sort_by(|a, b| {
                place(a).distance(near).total_cmp(&place(b).distance(near)).then(a.cmp(b))
            });
            if found.first().is_some_and(|index| place(index).distance(near) <= NEAR) {
                found.truncate(1);
                return Some(found);
            }
        } else if found.len() == 1 || (choice.every && !found.is_empty()) {
            return Some(found);
        }
        let listed: Vec<String> = found
            .iter()
            .take(LISTED)
            .map(|index| {
                let at = place(index);
                let words = Words::of(self.amendments);
                format!("{} at {}", words.hole(&holes[*index]), words.pair([at.x, at.y]))
            })
            .collect();
        let face = &part.faces[face].name;
        let (message, help) = match (near.is_some(), found.is_empty()) {
            (_, true) => {
                let what = choice.hole.as_ref().map_or("any use".to_owned(), |it| it.value.clone());
                let mut known: Vec<&str> = holes.iter().map(|it| it.purpose.as_str()).collect();
                known.sort_unstable();
                known.dedup();
                let help = format!("holes there are for: {}", known.join(", "));
                (format!("face `{face}` of {} has no hole for `{what}`", part.name), help)
            }
            (true, false) => {
                let message = format!("no such hole of `{face}` of {} is there", part.name);
                (message, format!("the nearest are: {}", listed.join("; ")))
            }
            (false, false) => {
                let count = found.len();
                let message = format!("{count} holes of `{face}` of {} are meant", part.name);
                let help = "say which with `near`, or `every = true`";
                (message, format!("{help}; they are: {}", listed.join("; ")))
            }
        };
        let finding = Finding::error("amend.hole", message).about(part.name.clone()).help(help);
        notes.add(finding.at(self.amendments.place(&choice.span)));
        None
    }

    /// Whether a hole is for what is named: its purpose, its id, or the name of its joint.
    fn serves(&self, hole: &Hole, said: Option<&Said<String>>) -> bool {
        let Some(said) = said else { return true };
        let named = |id: &String| self.joints.iter().any(|j| j.id == *id && j.name == said.value);
        hole.purpose == said.value
            || hole.id == said.value
            || hole.joint.as_ref().is_some_and(named)
    }
}

fn spoken(said: &Said<String>) -> String {
    said.value.replace('_', " ")
}

fn of(part: &Part, face: usize, chosen: &[usize]) -> Vec<Hole> {
    chosen.iter().map(|index| part.faces[face].holes[*index].clone()).collect()
}

/// Least and greatest extent of a plain shape.
fn extents(shape: &HoleShape) -> Option<[f64; 2]> {
    match shape {
        HoleShape::Round(d) => Some([*d, *d]),
        HoleShape::Slot(a, b, _) | HoleShape::Rectangle(a, b, _) => Some([a.min(*b), a.max(*b)]),
        HoleShape::Cutout(_) => None,
    }
}

/// The map from the frame in which the template draws a face to the face's own, on the part's side.
fn drawing(draft: &Draft, part: usize, face: usize) -> Map2<FaceFrame, FaceFrame> {
    let left = draft.drawings[part][face];
    let right = draft.parts[part].hand == Some(Hand::Right);
    if right { left.then(&reflection(face)) } else { left }
}

/// The highest number of the ids `h1`, `h2`, ... of a part.
fn highest(part: &Part) -> usize {
    let ids = part.faces.iter().flat_map(|face| &face.holes);
    ids.filter_map(|hole| hole.id.strip_prefix('h')?.parse().ok()).max().unwrap_or(0)
}

/// Takes holes that are left out from their joints.
fn unjoin(
    removed: &[Removed],
    (amendments, draft): (&Amendments, &Draft),
    joints: &mut [Joint],
    notes: &mut Notes,
) {
    let gone = |member: &JointMember| match member {
        JointMember::Hole { part, hole, .. } => {
            removed.iter().any(|(index, id)| index == part && id == hole)
        }
        JointMember::Into(_) => false,
    };
    for joint in joints {
        let torn = joint.pairs.iter().find_map(|pair| {
            let stays = |it: &&JointMember| matches!(it, JointMember::Hole { .. }) && !gone(it);
            pair.iter().any(gone).then(|| pair.iter().find(stays))?
        });
        if let Some(JointMember::Hole { part, hole, .. }) = torn {
            let number = &draft.parts[*part].name;
            let words = format!("{}: {hole} of {number} stays without its mate", joint.name);
            let finding = Finding::error("amend.joint", words).about(joint.id.clone());
            let removes = |it: &&Amendment| matches!(it.change, Change::Remove { .. });
            let place = amendments.list.iter().find(removes).map(|it| it.span.clone());
            let at = place.and_then(|span| amendments.place(&span));
            notes.add(finding.at(at).help("remove the holes of both parts, or neither"));
        }
        joint.pairs.retain(|pair| !pair.iter().any(gone));
    }
}
