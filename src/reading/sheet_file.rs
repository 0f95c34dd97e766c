//! Sheets of `kit.json` and of `sheets.json` as they are read back.

use serde::Deserialize;

use super::kit_file::KitRow;
use super::part_file::{BlankRow, EtchRow, PartRow};
use crate::geom::{BlankFrame, Map2, Point};

/// The format of common sheets.
const FORMAT: &str = "blankwright-sheets/1";

/// Name of the file that common sheets are known by.
pub(crate) const SHEETS: &str = "sheets.json";

/// A sheet.
#[derive(Debug, Deserialize)]
pub(crate) struct SheetRow {
    pub(crate) file: String,
    pub(crate) material: String,
    pub(crate) thickness: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) copies: usize,
    pub(crate) parts: Vec<LyingRow>,
    #[serde(default)]
    pub(crate) blocked: Vec<[f64; 4]>,
    pub(crate) stock: String,
    pub(crate) stock_remnant: bool,
    pub(crate) gap: f64,
    pub(crate) margin: f64,
    pub(crate) remnant: Option<[f64; 4]>,
    pub(crate) cut_length_mm: f64,
    pub(crate) pierces: usize,
    pub(crate) travel_mm: f64,
    pub(crate) time_s: f64,
    pub(crate) mass_kg: f64,
    pub(crate) price: Option<f64>,
}

/// All sheets of one material and thickness, and how few there could be.
#[derive(Debug, Deserialize)]
pub(crate) struct GroupRow {
    pub(crate) material: String,
    pub(crate) thickness: f64,
    pub(crate) sheets: usize,
    pub(crate) layouts: usize,
    pub(crate) bound_area: f64,
    pub(crate) bound_strips: f64,
    pub(crate) fewest: usize,
}

/// A blank on a sheet.
#[derive(Debug, Deserialize)]
pub(crate) struct LyingRow {
    pub(crate) number: String,
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) turn: f64,
    pub(crate) mirrored: bool,
}

impl LyingRow {
    /// From the blank's frame to the sheet: reflected in y where so, turned, shifted. Both planes
    /// bear the blank's label here.
    pub(crate) fn map(&self) -> Map2<BlankFrame, BlankFrame> {
        let turn = Map2::<BlankFrame, BlankFrame>::turn(self.turn);
        let x_axis = if self.mirrored { -turn.x_axis } else { turn.x_axis };
        Map2::new(x_axis, turn.y_axis, Point::new(self.x, self.y))
    }
}

/// `sheets.json`: common sheets of several kits.
#[derive(Debug, Deserialize)]
pub struct CommonRow {
    pub(crate) format: String,
    pub(crate) kits: Vec<CommonKitRow>,
    pub(crate) sheets: Vec<SheetRow>,
    pub(crate) groups: Vec<GroupRow>,
    pub(crate) parts: Vec<NeedRow>,
    pub(crate) missing: Vec<MissingRow>,
    pub(crate) left_out: Vec<LeftOutRow>,
    pub(crate) files: Vec<String>,
}

/// A kit of common sheets.
#[derive(Debug, Deserialize)]
pub(crate) struct CommonKitRow {
    pub(crate) kit: String,
    pub(crate) times: usize,
}

/// A part of common sheets with its blank.
#[derive(Debug, Deserialize)]
pub(crate) struct NeedRow {
    pub(crate) kit: String,
    pub(crate) number: String,
    pub(crate) title: String,
    pub(crate) quantity: usize,
    pub(crate) each: usize,
    pub(crate) laid: usize,
    pub(crate) grain: bool,
    pub(crate) mirror: bool,
    pub(crate) material: String,
    pub(crate) thickness: f64,
    pub(crate) blank: BlankRow,
    pub(crate) bends: Vec<BendLineRow>,
    pub(crate) etch: Vec<EtchRow>,
}

/// A bend as the laser's file shows it.
#[derive(Debug, Deserialize)]
pub(crate) struct BendLineRow {
    line: [[f64; 2]; 2],
    direction: String,
}

/// A part that found no place.
#[derive(Debug, Deserialize)]
pub(crate) struct MissingRow {
    pub(crate) number: String,
    pub(crate) quantity: usize,
    pub(crate) why: String,
}

/// A kit of which nothing is laid out.
#[derive(Debug, Deserialize)]
pub(crate) struct LeftOutRow {
    pub(crate) kit: String,
    pub(crate) why: String,
}

impl CommonRow {
    /// Reads the bytes of `sheets.json`; else what is wrong with it.
    pub fn of_bytes(bytes: &[u8]) -> Result<Self, String> {
        match serde_json::from_slice::<Self>(bytes) {
            Ok(common) if common.format == FORMAT => Ok(common),
            Ok(common) => Err(format!("is of format `{}`, {FORMAT} is meant", common.format)),
            Err(error) => Err(format!("does not read: {error}")),
        }
    }

    /// The parts as sheets see them.
    pub(crate) fn cut_parts(&self) -> Vec<CutPart<'_>> {
        self.parts.iter().map(NeedRow::cut_part).collect()
    }
}

/// Whether these bytes are a `sheets.json` of this program, judged by their beginning.
pub fn is_sheets_file(bytes: &[u8]) -> bool {
    String::from_utf8_lossy(&bytes[..bytes.len().min(256)]).contains(FORMAT)
}

/// What sheets need to know of a part, of a kit's own file or of common sheets.
#[derive(Debug)]
pub(crate) struct CutPart<'a> {
    pub(crate) number: &'a str,
    pub(crate) title: &'a str,
    /// How many are to be cut.
    pub(crate) quantity: usize,
    pub(crate) material: &'a str,
    pub(crate) thickness: f64,
    pub(crate) grain: bool,
    pub(crate) mirror: bool,
    pub(crate) blank: &'a BlankRow,
    /// Each bend's line, and whether it bends up.
    pub(crate) bends: Vec<([Point<BlankFrame>; 2], bool)>,
    pub(crate) etch: &'a [EtchRow],
}

impl KitRow {
    /// The parts as sheets see them.
    pub(crate) fn cut_parts(&self) -> Vec<CutPart<'_>> {
        self.parts.iter().map(PartRow::cut_part).collect()
    }
}

impl PartRow {
    fn cut_part(&self) -> CutPart<'_> {
        CutPart {
            number: &self.number,
            title: &self.title,
            quantity: self.quantity,
            material: &self.material,
            thickness: self.thickness,
            grain: self.grain,
            mirror: self.mirror,
            blank: &self.blank,
            bends: self.bends.iter().map(|bend| (bend.ends(), bend.direction == "up")).collect(),
            etch: &self.etch,
        }
    }
}

impl NeedRow {
    fn cut_part(&self) -> CutPart<'_> {
        let bend =
            |row: &BendLineRow| (row.line.map(|[x, y]| Point::new(x, y)), row.direction == "up");
        CutPart {
            number: &self.number,
            title: &self.title,
            quantity: self.quantity,
            material: &self.material,
            thickness: self.thickness,
            grain: self.grain,
            mirror: self.mirror,
            blank: &self.blank,
            bends: self.bends.iter().map(bend).collect(),
            etch: &self.etch,
        }
    }
}
