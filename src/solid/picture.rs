//! What stands around a kit, as surfaces for pictures.

use super::convex::{Bounds3, Convex, Spot};
use super::hollow::remains;
use super::surround;
use crate::fold::FoldedPart;
use crate::geom::{Point3, SiteFrame};
use crate::kit::Kit;

/// How far around the kit its surroundings are shown, mm.
const AROUND: f64 = 600.0;

/// The container's wall and members near the kit: flat convex surfaces, each counter-clockwise seen
/// from outside the body it bounds.
pub fn surroundings(kit: &Kit, folded: &[FoldedPart]) -> Vec<Vec<Point3<SiteFrame>>> {
    let Some(near) = near(kit, folded) else { return Vec::new() };
    let mut solids: Vec<Convex> = kit.container.wall.iter().flat_map(surround::wall).collect();
    solids.retain(|solid| solid.bounds.deeper(&near, 0.0));
    let members = &kit.container.members;
    for member in members.iter().filter(|member| !member.hollow) {
        let boxes = remains(member, members).into_iter().map(|ends| within(ends, &near));
        solids.extend(boxes.filter_map(|[low, high]| Convex::upright(low, high)));
    }
    solids
        .iter()
        .flat_map(|solid| solid.facets().map(|(plane, ring)| facing(ring, plane.normal)))
        .collect()
}

/// The box around the standing parts, grown.
fn near(kit: &Kit, folded: &[FoldedPart]) -> Option<Bounds3> {
    let corners: Vec<Spot> = kit
        .instances()
        .flat_map(|(part, place)| {
            let place = kit.parts[part].places[place];
            folded[part].corners(&kit.parts[part]).map(move |corner| place.point(corner))
        })
        .collect();
    corners.first()?;
    let Bounds3 { low, high } = Bounds3::around(&corners);
    let by = Point3::new(AROUND, AROUND, AROUND);
    Some(Bounds3 { low: low - by, high: high + by })
}

/// What of a box lies within another; no volume where nothing does.
fn within([low, high]: [Spot; 2], near: &Bounds3) -> [Spot; 2] {
    let low = Point3::new(low.x.max(near.low.x), low.y.max(near.low.y), low.z.max(near.low.z));
    let high =
        Point3::new(high.x.min(near.high.x), high.y.min(near.high.y), high.z.min(near.high.z));
    if low.x < high.x && low.y < high.y && low.z < high.z { [low, high] } else { [low, low] }
}

/// The ring in the order in which it is counter-clockwise seen from where `normal` points.
fn facing(mut ring: Vec<Spot>, normal: Spot) -> Vec<Spot> {
    let first = ring[0];
    let across = ring
        .windows(2)
        .fold(Spot::new(0.0, 0.0, 0.0), |sum, two| sum + (two[0] - first).cross(two[1] - first));
    if across.dot(normal) < 0.0 {
        ring.reverse();
    }
    ring
}
