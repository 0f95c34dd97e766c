//! Countersinks: cut in the sheet under a fastener's head, where that head lies in the sheet.

use super::{Layer, container_member, layers};
use crate::fold::FoldedPart;
use crate::kit::{Joint, JointMember, Part, SetFrom, Sunk};
use crate::shelf::Shelf;
use crate::units;

/// Enters the countersinks of all joints, and says on each part how they are cut.
pub(super) fn sink(parts: &mut [Part], made: (&[Joint], &[FoldedPart]), shelf: &Shelf) {
    let (joints, folded) = made;
    for joint in joints {
        let fastener = shelf.fastener(&joint.fastener);
        let Some([diameter, angle]) = fastener.and_then(|fastener| fastener.countersink) else {
            continue;
        };
        for pair in &joint.pairs {
            let Some((part, face, hole, upper)) = under_head(joint, pair, (parts, folded)) else {
                continue;
            };
            let sunk = Sunk { diameter, angle, upper };
            let holes = &mut parts[part].faces[face].holes;
            holes.iter_mut().filter(|own| own.id == hole).for_each(|own| own.sunk = Some(sunk));
            let remark = remark(sunk, &joint.fastener);
            let remarks = &mut parts[part].remarks;
            if !remarks.contains(&remark) {
                remarks.push(remark);
            }
        }
    }
}

/// The part, face and hole under a head, and whether the head is on the face's upper side. Into the
/// floor the head is on top; where sheets alone are joined, on the free side that the joint says.
fn under_head(
    joint: &Joint,
    pair: &[JointMember],
    (parts, folded): (&[Part], &[FoldedPart]),
) -> Option<(usize, usize, String, bool)> {
    let layers = layers(pair, parts, folded);
    let known = |layer: &Layer, upper| (layer.part, layer.face, layer.hole.id.clone(), upper);
    if container_member(pair) == Some("floor") {
        let top = layers.iter().max_by(|a, b| a.centre.z.total_cmp(&b.centre.z))?;
        return Some(known(top, top.normal.z > 0.0));
    }
    let (low, high) = (layers.first()?, layers.last()?);
    let from_low = (low.height.abs() <= high.height.abs()) == (joint.setting.from == SetFrom::From);
    let up = layers.iter().find(|layer| layer.height == 0.0)?.normal;
    Some(match from_low {
        true => known(low, low.normal.dot(up) < 0.0),
        false => known(high, high.normal.dot(up) > 0.0),
    })
}

/// How the holes of a part are countersunk, in sentences for its drawing.
pub fn sink_remarks(part: &Part) -> Vec<String> {
    let mut remarks = Vec::new();
    for hole in part.faces.iter().flat_map(|face| &face.holes) {
        let own = hole.sunk.map(|sunk| remark(sunk, &hole.purpose));
        remarks.extend(own.filter(|own| !remarks.contains(own)));
    }
    remarks
}

fn remark(sunk: Sunk, fastener: &str) -> String {
    let side = if sunk.upper { "the side that the blank shows" } else { "the blank's back" };
    let angle = units::number(sunk.angle, 1);
    format!("Countersink the holes for {fastener} by {angle}° on {side} until the heads lie flush.")
}
