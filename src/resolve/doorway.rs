//! The container's own doorway as a kit that cuts nothing meets it: no wall, but the frame around.
//!
//! X along the doorway from its left edge as seen from outside, Y into the container from the outer
//! face of the corner posts, Z up from the finished floor.

use super::WallLayout;
use super::wall_members::solid;
use crate::shelf::{Container, Member, WallName};

/// The doorway laid out between its posts, with no outer flats.
pub(super) fn doorway(container: &Container) -> WallLayout {
    let [width, height] = container.doorway;
    WallLayout {
        name: WallName::DoorEnd,
        corrugation: container.end.corrugation,
        length: width,
        pitch: container.end.corrugation.pitch(),
        outer_flat_centres: Vec::new(),
        seams: Vec::new(),
        edges: [0.0, height],
        ceiling: container.inside.height,
        rail_inside: depth(container),
        members: members(container),
        survey: None,
    }
}

/// How far the frame around the doorway reaches into the container: as deep as the corner fittings
/// over it. Estimate: no published section was found; measure.
fn depth(container: &Container) -> f64 {
    container.fitting.length - container.fitting.proud
}

/// Posts, the rails over and under the doors, floor and roof.
fn members(container: &Container) -> Vec<Member> {
    let ([x, z], y) = (container.doorway, depth(container));
    let post = (container.outside.width - x) / 2.0;
    let (ground, roof) = (-container.floor_level, container.roof);
    let top = ground + container.outside.height;
    let ceiling = container.inside.height;
    let inside = (container.inside.width - x) / 2.0;
    let plywood = container.floor.plywood;
    let base = ground + container.fitting.below_base;
    let long = y + container.inside.length;
    vec![
        solid("left corner post", [-post, 0.0, ground], [0.0, y, top]),
        solid("right corner post", [x, 0.0, ground], [x + post, y, top]),
        solid("top end rail", [0.0, 0.0, z], [x, y, ceiling]),
        solid("bottom end rail", [0.0, 0.0, base], [x, y, -plywood]),
        solid("floor", [-inside, 0.0, -plywood], [x + inside, long, 0.0]),
        solid(
            "roof",
            [-inside, y, ceiling],
            [x + inside, long, ceiling + roof.depth + roof.thickness],
        ),
    ]
}
