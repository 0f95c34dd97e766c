//! One folded part: its body's surfaces as triangles, without a gap between them.

use super::piece::{Mesh, Row, Spot};
use crate::body::{self, Body, Curve, Edge, Patch, Surface, Way};
use crate::fold::FoldedPart;
use crate::kit::Part;
use crate::units;

/// Greatest sag of a chord that stands for an arc, mm: less than a line's width on any screen.
const SAG: f64 = 0.05;

/// Greatest angle between two corners of an arc, degrees.
const STEP: f64 = 11.25;

/// Surfaces that turn more than this along an edge show it as a line, degrees.
const SHARP: f64 = 20.0;

/// The part in its own frame, folded; empty where it has no body.
pub fn part(part: &Part, folded: &FoldedPart) -> Mesh {
    body::body(part, folded).map_or_else(Mesh::default, |body| skin(&body))
}

/// A body's surface. Surfaces that meet share all corners along their edge.
fn skin(body: &Body) -> Mesh {
    let counts = counts(body);
    let runs: Vec<Vec<Spot>> =
        body.edges.iter().zip(counts).map(|(edge, count)| run(body, edge, count)).collect();
    let mut mesh = Mesh::default();
    let mut lines = Lines { runs: &runs, beside: vec![Vec::new(); runs.len()] };
    for patch in &body.patches {
        match arcs(body, patch) {
            Some(arcs) => round(&mut mesh, patch, arcs, &mut lines),
            None => flat(&mut mesh, patch, &mut lines),
        }
    }
    mesh.edges = lines.sharp();
    mesh
}

/// Into how many pieces each edge is cut: both arcs of a round surface into as many.
fn counts(body: &Body) -> Vec<usize> {
    let own = |edge: &Edge| match edge.curve {
        Curve::Line => 1,
        Curve::Circle(_, radius) => {
            let whole = edge.ends[0] == edge.ends[1];
            let most = 2.0 * units::acos_deg(1.0 - (SAG / radius).min(1.0));
            let most = most.clamp(1.0, if whole { 2.0 * STEP } else { STEP });
            (sweep(body, edge) / most).ceil().max(1.0) as usize
        }
    };
    let mut counts: Vec<usize> = body.edges.iter().map(own).collect();
    // A countersunk hole has three rims, so that what one surface asks for reaches the third.
    for _ in 0..2 {
        for patch in &body.patches {
            let Some([one, two]) = arcs(body, patch) else { continue };
            let most = counts[one.0].max(counts[two.0]);
            (counts[one.0], counts[two.0]) = (most, most);
        }
    }
    counts
}

/// The two arcs of a round surface.
fn arcs(body: &Body, patch: &Patch) -> Option<[Way; 2]> {
    if let Surface::Plane(_) = patch.surface {
        return None;
    }
    let bent = |way: &&Way| matches!(body.edges[way.0].curve, Curve::Circle(..));
    let mut arcs = patch.loops[0].iter().filter(bent);
    Some([*arcs.next()?, *arcs.next()?])
}

/// How far an arc turns, degrees.
fn sweep(body: &Body, edge: &Edge) -> f64 {
    let Curve::Circle(axes, _) = edge.curve else { return 0.0 };
    let [from, to] = edge.ends;
    if from == to {
        return 360.0;
    }
    let [a, b] = [from, to].map(|end| body.corners[end] - axes.origin);
    units::atan2_deg(a.cross(b).dot(axes.axis), a.dot(b)).rem_euclid(360.0)
}

/// Points along an edge with its ends.
fn run(body: &Body, edge: &Edge, count: usize) -> Vec<Spot> {
    let [from, to] = edge.ends.map(|end| body.corners[end]);
    let Curve::Circle(axes, _) = edge.curve else { return vec![from, to] };
    let (spoke, turn) = (from - axes.origin, sweep(body, edge));
    let side = axes.axis.cross(spoke);
    let between = (1..count)
        .map(|i| turn * i as f64 / count as f64)
        .map(|angle| axes.origin + spoke * units::cos_deg(angle) + side * units::sin_deg(angle));
    std::iter::once(from).chain(between).chain([to]).collect()
}

/// What is known of each edge: its points, and for each surface beside it the mesh's corners along
/// it and the normals there.
struct Lines<'a> {
    runs: &'a [Vec<Spot>],
    beside: Vec<Vec<(Vec<u32>, Spot)>>,
}

impl Lines<'_> {
    /// Points along a way.
    fn points(&self, (edge, forward): Way) -> Vec<Spot> {
        let run = &self.runs[edge];
        if forward { run.clone() } else { run.iter().rev().copied().collect() }
    }

    /// The lines of all edges along which the surface turns.
    fn sharp(&self) -> Vec<[u32; 2]> {
        let turns = |beside: &&Vec<(Vec<u32>, Spot)>| match beside.as_slice() {
            [(_, one), (_, two)] => one.dot(*two) < units::cos_deg(SHARP),
            _ => false,
        };
        let sharp = self.beside.iter().filter(turns);
        sharp.flat_map(|beside| beside[0].0.windows(2).map(|two| [two[0], two[1]])).collect()
    }
}

fn flat(mesh: &mut Mesh, patch: &Patch, lines: &mut Lines) {
    let Surface::Plane(axes) = patch.surface else { return };
    let y = axes.axis.cross(axes.x);
    let ring = |ways: &Vec<Way>| -> Vec<Spot> {
        let open = |way: &Way| {
            let mut points = lines.points(*way);
            points.pop();
            points
        };
        ways.iter().flat_map(open).collect()
    };
    let rings: Vec<Vec<Spot>> = patch.loops.iter().map(ring).collect();
    let plan = |p: &Spot| [(*p - axes.origin).dot(axes.x), (*p - axes.origin).dot(y)];
    let flat: Vec<Vec<[f64; 2]>> =
        rings.iter().map(|ring| ring.iter().map(plan).collect()).collect();
    let mut first = mesh.flat(&rings, &flat, axes.axis);
    for (ways, ring) in patch.loops.iter().zip(&rings) {
        let (mut at, n) = (0, ring.len() as u32);
        for (edge, _) in ways {
            let count = lines.runs[*edge].len() as u32 - 1;
            let along = (at..=at + count).map(|i| first + i % n).collect();
            lines.beside[*edge].push((along, axes.axis));
            at += count;
        }
        first += n;
    }
}

/// A surface between two arcs as a strip.
fn round(mesh: &mut Mesh, patch: &Patch, [one, two]: [Way; 2], lines: &mut Lines) {
    let ways = &patch.loops[0];
    let row = |way: Way| -> Row {
        lines.points(way).into_iter().map(|p| (p, normal(patch, p))).collect()
    };
    let (near, far) = (row(one), row((two.0, !two.1)));
    let first = mesh.strip(&near, &far);
    let n = near.len() as u32;
    for (k, way) in [one, two].into_iter().enumerate() {
        let start = first + k as u32 * n;
        lines.beside[way.0].push(((start..start + n).collect(), near[near.len() / 2].1));
    }
    for way in ways.iter().filter(|way| way.0 != one.0 && way.0 != two.0) {
        let at = if lines.runs[way.0].contains(&near[0].0) { 0 } else { n - 1 };
        let along = vec![first + at, first + n + at];
        lines.beside[way.0].push((along, near[at as usize].1));
    }
}

/// Unit normal of a round surface at one of its points, out of the body.
fn normal(patch: &Patch, p: Spot) -> Spot {
    let (axes, half) = match patch.surface {
        Surface::Plane(axes) => return axes.axis,
        Surface::Cylinder(axes, _) => (axes, 0.0),
        Surface::Cone(axes, _, half) => (axes, half),
    };
    let from = p - axes.origin;
    let away = (from - axes.axis * from.dot(axes.axis)).unit();
    let out = away * units::cos_deg(half) - axes.axis * units::sin_deg(half);
    if patch.outward { out } else { -out }
}
