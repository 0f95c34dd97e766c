//! One part of `kit.json` as it is read back.

use serde::Deserialize;

use crate::flat::Contour;
use crate::geom::{BlankFrame, Path, Point, Pose, Vertex};

/// Three rows of a rigid motion's matrix.
pub(super) type Rows = [[f64; 4]; 3];

/// A part.
#[derive(Debug, Deserialize)]
pub(super) struct PartRow {
    pub(super) number: String,
    pub(super) name: String,
    pub(super) title: String,
    pub(super) quantity: usize,
    pub(super) material: String,
    pub(super) thickness: f64,
    pub(super) mass_kg: f64,
    pub(super) blank: BlankRow,
    pub(super) faces: Vec<FaceRow>,
    pub(super) bends: Vec<BendRow>,
    pub(super) holes: Vec<HoleRow>,
    pub(super) places: Vec<Rows>,
    pub(super) material_id: String,
    pub(super) density: f64,
    pub(super) gauge: String,
    pub(super) hand: Option<String>,
    pub(super) cutouts: Vec<CutoutRow>,
    pub(super) remarks: Vec<String>,
    pub(super) relations: Vec<String>,
    pub(super) etch: Vec<EtchRow>,
    pub(super) extents: Vec<[[f64; 3]; 2]>,
}

/// Its blank.
#[derive(Debug, Deserialize)]
pub(super) struct BlankRow {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) outer: Vec<[f64; 3]>,
    pub(super) inner: Vec<ContourRow>,
    pub(super) area_mm2: f64,
    pub(super) cut_length_mm: f64,
    pub(super) pierces: usize,
}

/// An inside contour.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum ContourRow {
    Circle([f64; 3]),
    Loop(Vec<[f64; 3]>),
}

/// A face.
#[derive(Debug, Deserialize)]
pub(super) struct FaceRow {
    pub(super) name: String,
    pub(super) outline: Vec<[f64; 2]>,
    pub(super) to_part: Rows,
}

/// A bend.
#[derive(Debug, Deserialize)]
pub(super) struct BendRow {
    pub(super) name: String,
    pub(super) from: String,
    pub(super) to: String,
    pub(super) line: [[f64; 2]; 2],
    pub(super) angle: f64,
    pub(super) direction: String,
    pub(super) inside_radius: f64,
    pub(super) k: f64,
    pub(super) k_source: String,
    pub(super) allowance: f64,
    pub(super) order: Option<usize>,
}

/// A hole of plain shape.
#[derive(Debug, Deserialize)]
pub(super) struct HoleRow {
    pub(super) id: String,
    pub(super) face: String,
    pub(super) centre: [f64; 2],
    pub(super) shape: String,
    pub(super) size: Vec<f64>,
    pub(super) direction: f64,
    #[serde(rename = "for")]
    pub(super) purpose: String,
    pub(super) joint: Option<String>,
}

/// A cut-out of free shape.
#[derive(Debug, Deserialize)]
pub(super) struct CutoutRow {
    pub(super) id: String,
    pub(super) face: String,
    #[serde(rename = "for")]
    pub(super) purpose: String,
}

/// A text to etch.
#[derive(Debug, Deserialize)]
pub(super) struct EtchRow {
    pub(super) text: String,
    pub(super) at: [f64; 2],
    pub(super) direction: f64,
    pub(super) height: f64,
}

impl PartRow {
    /// Path of its DXF file in the kit's folder.
    pub(super) fn dxf(&self) -> String {
        format!("parts/{}.dxf", self.number)
    }

    /// Index of a face by name.
    pub(super) fn face(&self, name: &str) -> Option<usize> {
        self.faces.iter().position(|face| face.name == name)
    }
}

impl BendRow {
    /// The centre line of its zone.
    pub(super) fn ends(&self) -> [Point<BlankFrame>; 2] {
        self.line.map(|[x, y]| Point::new(x, y))
    }
}

impl ContourRow {
    /// As a contour.
    pub(super) fn contour(&self) -> Contour {
        match self {
            ContourRow::Circle([x, y, d]) => Contour::Circle(Point::new(*x, *y), *d),
            ContourRow::Loop(corners) => Contour::Loop(path(corners)),
        }
    }
}

/// A closed path of `kit.json`.
pub(super) fn path(corners: &[[f64; 3]]) -> Path<BlankFrame> {
    let vertex = |[x, y, bulge]: &[f64; 3]| Vertex { at: Point::new(*x, *y), bulge: *bulge };
    Path { vertices: corners.iter().map(vertex).collect() }
}

/// How far rounding may take a matrix from a rigid motion.
const RIGID: f64 = 1e-9;

/// The rigid motion that a matrix says; none when it turns nothing rigidly.
pub(super) fn pose<A, B>(rows: &Rows) -> Option<Pose<A, B>> {
    let column = |i: usize| crate::geom::Point3::new(rows[0][i], rows[1][i], rows[2][i]);
    let (x, y, z) = (column(0), column(1), column(2));
    let lengths = [x, y].map(|axis| (axis.length() - 1.0).abs());
    let pose = Pose::new(x, y, column(3));
    let rigid = lengths.iter().all(|off| *off <= RIGID)
        && x.dot(y).abs() <= RIGID
        && z.distance(pose.z_axis) <= RIGID;
    (rigid && column(3).length().is_finite()).then_some(pose)
}
