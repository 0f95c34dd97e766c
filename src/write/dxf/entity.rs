//! The lines of a laser sheet as DXF entities.

use super::pair::{put, put_handle, put_point, put_real};
use crate::draw::LaserShape;
use crate::geom::{BedFrame, Path, Point};
use crate::write::number::rounded;

/// Decimals of a coordinate in mm: far finer than any laser, coarse enough to drop rounding noise.
pub(super) const COORDINATE: usize = 8;

/// Decimals of a bulge: on a chord of 10 m still an arc good to 1e-8 mm.
const BULGE: usize = 12;

/// The line weight that leaves it to the layer.
const BY_LAYER: &str = "-1";

/// An entity with its numbers as the file shows them.
pub(super) enum Entity {
    /// Centre and radius.
    Circle([f64; 2], f64),
    /// Start and end.
    Line([f64; 2], [f64; 2]),
    /// Corners (x, y, bulge), and whether the last joins the first.
    Polyline(Vec<[f64; 3]>, bool),
}

/// Where an entity belongs in the file.
pub(super) struct Place<'a> {
    /// The entity's own handle.
    pub(super) handle: u64,
    /// The handle of the record that owns it.
    pub(super) owner: u64,
    /// The layer as the file writes its name.
    pub(super) layer: &'a str,
}

impl Entity {
    /// The entity of a shape; none for a line of no length.
    pub(super) fn of(shape: &LaserShape) -> Option<Self> {
        match shape {
            LaserShape::Contour(path) => contour(path),
            LaserShape::Circle(centre, diameter) => {
                let radius = rounded(diameter / 2.0, COORDINATE);
                (radius > 0.0).then(|| Self::Circle(point(*centre), radius))
            }
            LaserShape::Line([start, end]) => {
                let (start, end) = (point(*start), point(*end));
                (start != end).then_some(Self::Line(start, end))
            }
            LaserShape::Stroke(points) => stroke(points),
        }
    }

    /// What makes two entities the same line.
    pub(super) fn key(&self) -> Vec<u64> {
        match self {
            Self::Circle([x, y], radius) => bits(&[*x, *y, *radius]),
            Self::Line(a, b) => {
                let (a, b) = if a <= b { (a, b) } else { (b, a) };
                bits(&[a[0], a[1], b[0], b[1]])
            }
            Self::Polyline(corners, _) => bits(corners.as_flattened()),
        }
    }

    /// Writes the entity's code pairs.
    pub(super) fn write(&self, out: &mut Vec<u8>, place: &Place<'_>) {
        let (kind, class) = match self {
            Self::Circle(..) => ("CIRCLE", "AcDbCircle"),
            Self::Line(..) => ("LINE", "AcDbLine"),
            Self::Polyline(..) => ("LWPOLYLINE", "AcDbPolyline"),
        };
        put(out, 0, kind);
        put_handle(out, 5, place.handle);
        put_handle(out, 330, place.owner);
        put(out, 100, "AcDbEntity");
        put(out, 8, place.layer);
        put(out, 370, BY_LAYER);
        put(out, 100, class);
        match self {
            Self::Circle(centre, radius) => {
                put_point(out, 10, *centre, COORDINATE);
                put_real(out, 40, *radius, COORDINATE);
            }
            Self::Line(start, end) => {
                put_point(out, 10, *start, COORDINATE);
                put_point(out, 11, *end, COORDINATE);
            }
            Self::Polyline(corners, closed) => write_corners(out, corners, *closed),
        }
    }
}

fn contour(path: &Path<BedFrame>) -> Option<Entity> {
    let corners: Vec<_> = path.cleaned().vertices.iter().map(|v| corner(v.at, v.bulge)).collect();
    (corners.len() >= 2).then_some(Entity::Polyline(corners, true))
}

/// A run of lines; one that comes back to its start is closed instead of doubling that point.
fn stroke(points: &[Point<BedFrame>]) -> Option<Entity> {
    let mut corners: Vec<_> = points.iter().map(|&at| corner(at, 0.0)).collect();
    corners.dedup_by(|a, b| same(a, b));
    let closed = matches!(corners.as_slice(), [first, _, .., last] if same(first, last));
    if closed {
        corners.pop();
    }
    (corners.len() >= 2).then_some(Entity::Polyline(corners, closed))
}

fn write_corners(out: &mut Vec<u8>, corners: &[[f64; 3]], closed: bool) {
    put(out, 90, &corners.len().to_string());
    put(out, 70, if closed { "1" } else { "0" });
    for [x, y, bulge] in corners {
        put_real(out, 10, *x, COORDINATE);
        put_real(out, 20, *y, COORDINATE);
        if *bulge != 0.0 {
            put_real(out, 42, *bulge, BULGE);
        }
    }
}

fn corner(at: Point<BedFrame>, bulge: f64) -> [f64; 3] {
    let [x, y] = point(at);
    [x, y, rounded(bulge, BULGE)]
}

fn same(a: &[f64; 3], b: &[f64; 3]) -> bool {
    a[0] == b[0] && a[1] == b[1]
}

/// A point as the file shows it.
pub(super) fn point(at: Point<BedFrame>) -> [f64; 2] {
    [rounded(at.x, COORDINATE), rounded(at.y, COORDINATE)]
}

fn bits(numbers: &[f64]) -> Vec<u64> {
    numbers.iter().map(|number| number.to_bits()).collect()
}
