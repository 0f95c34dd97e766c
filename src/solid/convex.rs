//! Convex solids with two ends and flat sides: slabs of faces, slices of bends, boxes, tools.

use crate::geom::{Point3, SiteFrame};

/// A point or a vector of the site, mm.
pub(super) type Spot = Point3<SiteFrame>;

/// Shorter than this a side of a ring is none, mm.
const NO_LENGTH: f64 = 1e-9;

/// A half-space: the points p with `normal . p <= offset`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    /// Unit vector out of the solid.
    pub(super) normal: Spot,
    /// Distance of the plane from the origin along it, mm.
    pub(super) offset: f64,
}

/// An upright box in the site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds3 {
    /// Lower corner.
    pub low: Point3<SiteFrame>,
    /// Upper corner.
    pub high: Point3<SiteFrame>,
}

impl Bounds3 {
    /// The box around points.
    pub(super) fn around(points: &[Spot]) -> Self {
        let inf = f64::INFINITY;
        let mut bounds =
            Self { low: Point3::new(inf, inf, inf), high: Point3::new(-inf, -inf, -inf) };
        points.iter().for_each(|p| bounds.add(*p));
        bounds
    }

    /// Grown to hold a point.
    pub(super) fn add(&mut self, p: Spot) {
        let (low, high) = (self.low, self.high);
        self.low = Point3::new(low.x.min(p.x), low.y.min(p.y), low.z.min(p.z));
        self.high = Point3::new(high.x.max(p.x), high.y.max(p.y), high.z.max(p.z));
    }

    /// Whether it shares more than `limit` with another box in all three directions.
    pub(super) fn deeper(&self, other: &Self, limit: f64) -> bool {
        let (a, b) = (self, other);
        a.high.x.min(b.high.x) - a.low.x.max(b.low.x) > limit
            && a.high.y.min(b.high.y) - a.low.y.max(b.low.y) > limit
            && a.high.z.min(b.high.z) - a.low.z.max(b.low.z) > limit
    }
}

/// A convex solid between two rings of as many corners, with a flat side between each pair of
/// corners.
#[derive(Debug, Clone)]
pub struct Convex {
    /// The first ring, then the second.
    pub(super) points: Vec<Spot>,
    /// The planes of both ends, then of the sides, all outward.
    pub(super) planes: Vec<Plane>,
    /// The box around it.
    pub(super) bounds: Bounds3,
}

impl Convex {
    /// The solid between two rings; none when it has no volume. Corner i of one ring stands over
    /// corner i of the other, and each four make a flat side.
    pub(super) fn between(first: &[Spot], second: &[Spot]) -> Option<Self> {
        let n = first.len();
        let kept: Vec<usize> = (0..n)
            .filter(|&i| {
                let next = (i + 1) % n;
                first[i].distance(first[next]).max(second[i].distance(second[next])) > NO_LENGTH
            })
            .collect();
        if kept.len() < 3 {
            return None;
        }
        let points: Vec<Spot> =
            kept.iter().map(|&i| first[i]).chain(kept.iter().map(|&i| second[i])).collect();
        let middle = points.iter().fold(Spot::new(0.0, 0.0, 0.0), |sum, p| sum + *p)
            * (1.0 / points.len() as f64);
        let n = kept.len();
        let (one, two) = points.split_at(n);
        let mut planes =
            vec![plane(across(one), one[0], middle)?, plane(across(two), two[0], middle)?];
        for i in 0..n {
            let next = (i + 1) % n;
            let along = longer(one[next] - one[i], two[next] - two[i]);
            let up = longer(two[i] - one[i], two[next] - one[next]);
            planes.push(plane(along.cross(up), one[i], middle)?);
        }
        let bounds = Bounds3::around(&points);
        Some(Self { points, planes, bounds })
    }

    /// An upright box; none when it has no volume.
    pub(super) fn upright(low: Spot, high: Spot) -> Option<Self> {
        let ring = |z: f64| {
            [(low.x, low.y), (high.x, low.y), (high.x, high.y), (low.x, high.y)]
                .map(|(x, y)| Point3::new(x, y, z))
        };
        Self::between(&ring(low.z), &ring(high.z))
    }

    /// A straight cylinder as a prism whose edges lie as far outside it as the middles of its sides
    /// inside: with 16 sides within 1 % of the radius, with 48 within 0.11 %.
    pub(super) fn cylinder(from: Spot, to: Spot, radius: f64, sides: usize) -> Option<Self> {
        let (u, v) = beside((to - from).unit());
        let half = 180.0 / sides as f64;
        let corner = 2.0 * radius / (1.0 + crate::units::cos_deg(half));
        let spoke = |i: usize| {
            let angle = 2.0 * half * i as f64;
            (u * crate::units::cos_deg(angle) + v * crate::units::sin_deg(angle)) * corner
        };
        let ring = |middle: Spot| (0..sides).map(|i| middle + spoke(i)).collect::<Vec<_>>();
        Self::between(&ring(from), &ring(to))
    }

    /// The length of a straight line inside it, mm.
    pub(super) fn holds(&self, [from, to]: [Spot; 2]) -> f64 {
        let run = to - from;
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for plane in &self.planes {
            let (height, slope) = (plane.normal.dot(from) - plane.offset, plane.normal.dot(run));
            if slope < 0.0 {
                enter = enter.max(-height / slope);
            } else if slope > 0.0 {
                leave = leave.min(-height / slope);
            } else if height > 0.0 {
                return 0.0;
            }
        }
        (leave - enter).max(0.0) * run.length()
    }

    /// Its flat facets: each plane with its corners in order.
    pub(super) fn facets(&self) -> impl Iterator<Item = (Plane, Vec<Spot>)> + '_ {
        let n = self.points.len() / 2;
        let (one, two) = self.points.split_at(n);
        let ends = [one.to_vec(), two.to_vec()];
        let sides = (0..n).map(move |i| {
            let next = (i + 1) % n;
            vec![one[i], one[next], two[next], two[i]]
        });
        self.planes.iter().copied().zip(ends.into_iter().chain(sides))
    }
}

/// Two unit vectors square to a unit vector and to each other.
pub(super) fn beside(axis: Spot) -> (Spot, Spot) {
    let helper =
        if axis.x.abs() < 0.6 { Point3::new(1.0, 0.0, 0.0) } else { Point3::new(0.0, 1.0, 0.0) };
    let u = axis.cross(helper).unit();
    (u, axis.cross(u))
}

fn longer(a: Spot, b: Spot) -> Spot {
    if a.dot(a) < b.dot(b) { b } else { a }
}

/// Twice the ring's area as a vector square to it.
fn across(ring: &[Spot]) -> Spot {
    let first = ring[0];
    ring.windows(2)
        .fold(Spot::new(0.0, 0.0, 0.0), |sum, two| sum + (two[0] - first).cross(two[1] - first))
}

/// The plane through a point, square to `normal`, with `inside` behind it; none without direction.
fn plane(normal: Spot, through: Spot, inside: Spot) -> Option<Plane> {
    let length = normal.length();
    if length < NO_LENGTH * NO_LENGTH {
        return None;
    }
    let unit = normal * (1.0 / length);
    let unit = if unit.dot(inside - through) > 0.0 { -unit } else { unit };
    Some(Plane { normal: unit, offset: unit.dot(through) })
}
