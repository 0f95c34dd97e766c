//! A body as a solid by its boundary.

use std::collections::HashMap;

use super::record::{Records, Ref, Value};
use crate::body::{Axes, Body, Curve, Surface, Way};
use crate::geom::Point3;

/// Decimals of lengths: a thousandth of what is one point.
const LENGTH: usize = 10;

/// Decimals of directions: over the longest container they carry points as near as lengths do.
const DIRECTION: usize = 12;

/// Decimals of an angle in radians.
const ANGLE: usize = 14;

/// Directions to one decimal more than this are the same.
const SAME_DIRECTION: f64 = 1e12;

/// Writes the entities of one frame; directions that come again are written once.
pub(super) struct Solids<'a> {
    records: &'a mut Records,
    directions: HashMap<[i64; 3], Ref>,
}

impl<'a> Solids<'a> {
    pub(super) fn new(records: &'a mut Records) -> Self {
        Self { records, directions: HashMap::new() }
    }

    /// The solid of a body.
    pub(super) fn solid(&mut self, name: &str, body: &Body) -> Ref {
        let points: Vec<Ref> = body.corners.iter().map(|corner| self.point(*corner)).collect();
        let vertices: Vec<Ref> = points.iter().map(|of| self.named("VERTEX_POINT", *of)).collect();
        let edges: Vec<Ref> = body
            .edges
            .iter()
            .map(|edge| {
                let [from, to] = edge.ends;
                let curve = match edge.curve {
                    Curve::Line => {
                        let along = (body.corners[to] - body.corners[from]).unit();
                        self.line(points[from], along)
                    }
                    Curve::Circle(axes, radius) => self.round("CIRCLE", &axes, &[radius]),
                };
                let ends = [from, to].map(|end| Value::Of(vertices[end]));
                let [from, to] = ends;
                let values = [Value::Text(""), from, to, Value::Of(curve), Value::Flag(true)];
                self.records.add("EDGE_CURVE", &values)
            })
            .collect();
        let patches = body.patches.iter();
        let faces: Vec<Ref> = patches
            .map(|patch| {
                let surface = self.surface(&patch.surface);
                let loops = patch.loops.iter().enumerate();
                let bounds: Vec<Ref> =
                    loops.map(|(i, ways)| self.bound(ways, i == 0, &edges)).collect();
                let outward = Value::Flag(patch.outward);
                let values = [Value::Text(""), Value::All(&bounds), Value::Of(surface), outward];
                self.records.add("ADVANCED_FACE", &values)
            })
            .collect();
        let shell = self.records.add("CLOSED_SHELL", &[Value::Text(""), Value::All(&faces)]);
        self.records.add("MANIFOLD_SOLID_BREP", &[Value::Text(name), Value::Of(shell)])
    }

    fn named(&mut self, entity: &str, of: Ref) -> Ref {
        self.records.add(entity, &[Value::Text(""), Value::Of(of)])
    }

    fn point<F>(&mut self, p: Point3<F>) -> Ref {
        let place = Value::Reals([p.x, p.y, p.z], LENGTH);
        self.records.add("CARTESIAN_POINT", &[Value::Text(""), place])
    }

    fn direction<F>(&mut self, v: Point3<F>) -> Ref {
        let parts = [v.x, v.y, v.z];
        let key = parts.map(|part| (part * SAME_DIRECTION).round() as i64);
        let records = &mut *self.records;
        *self.directions.entry(key).or_insert_with(|| {
            records.add("DIRECTION", &[Value::Text(""), Value::Reals(parts, DIRECTION)])
        })
    }

    fn line<F>(&mut self, from: Ref, along: Point3<F>) -> Ref {
        let along = self.direction(along);
        let values = [Value::Text(""), Value::Of(along), Value::Real(1.0, 0)];
        let vector = self.records.add("VECTOR", &values);
        self.records.add("LINE", &[Value::Text(""), Value::Of(from), Value::Of(vector)])
    }

    /// A frame by its origin, its z and its x.
    pub(super) fn placement<F>(&mut self, [origin, z, x]: [Point3<F>; 3]) -> Ref {
        let origin = self.point(origin);
        let [z, x] = [z, x].map(|axis| Value::Of(self.direction(axis)));
        self.records.add("AXIS2_PLACEMENT_3D", &[Value::Text(""), Value::Of(origin), z, x])
    }

    fn round(&mut self, entity: &str, axes: &Axes, lengths: &[f64]) -> Ref {
        let at = self.placement([axes.origin, axes.axis, axes.x]);
        let lengths = lengths.iter().map(|length| Value::Real(*length, LENGTH));
        let values = [Value::Text(""), Value::Of(at)].into_iter().chain(lengths);
        self.records.add(entity, &values.collect::<Vec<_>>())
    }

    fn surface(&mut self, surface: &Surface) -> Ref {
        match surface {
            Surface::Plane(axes) => self.round("PLANE", axes, &[]),
            Surface::Cylinder(axes, radius) => self.round("CYLINDRICAL_SURFACE", axes, &[*radius]),
            Surface::Cone(axes, radius, half) => {
                let at = self.placement([axes.origin, axes.axis, axes.x]);
                let half = Value::Real(half.to_radians(), ANGLE);
                let values = [Value::Text(""), Value::Of(at), Value::Real(*radius, LENGTH), half];
                self.records.add("CONICAL_SURFACE", &values)
            }
        }
    }

    fn bound(&mut self, ways: &[Way], outer: bool, edges: &[Ref]) -> Ref {
        let oriented: Vec<Ref> = ways
            .iter()
            .map(|(edge, forward)| {
                let (edge, forward) = (Value::Of(edges[*edge]), Value::Flag(*forward));
                let values = [Value::Text(""), Value::Derived, Value::Derived, edge, forward];
                self.records.add("ORIENTED_EDGE", &values)
            })
            .collect();
        let ring = self.records.add("EDGE_LOOP", &[Value::Text(""), Value::All(&oriented)]);
        let entity = if outer { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
        self.records.add(entity, &[Value::Text(""), Value::Of(ring), Value::Flag(true)])
    }
}
