//! The fasteners by joint: how many, what is drilled on site, and from where each is set.

use super::{From, Setting};
use crate::fold::FoldedPart;
use crate::geom::{Point3, SiteFrame};
use crate::kit::{Joint, JointMember, Kit, Member, SetFrom};
use crate::mate::{Host, Layer, clamped, container_member, layers};
use crate::shelf::{Fastener, FastenerKind, Shelf};

/// Every joint of the kit, in order.
pub(super) fn settings(kit: &Kit, folded: &[FoldedPart], shelf: &Shelf) -> Vec<Setting> {
    kit.joints.iter().filter_map(|joint| setting(kit, folded, shelf, joint)).collect()
}

fn setting(kit: &Kit, folded: &[FoldedPart], shelf: &Shelf, joint: &Joint) -> Option<Setting> {
    let pair = joint.pairs.first()?;
    let into = container_member(pair);
    let fastener = shelf.fastener(&joint.fastener)?;
    Some(Setting {
        joint: joint.id.clone(),
        name: joint.name.clone(),
        fastener: joint.fastener.clone(),
        count: joint.pairs.len(),
        into: into.map(str::to_owned),
        length: length(kit, folded, shelf, (joint, fastener)),
        drill: into.and_then(|_| drill(fastener)),
        drills_itself: fastener.kind == FastenerKind::SelfDrilling,
        from: from(kit, folded, joint)?,
        through: joint.setting.through.as_ref().map(|(_, hole)| hole.clone()),
    })
}

/// The shortest body that clamps what the joint holds together, mm.
fn length(
    kit: &Kit,
    folded: &[FoldedPart],
    shelf: &Shelf,
    (joint, fastener): (&Joint, &Fastener),
) -> Option<f64> {
    let wall = kit.container.wall.as_ref();
    let host = Host { wall, container: shelf.container(&kit.container.id) };
    let grip = clamped(joint, fastener, (&kit.parts, folded), host);
    fastener.for_grip(grip).map(|grip| grip.length)
}

/// What is drilled into the container, mm: all other holes come cut.
fn drill(fastener: &Fastener) -> Option<f64> {
    match fastener.kind {
        FastenerKind::BlindRivet | FastenerKind::Bolt => Some(fastener.holes.normal),
        FastenerKind::ThreadCutting | FastenerKind::WoodScrew => fastener.holes.pilot,
        FastenerKind::SelfDrilling => None,
    }
}

/// The side on which the tool stands: that of the face with the pattern, away from what it is
/// fastened to, unless the joint says otherwise.
fn from(kit: &Kit, folded: &[FoldedPart], joint: &Joint) -> Option<From> {
    let pair = joint.pairs.first()?;
    let stack = layers(pair, &kit.parts, folded);
    let first = layer_of(&stack, pair.first()?)?;
    let behind = match container_member(pair) {
        // The wall's outer flats lie at Y = 0: what stands before them has it behind, what stands
        // in the room before.
        Some("wall") if first.centre.y <= 0.0 => first.normal.y,
        Some("wall") => -first.normal.y,
        Some("floor") => -first.normal.z,
        Some(_) => frame_behind(kit, first),
        None => {
            let others = stack.iter().filter(|layer| layer.part != first.part);
            others.map(|layer| layer.height - first.height).sum()
        }
    };
    let own = if 0.0 < behind { -first.normal } else { first.normal };
    let toward = if joint.setting.from == SetFrom::To { -own } else { own };
    let through = joint.setting.through.as_ref();
    let toward =
        through.and_then(|hole| reached(kit, folded, hole, first.centre)).unwrap_or(toward);
    Some(side(kit, toward, first.centre))
}

/// The direction out through the nearest opening with a purpose in a part: who reaches through it
/// stands there.
fn reached(
    kit: &Kit,
    folded: &[FoldedPart],
    (part, purpose): &(usize, String),
    from: Point3<SiteFrame>,
) -> Option<Point3<SiteFrame>> {
    let (it, poses) = (&kit.parts[*part], &folded[*part].faces);
    let ways = it.faces.iter().zip(poses).flat_map(|(face, pose)| {
        let holes = face.holes.iter().filter(|hole| hole.purpose == *purpose);
        holes.flat_map(move |hole| {
            it.places.iter().map(move |place| {
                let seat = pose.then(place);
                (seat.lifted(hole.centre, it.thickness / 2.0) - from, seat.z_axis)
            })
        })
    });
    let (way, normal) = ways.min_by(|a, b| a.0.length().total_cmp(&b.0.length()))?;
    Some(if way.dot(normal) < 0.0 { -normal } else { normal })
}

fn layer_of<'a>(stack: &'a [Layer<'a>], member: &JointMember) -> Option<&'a Layer<'a>> {
    let JointMember::Hole { part, hole, .. } = member else { return None };
    stack.iter().find(|layer| layer.part == *part && layer.hole.id == *hole)
}

/// On which side of a face the rail or post lies that it touches: positive along its normal.
fn frame_behind(kit: &Kit, first: &Layer) -> f64 {
    let steel = |name: &str| name.contains("rail") || name.contains("post");
    let members = kit.container.members.iter().filter(|member| steel(&member.name));
    let at = first.centre;
    let away = |member: &Member| {
        let out = |v: f64, low: f64, high: f64| (low - v).max(v - high).max(0.0);
        let x = out(at.x, member.low.x, member.high.x);
        let y = out(at.y, member.low.y, member.high.y);
        Point3::<SiteFrame>::new(x, y, out(at.z, member.low.z, member.high.z)).length()
    };
    let nearest = members.min_by(|a, b| away(a).total_cmp(&away(b)));
    nearest.map_or(0.0, |member| ((member.low + member.high) * 0.5 - at).dot(first.normal))
}

/// The side a unit vector at a place points to. In a wall or a doorway, outside is at negative Y;
/// between two containers, which lie on both sides of Y = 0, away from their centre line.
fn side(kit: &Kit, toward: Point3<SiteFrame>, at: Point3<SiteFrame>) -> From {
    let (along, across, up) = (toward.x.abs(), toward.y.abs(), toward.z.abs());
    if along >= across && along >= up {
        return if toward.x * at.x < 0.0 { From::Opening } else { From::Beside };
    }
    if up > across {
        return if 0.0 < toward.z { From::Above } else { From::Below };
    }
    let between = kit.container.members.iter().any(|member| member.high.y < 0.0);
    let outward = if between { at.y } else { -1.0 };
    if 0.0 < toward.y * outward { From::Outside } else { From::Inside }
}

/// Where fasteners meet a rail, in the middle of the outermost sheet.
pub(super) fn rail_points(kit: &Kit, folded: &[FoldedPart]) -> Vec<Point3<SiteFrame>> {
    let pairs = kit.joints.iter().flat_map(|joint| &joint.pairs);
    let into_rail = pairs.filter(|pair| container_member(pair) == Some("rail"));
    into_rail.flat_map(|pair| layers(pair, &kit.parts, folded).first().map(|l| l.centre)).collect()
}
