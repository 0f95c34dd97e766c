//! What a fastener clamps or drills.

use super::{container_member, layers};
use crate::fold::FoldedPart;
use crate::kit::{Joint, Part, Wall};
use crate::shelf::{Container, Fastener, FastenerKind};

/// The container under a kit, as far as fasteners ask.
#[derive(Debug, Clone, Copy)]
pub struct Host<'a> {
    /// The wall, where there is one.
    pub wall: Option<&'a Wall>,
    /// The container's data.
    pub container: Option<&'a Container>,
}

/// Thickness that a joint's fasteners clamp, mm: the parts, their gaps, and the container's sheet
/// or rail; wood is not clamped. For a self-drilling screw into the container it is the steel that
/// is drilled: the parts have clearance holes.
pub fn clamped(
    joint: &Joint,
    fastener: &Fastener,
    (parts, folded): (&[Part], &[FoldedPart]),
    host: Host,
) -> f64 {
    let into = container_thickness(joint, (parts, folded), host);
    if fastener.kind == FastenerKind::SelfDrilling && into > 0.0 { into } else { joint.grip + into }
}

fn container_thickness(
    joint: &Joint,
    (parts, folded): (&[Part], &[FoldedPart]),
    host: Host,
) -> f64 {
    let Some(pair) = joint.pairs.first() else { return 0.0 };
    let low = layers(pair, parts, folded).iter().any(|layer| layer.centre.z < 0.0);
    match (container_member(pair), host.container) {
        (Some("wall"), _) => host.wall.map_or(0.0, |wall| wall.thickness),
        (Some("post"), Some(container)) => container.post_thickness,
        (Some("rail"), Some(container)) if low => container.bottom_rail.thickness,
        (Some("rail"), Some(container)) => container.top_rail.thickness,
        _ => 0.0,
    }
}
