//! One part of `kit.json` as it is read back.

use serde::Deserialize;

use super::kit_file::RevisionRow;
use crate::flat::Contour;
use crate::geom::{BlankFrame, Path, Point, Pose, Vertex};

/// Three rows of a rigid motion's matrix.
pub(crate) type Rows = [[f64; 4]; 3];

/// A part.
#[derive(Debug, Deserialize)]
pub(crate) struct PartRow {
    pub(crate) number: String,
    pub(crate) name: String,
    pub(crate) title: String,
    pub(crate) quantity: usize,
    pub(crate) material: String,
    pub(crate) thickness: f64,
    pub(crate) mass_kg: f64,
    pub(crate) blank: BlankRow,
    pub(crate) faces: Vec<FaceRow>,
    pub(crate) bends: Vec<BendRow>,
    pub(crate) holes: Vec<HoleRow>,
    pub(crate) places: Vec<Rows>,
    pub(crate) material_id: String,
    pub(crate) density: f64,
    pub(crate) gauge: String,
    pub(crate) hand: Option<String>,
    pub(crate) cutouts: Vec<CutoutRow>,
    pub(crate) remarks: Vec<String>,
    pub(crate) relations: Vec<String>,
    pub(crate) etch: Vec<EtchRow>,
    pub(crate) extents: Vec<[[f64; 3]; 2]>,
    #[serde(default)]
    pub(crate) brake: Option<BrakeRow>,
    /// Whether it keeps to the grain of the sheet.
    #[serde(default)]
    pub(crate) grain: bool,
    /// Whether it may lie face down.
    #[serde(default)]
    pub(crate) mirror: bool,
    #[serde(default)]
    pub(crate) revision: String,
    #[serde(default)]
    pub(crate) issued: String,
    #[serde(default)]
    pub(crate) revisions: Vec<RevisionRow>,
}

/// Its blank.
#[derive(Debug, Deserialize)]
pub(crate) struct BlankRow {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) outer: Vec<[f64; 3]>,
    pub(crate) inner: Vec<ContourRow>,
    pub(crate) area_mm2: f64,
    pub(crate) cut_length_mm: f64,
    pub(crate) pierces: usize,
}

/// An inside contour.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum ContourRow {
    Circle([f64; 3]),
    Loop(Vec<[f64; 3]>),
}

/// A face.
#[derive(Debug, Deserialize)]
pub(crate) struct FaceRow {
    pub(crate) name: String,
    pub(crate) outline: Vec<[f64; 2]>,
    pub(crate) to_part: Rows,
}

/// A bend.
#[derive(Debug, Deserialize)]
pub(crate) struct BendRow {
    pub(crate) name: String,
    pub(crate) from: String,
    pub(crate) to: String,
    pub(crate) line: [[f64; 2]; 2],
    pub(crate) angle: f64,
    pub(crate) direction: String,
    pub(crate) inside_radius: f64,
    pub(crate) k: f64,
    pub(crate) k_source: String,
    pub(crate) allowance: f64,
    pub(crate) order: Option<usize>,
}

/// How it is bent.
#[derive(Debug, Deserialize)]
pub(crate) struct BrakeRow {
    pub(crate) steps: Vec<StrokeRow>,
}

/// One stroke of the brake.
#[derive(Debug, Deserialize)]
pub(crate) struct StrokeRow {
    pub(crate) bends: Vec<String>,
    pub(crate) side_up: String,
    pub(crate) punch: ToolRow,
    pub(crate) die: ToolRow,
    pub(crate) angle_set: f64,
    pub(crate) gauge_side: String,
    pub(crate) stop: Option<StopRow>,
}

/// A punch or a die.
#[derive(Debug, Deserialize)]
pub(crate) struct ToolRow {
    pub(crate) name: String,
}

/// Where the back gauge stands.
#[derive(Debug, Deserialize)]
pub(crate) struct StopRow {
    pub(crate) distance: f64,
    pub(crate) face: String,
}

/// A hole's countersink.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct SunkRow {
    pub(crate) diameter: f64,
    pub(crate) angle: f64,
    pub(crate) side: String,
}

/// A hole of plain shape.
#[derive(Debug, Deserialize)]
pub(crate) struct HoleRow {
    pub(crate) id: String,
    pub(crate) face: String,
    pub(crate) centre: [f64; 2],
    pub(crate) shape: String,
    pub(crate) size: Vec<f64>,
    pub(crate) direction: f64,
    #[serde(default)]
    pub(crate) countersink: Option<SunkRow>,
    #[serde(rename = "for")]
    pub(crate) purpose: String,
    pub(crate) joint: Option<String>,
}

/// A cut-out of free shape.
#[derive(Debug, Deserialize)]
pub(crate) struct CutoutRow {
    pub(crate) id: String,
    pub(crate) face: String,
    #[serde(rename = "for")]
    pub(crate) purpose: String,
}

/// A text to etch.
#[derive(Debug, Deserialize)]
pub(crate) struct EtchRow {
    pub(crate) text: String,
    pub(crate) at: [f64; 2],
    pub(crate) direction: f64,
    pub(crate) height: f64,
}

impl PartRow {
    /// Path of its DXF file in the kit's folder.
    pub(crate) fn dxf(&self) -> String {
        format!("parts/{}.dxf", self.number)
    }

    /// Index of a face by name.
    pub(crate) fn face(&self, name: &str) -> Option<usize> {
        self.faces.iter().position(|face| face.name == name)
    }
}

impl BendRow {
    /// The centre line of its zone.
    pub(crate) fn ends(&self) -> [Point<BlankFrame>; 2] {
        self.line.map(|[x, y]| Point::new(x, y))
    }
}

impl ContourRow {
    /// As a contour.
    pub(crate) fn contour(&self) -> Contour {
        match self {
            ContourRow::Circle([x, y, d]) => Contour::Circle(Point::new(*x, *y), *d),
            ContourRow::Loop(corners) => Contour::Loop(path(corners)),
        }
    }
}

/// A closed path of `kit.json`.
pub(crate) fn path(corners: &[[f64; 3]]) -> Path<BlankFrame> {
    let vertex = |[x, y, bulge]: &[f64; 3]| Vertex { at: Point::new(*x, *y), bulge: *bulge };
    Path { vertices: corners.iter().map(vertex).collect() }
}

/// How far rounding may take a matrix from a rigid motion.
const RIGID: f64 = 1e-9;

/// The rigid motion that a matrix says; none when it turns nothing rigidly.
pub(crate) fn pose<A, B>(rows: &Rows) -> Option<Pose<A, B>> {
    let column = |i: usize| crate::geom::Point3::new(rows[0][i], rows[1][i], rows[2][i]);
    let (x, y, z) = (column(0), column(1), column(2));
    let lengths = [x, y].map(|axis| (axis.length() - 1.0).abs());
    let pose = Pose::new(x, y, column(3));
    let rigid = lengths.iter().all(|off| *off <= RIGID)
        && x.dot(y).abs() <= RIGID
        && z.distance(pose.z_axis) <= RIGID;
    (rigid && column(3).length().is_finite()).then_some(pose)
}
