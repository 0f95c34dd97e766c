//! Edges that follow the wall's corrugation: teeth that fill its pockets from outside.

use super::Wall;
use crate::units;

/// How an edge lies against the wall.
pub(super) struct Along {
    /// Site X where the edge's coordinate is 0.
    pub(super) origin: f64,
    /// 1 when the coordinate grows with site X, -1 when against it.
    pub(super) step: f64,
    /// Clearance kept to the wall, mm.
    pub(super) clearance: f64,
    /// Slope of the face against the horizontal, degrees.
    pub(super) tilt: f64,
}

/// The run of an edge of this length, as (coordinate, out) with the plane of the outer flats' outer
/// face at out = 0: the wall's outer face moved outwards by the clearance.
pub(super) fn run(wall: &Wall, along: &Along, length: f64) -> Vec<(f64, f64)> {
    let profile = profile(wall, along.clearance);
    let site = [along.origin, along.origin + along.step * length];
    let (low, high) = (site[0].min(site[1]), site[0].max(site[1]));
    let mut clipped = vec![(low, at(&profile, low))];
    clipped.extend(profile.iter().copied().filter(|(x, _)| low < *x && *x < high));
    clipped.push((high, at(&profile, high)));
    let stretch = units::cos_deg(along.tilt);
    let mut run: Vec<(f64, f64)> =
        clipped.into_iter().map(|(x, y)| ((x - along.origin) * along.step, y / stretch)).collect();
    if along.step < 0.0 {
        run.reverse();
    }
    run
}

/// The wall's outer face, moved outwards, as (site X, site Y) points.
fn profile(wall: &Wall, clearance: f64) -> Vec<(f64, f64)> {
    let slope_angle = units::atan2_deg(wall.depth, wall.slope);
    let shift = clearance * units::tan_deg(slope_angle / 2.0);
    let (near, far) = (wall.outer_flat / 2.0 + shift, wall.outer_flat / 2.0 + wall.slope + shift);
    let (outer, inner) = (-clearance, wall.depth - clearance);
    let centres = &wall.outer_flat_centres;
    let corner = |centre: f64, offset: f64, y: f64| (centre + offset, y);
    let mut points = Vec::new();
    for (i, centre) in centres.iter().enumerate() {
        if i > 0 {
            points.push(corner(*centre, -far, inner));
            points.push(corner(*centre, -near, outer));
        }
        if i + 1 < centres.len() {
            points.push(corner(*centre, near, outer));
            points.push(corner(*centre, far, inner));
        }
    }
    points
}

/// Y of the profile at X; beyond its ends it goes on level.
fn at(profile: &[(f64, f64)], x: f64) -> f64 {
    let after = profile.partition_point(|(px, _)| *px < x);
    match (after.checked_sub(1).and_then(|i| profile.get(i)), profile.get(after)) {
        (Some(a), Some(b)) if b.0 > a.0 => a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0),
        (_, Some(b)) => b.1,
        (Some(a), None) => a.1,
        (None, None) => 0.0,
    }
}
