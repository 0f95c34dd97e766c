//! The walls of a slab: the sheet's cut edge around an outline or a hole.

use super::model::{EdgeKind, Facet, Model};
use super::solid::Maker;
use crate::geom::{FaceFrame, Path, Point, Vertex};

/// The facets that stand on one side of an outline, at the side's start and at its end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flank {
    first: usize,
    last: usize,
}

impl Flank {
    /// Facets at the start and at the end of the side.
    pub(super) fn new(first: usize, last: usize) -> Self {
        Self { first, last }
    }
}

/// A path as straight runs.
#[derive(Debug)]
pub(super) struct Runs {
    /// All points in order; the first is repeated at the end.
    points: Vec<Point<FaceFrame>>,
    /// For each side where its run starts among the points; then where the last one ends.
    starts: Vec<usize>,
}

impl Runs {
    /// Arcs as chords that sag at most `sag`.
    pub(super) fn new(path: &Path<FaceFrame>, sag: f64) -> Self {
        let (mut points, mut starts) = (Vec::with_capacity(path.vertices.len() + 1), Vec::new());
        for (a, b, bulge) in path.sides() {
            starts.push(points.len());
            points.push(a);
            if bulge != 0.0 {
                let ends = [Vertex { at: a, bulge }, Vertex { at: b, bulge: 0.0 }];
                let chords = Path { vertices: ends.to_vec() }.points(sag);
                points.extend(&chords[1..chords.len() - 1]);
            }
        }
        starts.push(points.len());
        points.extend(path.vertices.first().map(|first| first.at));
        Self { points, starts }
    }

    /// The points, none repeated.
    pub(super) fn ring(&self) -> &[Point<FaceFrame>] {
        &self.points[..self.points.len() - 1]
    }

    /// The points of each side, its ends included.
    fn sides(&self) -> impl Iterator<Item = &[Point<FaceFrame>]> {
        self.starts.windows(2).map(|ends| &self.points[ends[0]..=ends[1]])
    }
}

/// Raises walls between the two plates on every side of a path but those that are `bent`.
pub(super) fn around(
    model: &mut Model,
    path: &Runs,
    plates: [usize; 2],
    (bent, kind): (&dyn Fn(usize) -> bool, EdgeKind),
    maker: &Maker,
) -> Vec<Flank> {
    let walls = path.sides().enumerate().map(|(side, run)| {
        if bent(side) {
            Flank::new(plates[0], plates[0])
        } else {
            side_wall(model, run, plates, kind, maker)
        }
    });
    walls.collect()
}

/// The wall along a run of points, the sheet on its left.
fn side_wall(
    model: &mut Model,
    run: &[Point<FaceFrame>],
    plates: [usize; 2],
    kind: EdgeKind,
    maker: &Maker,
) -> Flank {
    let surface = model.surface();
    let seat = &maker.seat;
    let first = model.facets.len();
    for (i, pair) in run.windows(2).enumerate() {
        let low = [seat.lifted(pair[0], 0.0), seat.lifted(pair[1], 0.0)];
        let high = pair_lifted(pair, maker);
        let out = (pair[1] - pair[0]).unit().right();
        let normal = seat.x_axis * out.x + seat.y_axis * out.y;
        let loops = vec![vec![low[0], low[1], high[1], high[0]]];
        let facet = model.facet(Facet {
            loops,
            normal,
            item: maker.item,
            surface,
            tinted: kind == EdgeKind::Sharp && maker.thickness >= maker.detail.least_wall,
        });
        model.edge(high, [plates[0], facet], kind);
        model.edge(low, [plates[1], facet], kind);
        if i > 0 {
            model.edge([low[0], high[0]], [facet - 1, facet], EdgeKind::Smooth);
        }
    }
    Flank::new(first, model.facets.len() - 1)
}

fn pair_lifted(pair: &[Point<FaceFrame>], maker: &Maker) -> [super::model::Spot; 2] {
    [maker.seat.lifted(pair[0], maker.thickness), maker.seat.lifted(pair[1], maker.thickness)]
}

/// The upright edges at the corners of a path. A corner is no edge where its sides run on straight,
/// or where an arc runs on smoothly within the turn of its chords.
pub(super) fn corners(
    model: &mut Model,
    path: &Path<FaceFrame>,
    flanks: &[Flank],
    kind: EdgeKind,
    maker: &Maker,
) {
    let n = flanks.len();
    for (i, vertex) in path.vertices.iter().enumerate() {
        let before = (i + n - 1) % n;
        let facets = [flanks[before].last, flanks[i].first];
        let round = vertex.bulge != 0.0 || path.vertices[before].bulge != 0.0;
        let limit = if round { ROUND } else { LEVEL };
        let turn = model.facets[facets[0]].normal.dot(model.facets[facets[1]].normal);
        let kind = if turn > limit { EdgeKind::Smooth } else { kind };
        let low = maker.seat.lifted(vertex.at, 0.0);
        let high = maker.seat.lifted(vertex.at, maker.thickness);
        model.edge([low, high], facets, kind);
    }
}

/// Cosine of 3 degrees: flatter corners are rounding, not edges of the part.
const LEVEL: f64 = 0.9986;

/// Cosine of 50 degrees: chords of an arc meet more flatly, corners of a cut-out do not.
const ROUND: f64 = 0.643;
