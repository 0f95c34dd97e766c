//! Closed outlines of straight lines and circular arcs.

use std::f64::consts::PI;

use super::{Map2, Point, tolerance};
use crate::units;

/// One corner of a path and the side that leaves it.
#[derive(Debug, PartialEq)]
pub struct Vertex<F> {
    /// Where the side starts.
    pub at: Point<F>,
    /// tan(arc angle / 4) of the side to the next vertex: 0 straight, positive to the left
    /// (counter-clockwise).
    pub bulge: f64,
}

impl<F> Clone for Vertex<F> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<F> Copy for Vertex<F> {}

/// A closed path; the last vertex joins the first.
#[derive(Debug, PartialEq)]
pub struct Path<F> {
    /// The corners in order.
    pub vertices: Vec<Vertex<F>>,
}

impl<F> Clone for Path<F> {
    fn clone(&self) -> Self {
        Self { vertices: self.vertices.clone() }
    }
}

/// Smallest upright rectangle around something.
#[derive(Debug, PartialEq)]
pub struct Bounds<F> {
    /// Lower left corner.
    pub low: Point<F>,
    /// Upper right corner.
    pub high: Point<F>,
}

impl<F> Clone for Bounds<F> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<F> Copy for Bounds<F> {}

impl<F> Bounds<F> {
    /// The bounds of no point at all; grows with `add`.
    pub const fn empty() -> Self {
        Self {
            low: Point::new(f64::INFINITY, f64::INFINITY),
            high: Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
        }
    }

    /// Grown to hold a point.
    pub fn add(&mut self, p: Point<F>) {
        self.low = Point::new(self.low.x.min(p.x), self.low.y.min(p.y));
        self.high = Point::new(self.high.x.max(p.x), self.high.y.max(p.y));
    }

    /// Extent in x.
    pub fn width(&self) -> f64 {
        self.high.x - self.low.x
    }

    /// Extent in y.
    pub fn height(&self) -> f64 {
        self.high.y - self.low.y
    }

    /// The middle.
    pub fn centre(&self) -> Point<F> {
        self.low.toward(self.high, 0.5)
    }
}

impl<F> Path<F> {
    /// A path of straight sides.
    pub fn polygon(points: &[Point<F>]) -> Self {
        Self { vertices: points.iter().map(|&at| Vertex { at, bulge: 0.0 }).collect() }
    }

    /// Each side as (start, end, bulge).
    pub fn sides(&self) -> impl Iterator<Item = (Point<F>, Point<F>, f64)> + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| {
            let here = &self.vertices[i];
            (here.at, self.vertices[(i + 1) % n].at, here.bulge)
        })
    }

    /// Index of the side from the first to the second point, which may lie off its ends by
    /// [`tolerance::SIDE_MATCH`].
    pub fn side_between(&self, ends: [Point<F>; 2]) -> Option<usize> {
        let near = |a: Point<F>, b: Point<F>| a.distance(b) < tolerance::SIDE_MATCH;
        self.sides().position(|(a, b, _)| near(a, ends[0]) && near(b, ends[1]))
    }

    /// Signed area: positive when the path runs counter-clockwise.
    pub fn area(&self) -> f64 {
        let Some(origin) = self.vertices.first().map(|v| v.at) else { return 0.0 };
        self.sides()
            .map(|(a, b, bulge)| {
                (a - origin).cross(b - origin) * 0.5 + segment_area(a.distance(b), bulge)
            })
            .sum()
    }

    /// Length of all sides, arcs along the arc.
    pub fn length(&self) -> f64 {
        self.sides().map(|(a, b, bulge)| arc_length(a.distance(b), bulge)).sum()
    }

    /// The same outline run the other way.
    pub fn reversed(&self) -> Self {
        let n = self.vertices.len();
        let vertices = (0..n)
            .map(|i| {
                let at = self.vertices[(2 * n - 1 - i) % n].at;
                let bulge = -self.vertices[(2 * n - 2 - i) % n].bulge;
                Vertex { at, bulge }
            })
            .collect();
        Self { vertices }
    }

    /// The outline in another plane; a reflecting map keeps the order of the vertices, so the sense
    /// of rotation changes.
    pub fn mapped<G>(&self, map: &Map2<F, G>) -> Path<G> {
        let sign = if map.reflects() { -1.0 } else { 1.0 };
        let vertices = self.vertices.iter();
        Path {
            vertices: vertices
                .map(|v| Vertex { at: map.point(v.at), bulge: v.bulge * sign })
                .collect(),
        }
    }

    /// Bounding box, arcs included.
    pub fn bounds(&self) -> Bounds<F> {
        let mut bounds = Bounds::empty();
        for (a, b, bulge) in self.sides() {
            bounds.add(a);
            for extreme in arc_extremes(a, b, bulge) {
                bounds.add(extreme);
            }
        }
        bounds
    }

    /// The outline as points, arcs by chords that sag at most `sag`.
    pub fn points(&self, sag: f64) -> Vec<Point<F>> {
        let mut points = Vec::with_capacity(self.vertices.len());
        for (a, b, bulge) in self.sides() {
            points.push(a);
            points.extend(arc_points(a, b, bulge, sag));
        }
        points
    }

    /// The outline without repeated points and without corners that lie on a straight line between
    /// their neighbours.
    pub fn cleaned(&self) -> Self {
        let mut kept: Vec<Vertex<F>> = Vec::with_capacity(self.vertices.len());
        for (a, b, bulge) in self.sides() {
            if a.distance(b) > tolerance::SAME_POINT {
                kept.push(Vertex { at: a, bulge });
            }
        }
        let n = kept.len();
        let straight = |i: usize| {
            let (before, here, after) = (&kept[(i + n - 1) % n], &kept[i], &kept[(i + 1) % n]);
            let (u, v) = (here.at - before.at, after.at - here.at);
            before.bulge == 0.0
                && here.bulge == 0.0
                && u.cross(v).abs() <= tolerance::SAME_POINT * u.length().max(v.length())
                && u.dot(v) > 0.0
        };
        let vertices = (0..n).filter(|&i| !straight(i)).map(|i| kept[i]).collect();
        Self { vertices }
    }
}

/// Length of an arc over a chord.
fn arc_length(chord: f64, bulge: f64) -> f64 {
    if bulge == 0.0 {
        return chord;
    }
    let half_angle = 2.0 * libm::atan(bulge.abs());
    chord * half_angle / libm::sin(half_angle)
}

/// Signed area between an arc and its chord.
fn segment_area(chord: f64, bulge: f64) -> f64 {
    if bulge == 0.0 {
        return 0.0;
    }
    let angle = 4.0 * libm::atan(bulge.abs());
    let radius = chord / (2.0 * libm::sin(angle / 2.0));
    bulge.signum() * radius * radius * (angle - libm::sin(angle)) / 2.0
}

/// Centre and radius of the arc from `a` to `b`; the bulge is not 0.
pub fn arc_centre<F>(a: Point<F>, b: Point<F>, bulge: f64) -> (Point<F>, f64) {
    let chord = b - a;
    let centre = a.toward(b, 0.5) + chord.left() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    (centre, centre.distance(a))
}

/// Points strictly between the ends of an arc, chords sagging at most `sag`; none for a line.
pub(super) fn arc_points<F>(a: Point<F>, b: Point<F>, bulge: f64, sag: f64) -> Vec<Point<F>> {
    if bulge == 0.0 {
        return Vec::new();
    }
    let (centre, radius) = arc_centre(a, b, bulge);
    let angle = 4.0 * units::atan_deg(bulge);
    let step = 2.0 * units::acos_deg(1.0 - (sag / radius).min(1.0)).max(1.0);
    let count = (angle.abs() / step).ceil().max(2.0);
    let spoke = a - centre;
    (1..count as usize).map(|i| centre + spoke.turned(angle * i as f64 / count)).collect()
}

/// The points of an arc that are extreme in x or y; none for a line.
fn arc_extremes<F>(a: Point<F>, b: Point<F>, bulge: f64) -> Vec<Point<F>> {
    if bulge == 0.0 {
        return Vec::new();
    }
    let (centre, radius) = arc_centre(a, b, bulge);
    let start = units::atan2_deg(a.y - centre.y, a.x - centre.x);
    let sweep = 720.0 * libm::atan(bulge) / PI;
    [0.0, 90.0, 180.0, 270.0]
        .into_iter()
        .filter(|&direction: &f64| {
            let turn = (direction - start) * sweep.signum();
            turn.rem_euclid(360.0) <= sweep.abs()
        })
        .map(|direction| centre + Point::new(radius, 0.0).turned(direction))
        .collect()
}
