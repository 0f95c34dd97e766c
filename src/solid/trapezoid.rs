//! A flat region cut into convex pieces: trapezoids with two sides along y, each as long as no
//! corner is in the way.

use crate::geom::{FaceFrame, Point};

/// Corners whose x differ by less are at one x, mm.
const SAME_X: f64 = 1e-7;

type Spot2 = Point<FaceFrame>;

/// A side of the region, from left to right.
#[derive(Clone, Copy)]
struct Edge {
    left: Spot2,
    right: Spot2,
}

impl Edge {
    fn height(&self, x: f64) -> f64 {
        let share = (x - self.left.x) / (self.right.x - self.left.x);
        self.left.y + (self.right.y - self.left.y) * share.clamp(0.0, 1.0)
    }
}

/// A trapezoid that still grows to the right.
struct Open {
    bottom: usize,
    top: usize,
    from: f64,
}

/// The region between rings, those inside an odd number of rings being inside, as convex pieces of
/// up to four corners.
pub(super) fn trapezoids(rings: &[Vec<Spot2>]) -> Vec<Vec<Spot2>> {
    let edges = edges(rings);
    let mut xs: Vec<f64> = rings.iter().flatten().map(|p| p.x).collect();
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|b, a| *b - *a < SAME_X);
    let mut pieces = Vec::new();
    let mut open: Vec<Open> = Vec::new();
    let mut active: Vec<usize> = Vec::new();
    let mut next = 0;
    for two in xs.windows(2) {
        let (from, to) = (two[0], two[1]);
        let middle = (from + to) / 2.0;
        while next < edges.len() && edges[next].left.x < middle {
            active.push(next);
            next += 1;
        }
        active.retain(|&i| edges[i].right.x > middle);
        active.sort_by(|&a, &b| edges[a].height(middle).total_cmp(&edges[b].height(middle)));
        let still = |o: &Open| active.chunks_exact(2).any(|c| c[0] == o.bottom && c[1] == o.top);
        let (grow, done): (Vec<Open>, Vec<Open>) = open.into_iter().partition(still);
        pieces.extend(done.iter().filter_map(|o| piece(&edges, o, from)));
        open = grow;
        for chunk in active.chunks_exact(2) {
            let (bottom, top) = (chunk[0], chunk[1]);
            if !open.iter().any(|o| o.bottom == bottom && o.top == top) {
                open.push(Open { bottom, top, from });
            }
        }
    }
    let end = xs.last().copied().unwrap_or(0.0);
    pieces.extend(open.iter().filter_map(|o| piece(&edges, o, end)));
    pieces
}

/// All sides that are not along y, by their left ends.
fn edges(rings: &[Vec<Spot2>]) -> Vec<Edge> {
    let mut edges: Vec<Edge> = rings
        .iter()
        .flat_map(|ring| (0..ring.len()).map(move |i| (ring[i], ring[(i + 1) % ring.len()])))
        .filter(|(a, b)| (a.x - b.x).abs() >= SAME_X)
        .map(|(a, b)| {
            let (left, right) = if a.x < b.x { (a, b) } else { (b, a) };
            Edge { left, right }
        })
        .collect();
    edges.sort_by(|a, b| a.left.x.total_cmp(&b.left.x));
    edges
}

fn piece(edges: &[Edge], open: &Open, to: f64) -> Option<Vec<Spot2>> {
    let (bottom, top) = (&edges[open.bottom], &edges[open.top]);
    let at = |edge: &Edge, x: f64| Point::new(x, edge.height(x));
    let corners = [at(bottom, open.from), at(bottom, to), at(top, to), at(top, open.from)];
    let mut ring: Vec<Spot2> = Vec::with_capacity(4);
    for corner in corners {
        if ring.iter().all(|other| other.distance(corner) > SAME_X) {
            ring.push(corner);
        }
    }
    (ring.len() >= 3).then_some(ring)
}
