//! How deep two convex solids share space.
//!
//! *Depth* is the least thickness of the body they share: the least distance between two parallel
//! planes that hold it. Two sheets that lie 0.1 mm in each other over any area are 0.1 mm deep;
//! a corner that stands 0.11 mm in a face is 0.11 mm deep; touching faces are 0 deep.

use super::convex::{Convex, Plane, Spot};

/// Points this near a plane count as on it, mm: rounding at container size is under 1e-11.
const ON_PLANE: f64 = 1e-9;

/// Directions whose vector product is shorter are one.
const SAME_DIRECTION: f64 = 1e-9;

/// The body that two solids share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    /// Its least thickness, mm.
    pub depth: f64,
    /// The middle of its corners in the site.
    pub at: Spot,
}

/// The body two convex solids share, when its least thickness is more than `limit` (mm, not
/// negative).
pub fn shared(a: &Convex, b: &Convex, limit: f64) -> Option<Shared> {
    if !a.bounds.deeper(&b.bounds, limit) || thin(a, b, limit) || thin(b, a, limit) {
        return None;
    }
    let mut body = Body::default();
    for (one, other) in [(a, b), (b, a)] {
        for (plane, ring) in one.facets() {
            body.add(plane, clip(ring, &other.planes));
        }
    }
    body.shared(limit)
}

/// Whether one of `a`'s sides alone shows that the shared body is no thicker than `limit`: the
/// other solid reaches no deeper behind it.
fn thin(a: &Convex, b: &Convex, limit: f64) -> bool {
    a.planes.iter().any(|plane| {
        let lowest = b.points.iter().map(|p| plane.normal.dot(*p)).fold(f64::INFINITY, f64::min);
        plane.offset - lowest <= limit
    })
}

/// What is left of a flat ring inside all half-spaces.
fn clip(mut ring: Vec<Spot>, planes: &[Plane]) -> Vec<Spot> {
    for plane in planes {
        let height = |p: &Spot| plane.normal.dot(*p) - plane.offset;
        if ring.iter().all(|p| height(p) <= ON_PLANE) {
            continue;
        }
        let mut kept = Vec::with_capacity(ring.len() + 1);
        for (i, a) in ring.iter().enumerate() {
            let b = &ring[(i + 1) % ring.len()];
            let (ha, hb) = (height(a), height(b));
            if ha <= ON_PLANE {
                kept.push(*a);
            }
            if (ha <= ON_PLANE) != (hb <= ON_PLANE) && (ha - hb).abs() > ON_PLANE {
                kept.push(*a + (*b - *a) * (ha / (ha - hb)).clamp(0.0, 1.0));
            }
        }
        ring = kept;
        if ring.len() < 3 {
            return Vec::new();
        }
    }
    ring
}

/// The shared body's corners with the directions of its facets and edges.
#[derive(Default)]
struct Body {
    points: Vec<Spot>,
    normals: Vec<Spot>,
    edges: Vec<Spot>,
}

impl Body {
    fn add(&mut self, plane: Plane, ring: Vec<Spot>) {
        if ring.len() < 3 {
            return;
        }
        add_direction(&mut self.normals, plane.normal);
        for (i, a) in ring.iter().enumerate() {
            let edge = ring[(i + 1) % ring.len()] - *a;
            if edge.length() > ON_PLANE {
                add_direction(&mut self.edges, edge.unit());
            }
        }
        self.points.extend(ring);
    }

    /// The least thickness of a convex body lies square to a facet or to two edges.
    fn shared(&self, limit: f64) -> Option<Shared> {
        let mut depth = f64::INFINITY;
        for normal in &self.normals {
            depth = depth.min(self.extent(*normal));
        }
        for (i, one) in self.edges.iter().enumerate() {
            for two in &self.edges[i + 1..] {
                depth = depth.min(self.extent(one.cross(*two).unit()));
            }
        }
        if self.points.is_empty() || depth <= limit || depth.is_infinite() {
            return None;
        }
        let sum = self.points.iter().fold(Spot::new(0.0, 0.0, 0.0), |sum, p| sum + *p);
        Some(Shared { depth, at: sum * (1.0 / self.points.len() as f64) })
    }

    fn extent(&self, direction: Spot) -> f64 {
        let heights = self.points.iter().map(|p| direction.dot(*p));
        let (low, high) = heights
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), h| (low.min(h), high.max(h)));
        high - low
    }
}

fn add_direction(known: &mut Vec<Spot>, unit: Spot) {
    if known.iter().all(|other| other.cross(unit).length() > SAME_DIRECTION) {
        known.push(unit);
    }
}
