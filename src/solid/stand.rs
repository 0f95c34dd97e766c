//! Where a fastener stands: its axis, and the side its tool comes from.

use super::convex::Spot;
use crate::fold::FoldedPart;
use crate::kit::{Joint, JointMember, Kit, Member, SetFrom, Wall};
use crate::mate::{Layer, container_member, layers};

/// One fastener of a joint in the site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stand {
    /// On its axis, on the surface under its head.
    pub(super) head: Spot,
    /// Unit vector along the axis, towards the tool.
    pub(super) toward: Spot,
}

/// The stands of a joint's fasteners in the order of its pairs. `folded` stands in the order of
/// the kit's parts.
pub(super) fn stands(kit: &Kit, folded: &[FoldedPart], joint: &Joint) -> Vec<Stand> {
    joint.pairs.iter().filter_map(|pair| stand(kit, folded, joint, pair)).collect()
}

fn stand(kit: &Kit, folded: &[FoldedPart], joint: &Joint, pair: &[JointMember]) -> Option<Stand> {
    let layers = layers(pair, &kit.parts, folded);
    // Heights run along the first member's normal, from that member.
    let (first, last) = (layers.first()?, layers.last()?);
    let up = layers.iter().find(|layer| layer.height == 0.0).unwrap_or(first).normal;
    let from_below = match container_member(pair) {
        Some(into) if layers.len() == 1 => into_is_above(kit, into, first, up),
        _ => first.height.abs() <= last.height.abs(),
    };
    let from_below = from_below == (joint.setting.from == SetFrom::From);
    let (low, high) =
        (first.centre - up * (first.thickness / 2.0), last.centre + up * (last.thickness / 2.0));
    Some(if from_below {
        Stand { head: low, toward: -up }
    } else {
        Stand { head: high, toward: up }
    })
}

/// Whether what a single sheet is fastened to lies on the side that its normal shows.
fn into_is_above(kit: &Kit, into: &str, layer: &Layer, up: Spot) -> bool {
    if let ("wall", Some(wall)) = (into, &kit.container.wall) {
        let middle = outer_face(wall, layer.centre.x) + wall.thickness / 2.0;
        return (middle - layer.centre.y) * up.y > 0.0;
    }
    let members = || kit.container.members.iter().filter(|m| m.name.contains(into) && !m.hollow);
    let near = |p: Spot| members().map(|m| away(m, p)).fold(f64::INFINITY, f64::min);
    let step = up * layer.thickness;
    near(layer.centre + step) < near(layer.centre - step)
}

/// Y of the wall's outer face at a site X.
fn outer_face(wall: &Wall, x: f64) -> f64 {
    let off = wall.outer_flat_centres.iter().map(|c| (x - c).abs()).fold(f64::INFINITY, f64::min);
    ((off - wall.outer_flat / 2.0) / wall.slope).clamp(0.0, 1.0) * wall.depth
}

/// Distance of a point from a box of the container, mm.
fn away(member: &Member, p: Spot) -> f64 {
    let out = |v: f64, low: f64, high: f64| (low - v).max(v - high).max(0.0);
    Spot::new(
        out(p.x, member.low.x, member.high.x),
        out(p.y, member.low.y, member.high.y),
        out(p.z, member.low.z, member.high.z),
    )
    .length()
}
