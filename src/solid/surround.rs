//! The container and the keep-outs as convex solids in the site.

use super::convex::{Convex, Spot};
use crate::geom::Point3;
use crate::kit::{Shape, Wall};
use crate::units;

/// Greatest angle of a swept box's bend under one solid, degrees: its outer corners then stand
/// within 0.2 % of the radius of the true bend.
const SWEPT_STEP: f64 = 5.0;

/// A leg of a path no longer than this is taken up by the bends at its ends, mm.
const TAKEN_UP: f64 = 1e-6;

/// What is left of a wall's sheet: a slab for each flat and each slope, less the cut. Beyond the
/// first and the last outer flat the wall goes on in their plane.
pub(super) fn wall(wall: &Wall) -> Vec<Convex> {
    let mut solids = Vec::new();
    for strip in strips(wall) {
        for [bottom, top] in upright_runs(wall, &strip) {
            let ring = |z: f64| strip.map(|(x, y)| Point3::new(x, y, z));
            solids.extend(Convex::between(&ring(bottom), &ring(top)));
        }
    }
    solids
}

/// The wall in plan: strips of four corners, split where the cuts are.
fn strips(wall: &Wall) -> Vec<[(f64, f64); 4]> {
    let (outer, inner) = (outline(wall, false), outline(wall, true));
    let mut strips = Vec::new();
    for (o, i) in outer.windows(2).zip(inner.windows(2)) {
        strips.extend(split(wall, [o[0], o[1], i[1], i[0]]));
    }
    strips
}

/// The corners of the wall's outer or inner face in plan, from end to end. The inner face runs
/// parallel to the outer one, mitred.
fn outline(wall: &Wall, inner: bool) -> Vec<(f64, f64)> {
    let half = wall.outer_flat / 2.0;
    let slant = units::hypot(wall.slope, wall.depth);
    // The mitre of two parallels at distance t: the corner moves by t tan(half the turn) along x.
    let shift = if inner { wall.thickness * (slant - wall.slope) / wall.depth } else { 0.0 };
    let y = if inner { wall.thickness } else { 0.0 };
    let mut corners = vec![(wall.ends[0], y)];
    let last = wall.outer_flat_centres.len().saturating_sub(1);
    for (i, centre) in wall.outer_flat_centres.iter().enumerate() {
        if 0 < i {
            corners.push((centre - half - wall.slope + shift, y + wall.depth));
            corners.push((centre - half + shift, y));
        }
        if i < last {
            corners.push((centre + half - shift, y));
            corners.push((centre + half + wall.slope - shift, y + wall.depth));
        }
    }
    corners.push((wall.ends[1], y));
    corners
}

/// A strip cut where an upright cut passes through it. Cuts lie on outer flats, where both faces
/// have the same x.
fn split(wall: &Wall, strip: [(f64, f64); 4]) -> Vec<[(f64, f64); 4]> {
    let mut pieces = vec![strip];
    for x in wall.cuts.into_iter().flatten() {
        let mut next = Vec::new();
        for [a, b, c, d] in pieces {
            let inside = a.0.max(d.0) < x && x < b.0.min(c.0);
            if !inside {
                next.push([a, b, c, d]);
                continue;
            }
            let at =
                |p: (f64, f64), q: (f64, f64)| (x, p.1 + (q.1 - p.1) * (x - p.0) / (q.0 - p.0));
            let (outer, inner) = (at(a, b), at(d, c));
            next.extend([[a, outer, inner, d], [outer, b, c, inner]]);
        }
        pieces = next;
    }
    pieces
}

/// The heights at which a strip of the wall still stands.
fn upright_runs(wall: &Wall, strip: &[(f64, f64); 4]) -> Vec<[f64; 2]> {
    let [bottom, top] = wall.edges;
    let middle = strip.iter().map(|corner| corner.0).sum::<f64>() / 4.0;
    match (wall.cuts, wall.cut_heights) {
        (Some([left, right]), Some([from, to])) if left < middle && middle < right => {
            let runs = [[bottom, from.min(top)], [to.max(bottom), top]];
            runs.into_iter().filter(|[low, high]| low < high).collect()
        }
        _ => vec![[bottom, top]],
    }
}

/// A keep-out's volume.
pub(super) fn volume(shape: &Shape) -> Vec<Convex> {
    match shape {
        Shape::Box { low, high } => Convex::upright(*low, *high).into_iter().collect(),
        Shape::Cylinder { ends, radius } => {
            Convex::cylinder(ends[0], ends[1], *radius, 48).into_iter().collect()
        }
        Shape::Swept { path, bend_radius, across, size } => {
            let stations = stations(path, *bend_radius, *across);
            let ring = |station: &Station| {
                let (a, b) = (*across * (size[0] / 2.0), station.up * (size[1] / 2.0));
                let c = station.at;
                [c - a - b, c + a - b, c + a + b, c - a + b]
            };
            let pair = |two: &[Station]| Convex::between(&ring(&two[0]), &ring(&two[1]));
            // A leg that its bends take up whole has no length of its own.
            let long = |two: &&[Station]| TAKEN_UP < two[0].at.distance(two[1].at);
            stations.windows(2).filter(long).filter_map(pair).collect()
        }
    }
}

/// A cross section of a swept box.
struct Station {
    at: Spot,
    /// Unit vector in the plane of the path, in the plane of the section.
    up: Spot,
}

/// The sections at the path's ends and through its bends.
fn stations(path: &[Spot], bend_radius: f64, across: Spot) -> Vec<Station> {
    let legs: Vec<Spot> = path.windows(2).map(|two| (two[1] - two[0]).unit()).collect();
    let (Some(first), Some(last)) = (legs.first(), legs.last()) else { return Vec::new() };
    let straight = |at: Spot, leg: Spot| Station { at, up: across.cross(leg) };
    let mut stations = vec![straight(path[0], *first)];
    for (i, two) in legs.windows(2).enumerate() {
        stations.extend(bend(path[i + 1], [two[0], two[1]], bend_radius, across));
    }
    stations.push(straight(path[path.len() - 1], *last));
    stations
}

/// The sections through the bend at one corner of the path.
fn bend(corner: Spot, [a, b]: [Spot; 2], radius: f64, across: Spot) -> Vec<Station> {
    let turn = units::atan2_deg(a.cross(b).dot(across), a.dot(b));
    if turn == 0.0 {
        return Vec::new();
    }
    let setback = radius * units::tan_deg(turn.abs() / 2.0);
    let side = across.cross(a) * turn.signum();
    let centre = corner - a * setback + side * radius;
    let count = (turn.abs() / SWEPT_STEP).ceil();
    let spoke = |i: usize| {
        let angle = turn.abs() * i as f64 / count;
        -side * units::cos_deg(angle) + a * units::sin_deg(angle)
    };
    (0..=count as usize)
        .map(|i| Station { at: centre + spoke(i) * radius, up: spoke(i) * -turn.signum() })
        .collect()
}
