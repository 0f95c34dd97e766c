//! What stands near the opening, and how far from it.

use super::{Edge, Lines, Near, NearKind, Pocket};
use crate::geom::{Point3, SiteFrame};
use crate::kit::Wall;
use crate::resolve::{SiteContainer, SiteMember};

/// Distances to posts, fittings, rails, seams, tunnel and pockets, in this order.
pub(super) fn near(site: &SiteContainer, wall: &Wall, seams: &[f64], lines: &Lines) -> Vec<Near> {
    let mut near = vec![
        rail("top rail", Edge::Upper, wall.edges[1] - lines.z[1]),
        rail("bottom rail", Edge::Lower, lines.z[0] - wall.edges[0]),
    ];
    for (kind, word) in [
        (NearKind::Post, "corner post"),
        (NearKind::Fitting, "corner fitting"),
        (NearKind::Gooseneck, "gooseneck"),
        (NearKind::Pocket, "fork pocket"),
    ] {
        let members = site.members.iter().filter(|member| member.name.contains(word));
        near.extend(members.map(|member| beside(kind, member, lines)));
    }
    near.extend(seams_near(seams, lines));
    near
}

fn rail(name: &str, edge: Edge, clear: f64) -> Near {
    Near { kind: NearKind::Rail, name: name.to_owned(), edge, clear, inside: true }
}

/// The distance along the wall to a member's box; negative where the opening stands over it.
fn beside(kind: NearKind, member: &SiteMember, lines: &Lines) -> Near {
    let [low, high] = [member.low.x, member.high.x];
    let (left, right) = (lines.x[0] - high, low - lines.x[1]);
    let overlap = high.min(lines.x[1]) - low.max(lines.x[0]);
    let clear = if 0.0 < overlap { -overlap } else { left.max(right) };
    let edge = if left < right { Edge::Right } else { Edge::Left };
    Near { kind, name: member.name.clone(), edge, clear, inside: 0.0 < overlap }
}

/// Every seam inside the opening, and the nearest one outside each side.
fn seams_near(seams: &[f64], lines: &Lines) -> Vec<Near> {
    let [left, right] = lines.x;
    let inside = |x: &f64| left < *x && *x < right;
    let seam = |x: f64| {
        let edge = if (x - left).abs() <= (x - right).abs() { Edge::Left } else { Edge::Right };
        let clear = (x - left).abs().min((x - right).abs());
        Near { kind: NearKind::Seam, name: "seam".to_owned(), edge, clear, inside: inside(&x) }
    };
    let before = seams.iter().copied().filter(|x| *x <= left).max_by(f64::total_cmp);
    let after = seams.iter().copied().filter(|x| right <= *x).min_by(f64::total_cmp);
    let within = seams.iter().copied().filter(inside);
    before.into_iter().chain(within).chain(after).map(seam).collect()
}

/// The fork pockets that reach under the opening, each with the nearest fastener into the bottom
/// rail. `screws` are where fasteners meet a rail.
pub(super) fn pockets(
    site: &SiteContainer,
    lines: &Lines,
    screws: &[Point3<SiteFrame>],
) -> Vec<Pocket> {
    let pockets = site.members.iter().filter(|member| member.name == "fork pocket");
    let pockets = pockets.map(|member| {
        let x = [member.low.x, member.high.x];
        let z = [member.low.z, member.high.z];
        let outside = |p: &Point3<SiteFrame>| {
            let across = (x[0] - p.x).max(p.x - x[1]).max(0.0);
            let up = (z[0] - p.z).max(p.z - z[1]).max(0.0);
            crate::units::hypot(across, up)
        };
        let below = screws.iter().filter(|p| p.z < 0.0);
        Pocket { x, z, fastener: below.map(outside).min_by(f64::total_cmp) }
    });
    pockets.filter(|p| p.x[0] < lines.x[1] && lines.x[0] < p.x[1]).collect()
}
