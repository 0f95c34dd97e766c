//! The lines of a laser sheet as DXF entities.

use std::collections::{BTreeMap, BTreeSet};

use dxf::entities::{Circle, Entity, EntityCommon, EntityType, Line, LwPolyline};
use dxf::{Handle, LwPolylineVertex, Point as DxfPoint};

use crate::draw::{LaserShape, LaserSheet, Role};
use crate::geom::{BedFrame, Path, Point};
use crate::write::number::rounded;

/// Decimals of a coordinate in mm: far finer than any laser, coarse enough to drop rounding noise.
pub(super) const COORDINATE: usize = 8;

/// Decimals of a bulge: on a chord of 10 m still an arc good to 1e-8 mm.
const BULGE: usize = 12;

/// The sheet's entities in its order, without lines of no length and without any line twice.
pub(super) fn entities(sheet: &LaserSheet, owner: Handle) -> Vec<Entity> {
    let names: BTreeMap<Role, &str> =
        sheet.layers.iter().map(|layer| (layer.role, layer.name.as_str())).collect();
    let mut seen = BTreeSet::new();
    let mut entities = Vec::with_capacity(sheet.items.len());
    for item in &sheet.items {
        let Some(specific) = specific(&item.shape) else { continue };
        if seen.insert((item.role, key(&specific))) {
            let layer = names.get(&item.role).map_or("0", |name| *name).to_owned();
            let common = EntityCommon {
                layer,
                __owner_handle: owner,
                lineweight_enum_value: BY_LAYER,
                ..EntityCommon::default()
            };
            entities.push(Entity { common, specific });
        }
    }
    entities
}

/// The line weight that leaves it to the layer.
const BY_LAYER: i16 = -1;

fn specific(shape: &LaserShape) -> Option<EntityType> {
    match shape {
        LaserShape::Contour(path) => contour(path),
        LaserShape::Circle(centre, diameter) => circle(*centre, *diameter),
        LaserShape::Line([start, end]) => line(*start, *end),
        LaserShape::Stroke(points) => stroke(points),
    }
}

fn contour(path: &Path<BedFrame>) -> Option<EntityType> {
    let path = path.cleaned();
    let corners: Vec<_> = path.vertices.iter().map(|v| corner(v.at, v.bulge)).collect();
    (corners.len() >= 2).then(|| polyline(corners, true))
}

fn circle(centre: Point<BedFrame>, diameter: f64) -> Option<EntityType> {
    let radius = rounded(diameter / 2.0, COORDINATE);
    (radius > 0.0).then(|| EntityType::Circle(Circle::new(point(centre), radius)))
}

fn line(start: Point<BedFrame>, end: Point<BedFrame>) -> Option<EntityType> {
    let (start, end) = (point(start), point(end));
    (start != end).then(|| EntityType::Line(Line::new(start, end)))
}

/// A run of lines; one that comes back to its start is closed instead of doubling that point.
fn stroke(points: &[Point<BedFrame>]) -> Option<EntityType> {
    let mut corners: Vec<_> = points.iter().map(|&at| corner(at, 0.0)).collect();
    corners.dedup_by(|a, b| same(a, b));
    let closed = matches!(corners.as_slice(), [first, _, .., last] if same(first, last));
    if closed {
        corners.pop();
    }
    (corners.len() >= 2).then(|| polyline(corners, closed))
}

fn polyline(vertices: Vec<LwPolylineVertex>, closed: bool) -> EntityType {
    EntityType::LwPolyline(LwPolyline { flags: closed.into(), vertices, ..LwPolyline::default() })
}

fn corner(at: Point<BedFrame>, bulge: f64) -> LwPolylineVertex {
    LwPolylineVertex {
        x: rounded(at.x, COORDINATE),
        y: rounded(at.y, COORDINATE),
        bulge: rounded(bulge, BULGE),
        ..LwPolylineVertex::default()
    }
}

fn same(a: &LwPolylineVertex, b: &LwPolylineVertex) -> bool {
    a.x == b.x && a.y == b.y
}

fn point(at: Point<BedFrame>) -> DxfPoint {
    DxfPoint::new(rounded(at.x, COORDINATE), rounded(at.y, COORDINATE), 0.0)
}

/// What makes two entities the same line.
fn key(entity: &EntityType) -> Vec<u64> {
    match entity {
        EntityType::Circle(circle) => bits(&[circle.center.x, circle.center.y, circle.radius]),
        EntityType::Line(line) => {
            let (a, b) = ([line.p1.x, line.p1.y], [line.p2.x, line.p2.y]);
            let (a, b) = if a <= b { (a, b) } else { (b, a) };
            bits(&[a[0], a[1], b[0], b[1]])
        }
        EntityType::LwPolyline(line) => {
            line.vertices.iter().flat_map(|v| bits(&[v.x, v.y, v.bulge])).collect()
        }
        _ => Vec::new(),
    }
}

fn bits(numbers: &[f64]) -> Vec<u64> {
    numbers.iter().map(|number| number.to_bits()).collect()
}
