//! Open holes of two kits: holes for a fastener that belong to no joint of their own kit. Where two
//! of them stand on one axis, face to face, the kits are bolted together.

use super::build::Worked;
use crate::geom::{Point3, Pose, SiteFrame};
use crate::kit::Meeting;
use crate::shelf::Shelf;

/// Sheets whose middles stand farther apart than this along the axis are not bolted, mm.
const FACING: f64 = 12.0;
/// Holes farther aside than this are not meant for each other, mm.
const MEANT: f64 = 15.0;
/// Holes on one axis: the contract's limit for joints, mm.
const COAXIAL: f64 = 0.05;

/// What meets, and what nearly does.
pub(super) struct Meetings {
    /// Fasteners that join the two kits.
    pub(super) found: Vec<Meeting>,
    /// The worst pair of holes that are meant for each other and stand aside: fastener, mm.
    pub(super) missed: Option<(String, f64)>,
}

/// An open hole in the first kit's site.
struct Open {
    fastener: String,
    at: Point3<SiteFrame>,
    along: Point3<SiteFrame>,
    thickness: f64,
}

/// The open holes of the second kit that meet such of the first. The second, which comes later,
/// orders the fasteners.
pub(super) fn meetings(
    [first, second]: [&Worked; 2],
    to_first: &Pose<SiteFrame, SiteFrame>,
    shelf: &Shelf,
) -> Meetings {
    let (mine, theirs) = (open(first, &Pose::identity(), shelf), open(second, to_first, shelf));
    let mut all = Meetings { found: Vec::new(), missed: None };
    for a in &mine {
        let facing = theirs.iter().filter_map(|b| Some((b, aside(a, b)?)));
        let Some((b, [aside, apart])) = facing.min_by(|a, b| a.1[0].total_cmp(&b.1[0])) else {
            continue;
        };
        if COAXIAL < aside {
            if all.missed.as_ref().is_none_or(|(_, worst)| *worst < aside) {
                all.missed = Some((a.fastener.clone(), aside));
            }
            continue;
        }
        let grip = apart + (a.thickness + b.thickness) / 2.0;
        let same = |m: &&mut Meeting| m.fastener == a.fastener && (m.grip - grip).abs() < 0.01;
        match all.found.iter_mut().find(same) {
            Some(meeting) => meeting.count += 1,
            None => all.found.push(Meeting {
                fastener: a.fastener.clone(),
                count: 1,
                grip,
                ordered_by: second.kit.number.clone(),
            }),
        }
    }
    all
}

fn open(worked: &Worked, to: &Pose<SiteFrame, SiteFrame>, shelf: &Shelf) -> Vec<Open> {
    let mut holes = Vec::new();
    for (part, folded) in worked.kit.parts.iter().zip(&worked.folded) {
        for place in &part.places {
            for (face, pose) in part.faces.iter().zip(&folded.faces) {
                let seat = pose.then(place).then(to);
                let mine = face.holes.iter().filter(|h| h.joint.is_none());
                let bolted = mine.filter(|h| shelf.fastener(&h.purpose).is_some());
                holes.extend(bolted.map(|hole| Open {
                    fastener: hole.purpose.clone(),
                    at: seat.lifted(hole.centre, part.thickness / 2.0),
                    along: seat.z_axis,
                    thickness: part.thickness,
                }));
            }
        }
    }
    holes
}

/// How far two holes of one fastener stand aside of each other's axis, and apart along it; none
/// where they do not face each other.
fn aside(a: &Open, b: &Open) -> Option<[f64; 2]> {
    let step = b.at - a.at;
    let apart = step.dot(a.along);
    let aside = (step - a.along * apart).length();
    let parallel = a.along.cross(b.along).length() < 1e-6;
    let facing = a.fastener == b.fastener && parallel && apart.abs() < FACING && aside < MEANT;
    facing.then(|| [aside, apart.abs()])
}
