//! Which stretches of which edges are seen.

use super::cover::{Cover, Sight};
use super::grid::Grid;
use super::model::{Edge, EdgeKind, Facet, Model, Spot};
use super::ring::Dot;
use crate::draw::Pen;

/// Visible stretches shorter than this are rounding, mm.
const LEAST: f64 = 1e-3;

/// Facets that cover what lies behind them, in a grid.
#[derive(Debug)]
pub(super) struct Covers {
    covers: Vec<Cover>,
    grid: Grid,
    /// How far behind a facet something must lie to be hidden, mm.
    slack: f64,
}

impl Covers {
    /// The covers of all facets seen from their outer side.
    pub(super) fn new<'a>(facets: impl Iterator<Item = &'a Facet>, slack: f64) -> Self {
        let mut covers = Vec::new();
        let mut boxes = Vec::new();
        for facet in facets.filter(|facet| facet.front()) {
            covers.push(Cover::new(facet));
            boxes.push(extent(&facet.loops[0]));
        }
        Self { covers, grid: Grid::new(&boxes), slack }
    }

    /// The stretches of a line that nothing covers.
    pub(super) fn visible(&self, line: &[Spot; 2]) -> Vec<[Spot; 2]> {
        let mut sight = Sight::new(*line);
        let mut near = Vec::new();
        self.grid.along(line, &mut near);
        for cover in near.iter().map(|&i| &self.covers[i]) {
            if cover.extent().meets(&sight.reach) {
                cover.hide(&mut sight, self.slack);
            }
        }
        sight.hidden.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        gaps(&sight.hidden, line)
    }

    /// Whether a point is seen.
    pub(super) fn sees(&self, p: Spot) -> bool {
        self.sees_near(p, 0.0)
    }

    /// Whether nothing covers a point by more than `depth`.
    pub(super) fn sees_near(&self, p: Spot, depth: f64) -> bool {
        let slack = self.slack + 2.0 * depth;
        let mut near = Vec::new();
        self.grid.along(&[p, p], &mut near);
        let flat = Dot::new(p.x, p.y);
        near.iter().all(|&i| self.covers[i].depth(p) <= slack || !self.covers[i].holds(flat))
    }
}

fn extent(ring: &[Spot]) -> [Dot; 2] {
    let mut low = Dot::new(f64::INFINITY, f64::INFINITY);
    let mut high = -low;
    for p in ring {
        low = Dot::new(low.x.min(p.x), low.y.min(p.y));
        high = Dot::new(high.x.max(p.x), high.y.max(p.y));
    }
    [low, high]
}

/// The parts of a line between sorted hidden stretches.
fn gaps(hidden: &[[f64; 2]], line: &[Spot; 2]) -> Vec<[Spot; 2]> {
    let along = line[1] - line[0];
    let length = Dot::new(along.x, along.y).length();
    let mut seen = Vec::new();
    let mut from = 0.0;
    for [a, b] in hidden.iter().copied().chain([[1.0, 1.0]]) {
        if (a - from) * length > LEAST {
            let end = |t: f64| if t == 1.0 { line[1] } else { line[0] + along * t };
            seen.push([end(from), end(a)]);
        }
        from = b.max(from);
    }
    seen
}

/// What an edge is drawn with, where it is not hidden; none where it is no line of the picture.
pub(super) fn pen(model: &Model, edge: &Edge) -> Option<Pen> {
    let [a, b] = edge.facets.map(|i| model.facets[i].front());
    match edge.kind {
        EdgeKind::Sharp => (a || b).then_some(Pen::Outline),
        EdgeKind::Small => (a || b).then_some(Pen::Narrow),
        EdgeKind::Smooth => (a != b).then_some(Pen::Outline),
        EdgeKind::Tangent if a != b => Some(Pen::Outline),
        EdgeKind::Tangent => a.then_some(Pen::Narrow),
        EdgeKind::Broken => Some(Pen::Narrow),
        EdgeKind::Crest => (a && b).then_some(Pen::Outline),
    }
}

/// The visible stretches of all edges of a model with their pens.
pub(super) fn lines(model: &Model, covers: &Covers) -> Vec<([Spot; 2], Pen)> {
    let mut lines = Vec::new();
    for edge in &model.edges {
        if let Some(pen) = pen(model, edge) {
            lines.extend(covers.visible(&edge.ends).into_iter().map(|seen| (seen, pen)));
        }
    }
    lines
}
