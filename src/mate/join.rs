//! From parts that stand in space and joints that are declared to a kit with every hole in place.

use super::axis::{Axis, Hit, face_pose, meet, mirrored_shape};
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, Point, Point3, tolerance};
use crate::kit::{
    Draft, Hole, HoleShape, Joint, JointMember, JointPlan, MemberPlan, Part, Setting,
};
use crate::note::{Finding, Notes};

/// Carries every joint of the draft through space: adds the holes to the parts and returns the
/// joints. A joint that misses a face is a finding that names both parts.
pub(super) fn join(draft: &mut Draft, folded: &[FoldedPart], notes: &mut Notes) -> Vec<Joint> {
    let plans = std::mem::take(&mut draft.joints);
    let mut counts: Vec<usize> = draft.parts.iter().map(hole_count).collect();
    let mut joints = Vec::new();
    for plan in &plans {
        for right in [false, true] {
            if right && !plan.both {
                continue;
            }
            let id = format!("j{}", joints.len() + 1);
            let name = match (plan.both, right) {
                (false, _) => plan.name.clone(),
                (true, false) => format!("{}, left", plan.name),
                (true, true) => format!("{}, right", plan.name),
            };
            let mut hand = HandOfJoint { plan, right, id: &id, name: &name, folded };
            joints.extend(hand.join(draft, &mut counts, notes));
        }
    }
    draft.joints = plans;
    joints
}

fn hole_count(part: &Part) -> usize {
    part.faces.iter().map(|face| face.holes.len()).sum()
}

/// One joint on one side.
struct HandOfJoint<'a> {
    plan: &'a JointPlan,
    right: bool,
    id: &'a str,
    name: &'a str,
    folded: &'a [FoldedPart],
}

/// A member with its part and face found.
struct Found {
    part: usize,
    face: usize,
    shape: HoleShape,
}

impl HandOfJoint<'_> {
    fn join(
        &mut self,
        draft: &mut Draft,
        counts: &mut [usize],
        notes: &mut Notes,
    ) -> Option<Joint> {
        let members: Vec<Found> = self
            .plan
            .members
            .iter()
            .map(|member| self.find(draft, member, notes))
            .collect::<Option<_>>()?;
        let axes = self.axes(draft)?;
        let mut pairs = Vec::new();
        for axis in axes {
            let mut pair = Vec::new();
            for member in &members {
                let hit = self.hit(draft, &axis, [member, &members[0]], notes)?;
                let hole = self.add_hole(&mut draft.parts[member.part], counts, member, hit.centre);
                pair.push(JointMember::Hole { part: member.part, place: hit.place, hole });
            }
            pair.extend(self.plan.into.iter().cloned().map(JointMember::Into));
            pairs.push(pair);
        }
        let thickness = members.iter().map(|member| draft.parts[member.part].thickness);
        let gaps = self.plan.gap * (members.len().saturating_sub(1)) as f64;
        Some(Joint {
            id: self.id.to_string(),
            name: self.name.to_string(),
            fastener: self.plan.fastener.clone(),
            grip: thickness.sum::<f64>() + gaps,
            gap: self.plan.gap,
            pairs,
            setting: self.setting(&draft.parts),
        })
    }

    /// How its fasteners are set, with the parts found; a tool may reach through either hand.
    fn setting(&self, parts: &[Part]) -> Setting {
        let called = |name: &str| {
            let hands = ["left", "right"].map(|word| format!("{name}-{word}"));
            let name = name.to_owned();
            let parts = parts.iter().enumerate();
            parts.filter(move |(_, p)| p.name == name || hands.contains(&p.name)).map(|(i, _)| i)
        };
        let through = self.plan.through.as_ref();
        Setting {
            from: self.plan.set_from,
            before: self.plan.before.iter().flat_map(|name| called(name)).collect(),
            through: through.and_then(|(part, hole)| Some((called(part).nth(0)?, hole.clone()))),
        }
    }

    /// The part and face of a member on this side.
    fn find(&self, draft: &Draft, member: &MemberPlan, notes: &mut Notes) -> Option<Found> {
        let place = |right: bool| {
            let word = if right { "right" } else { "left" };
            let handed = format!("{}-{word}", member.part);
            let part =
                draft.parts.iter().position(|p| p.name == member.part || p.name == handed)?;
            let name = if right { &member.mirrored } else { &member.face };
            let face = draft.parts[part].faces.iter().position(|face| face.name == *name)?;
            Some((part, face))
        };
        let (Some(left), Some(here)) = (place(false), place(self.right)) else {
            let face = if self.right { &member.mirrored } else { &member.face };
            notes.add(
                Finding::error(
                    "joint.face",
                    format!("{}: there is no face `{face}` on a part `{}`", self.name, member.part),
                )
                .about(self.id)
                .at(self.plan.place.clone())
                .help("name a part and a face of the template that are made under the same `when`"),
            );
            return None;
        };
        let shape = member.shape.turned(&draft.drawings[left.0][left.1]);
        let pose = |(part, face): (usize, usize)| {
            let instance = &draft.parts[part];
            (!instance.places.is_empty()).then(|| face_pose(instance, &self.folded[part], 0, face))
        };
        let shape = match (self.right, pose(left), pose(here)) {
            (true, Some(from), Some(to)) => mirrored_shape(&shape, &from, &to),
            _ => shape,
        };
        Some(Found { part: here.0, face: here.1, shape })
    }

    /// The axes of the pattern at every instance of the first member.
    fn axes(&self, draft: &Draft) -> Option<Vec<Axis>> {
        let member = &self.plan.members[0];
        let left = format!("{}-left", member.part);
        let index = draft.parts.iter().position(|p| p.name == member.part || p.name == left)?;
        let part = &draft.parts[index];
        let face = part.faces.iter().position(|face| face.name == member.face)?;
        let drawing = &draft.drawings[index][face];
        let mut axes = Vec::new();
        for place in 0..part.places.len() {
            let pose = face_pose(part, &self.folded[index], place, face);
            for point in &self.plan.pattern {
                let centre = drawing.point(*point);
                let at = pose.point(Point3::new(centre.x, centre.y, part.thickness / 2.0));
                let axis = Axis { at, along: pose.z_axis };
                axes.push(axis);
            }
        }
        if self.right {
            axes = axes.into_iter().map(Axis::mirrored).collect();
        }
        Some(axes)
    }

    /// Where an axis meets a member, or a finding.
    fn hit(
        &self,
        draft: &Draft,
        axis: &Axis,
        [member, first]: [&Found; 2],
        notes: &mut Notes,
    ) -> Option<Hit> {
        let part = &draft.parts[member.part];
        let hit = meet(axis, part, &self.folded[member.part], member.face)?;
        if hit.square && hit.inside > 0.0 {
            return Some(hit);
        }
        let face = &part.faces[member.face].name;
        let from = &draft.parts[first.part];
        let why = if hit.square {
            format!("misses the face by {:.2} mm", -hit.inside)
        } else {
            "meets the face askew".to_string()
        };
        notes.add(
            Finding::error(
                "joint.miss",
                format!(
                    "{}: a hole of {} ({}) at X {:.1}, Y {:.1}, Z {:.1} {why}: {face} of {} ({})",
                    self.name,
                    from.number,
                    from.name,
                    axis.at.x,
                    axis.at.y,
                    axis.at.z,
                    part.number,
                    part.name
                ),
            )
            .about(self.id)
            .measured(-hit.inside, 0.0, "mm")
            .source("geometry")
            .help("move the pattern, or make the face reach it"),
        );
        None
    }

    /// Adds a hole, or finds the same one already there.
    fn add_hole(
        &self,
        part: &mut Part,
        counts: &mut [usize],
        member: &Found,
        centre: Point<FaceFrame>,
    ) -> String {
        let holes = &mut part.faces[member.face].holes;
        let same = |hole: &&Hole| {
            hole.shape == member.shape && hole.centre.distance(centre) < tolerance::SIDE_MATCH
        };
        if let Some(hole) = holes.iter().find(same) {
            return hole.id.clone();
        }
        counts[member.part] += 1;
        let id = format!("h{}", counts[member.part]);
        holes.push(Hole {
            id: id.clone(),
            centre,
            shape: member.shape.clone(),
            purpose: self.plan.fastener.clone(),
            joint: Some(self.id.to_string()),
            sunk: None,
        });
        id
    }
}
