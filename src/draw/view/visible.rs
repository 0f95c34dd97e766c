//! Which stretches of which edges are seen.

use super::cover::{Cover, Sight};
use super::extent::Extent;
use super::grid::{Grid, Met, Next};
use super::model::{Edge, EdgeKind, Facet, Model, Spot};
use super::ring::{Dot, flat};
use crate::draw::Pen;

/// Visible stretches shorter than this are rounding, mm.
const LEAST: f64 = 1e-3;

/// Facets that cover what lies behind them, in a grid.
#[derive(Debug)]
pub(super) struct Covers<'a> {
    covers: Vec<Cover<'a>>,
    /// The front of each of them, the nearest first.
    fronts: Vec<Front>,
    /// For each facet its place among `covers`, if it is one.
    places: Vec<Option<usize>>,
    grid: Grid,
    /// How far behind a facet something must lie to be hidden, mm.
    slack: f64,
}

/// What most covers are told by not to hide a line.
#[derive(Debug)]
struct Front {
    extent: Extent,
    /// How near to the viewer it comes.
    nearest: f64,
}

/// Looks at one line or point after another past covers.
#[derive(Debug)]
pub(super) struct Eye<'a> {
    covers: &'a Covers<'a>,
    sight: Sight,
    met: Met,
}

impl<'a> Covers<'a> {
    /// The covers of all facets seen from their outer side.
    pub(super) fn new(facets: &'a [Facet], slack: f64) -> Self {
        let seen = facets.iter().enumerate().filter(|(_, facet)| facet.front());
        let mut nearest: Vec<(f64, usize)> =
            seen.map(|(i, facet)| (nearest(&facet.loops[0]), i)).collect();
        nearest.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut places = vec![None; facets.len()];
        let (mut covers, mut fronts, mut boxes) = (Vec::new(), Vec::new(), Vec::new());
        for (place, &(nearest, i)) in nearest.iter().enumerate() {
            places[i] = Some(place);
            let cover = Cover::new(&facets[i]);
            fronts.push(Front { extent: *cover.extent(), nearest });
            covers.push(cover);
            boxes.push(extent(&facets[i].loops[0]));
        }
        Self { covers, fronts, places, grid: Grid::new(&boxes), slack }
    }

    /// The cover that a facet is; none when it is not seen from its outer side.
    pub(super) fn of(&self, facet: usize) -> Option<&Cover<'a>> {
        self.places[facet].map(|i| &self.covers[i])
    }

    /// How far behind a facet something must lie to be hidden, mm.
    pub(super) fn slack(&self) -> f64 {
        self.slack
    }

    /// An eye for these covers.
    pub(super) fn eye(&self) -> Eye<'_> {
        let met = self.grid.met(self.covers.len());
        Eye { covers: self, sight: Sight::new(), met }
    }
}

impl Eye<'_> {
    /// Adds the stretches of a line that nothing covers.
    pub(super) fn visible(&mut self, line: &[Spot; 2], seen: &mut impl FnMut([Spot; 2])) {
        let (all, sight) = (self.covers, &mut self.sight);
        sight.turn_to(*line);
        let mut lost = false;
        all.grid.along(line, &mut self.met, &mut |i| {
            let front = &all.fronts[i];
            if front.nearest - sight.deepest <= all.slack {
                return Next::Cell;
            }
            if front.extent.meets(&sight.reach) {
                all.covers[i].hide(sight, all.slack);
                lost = sight.is_lost();
            }
            if lost { Next::Enough } else { Next::On }
        });
        if !lost {
            let order =
                |a: &[f64; 2], b: &[f64; 2]| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1]));
            sight.hidden.sort_unstable_by(order);
            gaps(sight, seen);
        }
    }

    /// Whether a point is seen.
    pub(super) fn sees(&mut self, p: Spot) -> bool {
        self.sees_near(p, 0.0)
    }

    /// Whether nothing covers a point by more than `depth`.
    pub(super) fn sees_near(&mut self, p: Spot, depth: f64) -> bool {
        let slack = self.covers.slack + 2.0 * depth;
        let (all, mut seen) = (self.covers, true);
        all.grid.along(&[p, p], &mut self.met, &mut |i| {
            let cover = &all.covers[i];
            if all.fronts[i].nearest - p.z <= slack {
                return Next::Cell;
            }
            seen = cover.depth(p) <= slack || !cover.holds(flat(p));
            if seen { Next::On } else { Next::Enough }
        });
        seen
    }
}

/// How near to the viewer a ring comes.
fn nearest(ring: &[Spot]) -> f64 {
    ring.iter().fold(f64::NEG_INFINITY, |nearest, p| nearest.max(p.z))
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

/// Calls `seen` with the parts of a line between its hidden stretches, which are sorted.
fn gaps(sight: &Sight, seen: &mut impl FnMut([Spot; 2])) {
    let line = sight.line;
    let along = line[1] - line[0];
    let mut from = 0.0;
    for [a, b] in sight.hidden.iter().copied().chain([[1.0, 1.0]]) {
        if (a - from) * sight.length > LEAST {
            let end = |t: f64| if t == 1.0 { line[1] } else { line[0] + along * t };
            seen([end(from), end(a)]);
        }
        from = b.max(from);
    }
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
pub(super) fn lines(model: &Model, covers: &Covers<'_>) -> Vec<([Spot; 2], Pen)> {
    let mut lines = Vec::new();
    let mut eye = covers.eye();
    for edge in &model.edges {
        if let Some(pen) = pen(model, edge) {
            eye.visible(&edge.ends, &mut |seen| lines.push((seen, pen)));
        }
    }
    lines
}
