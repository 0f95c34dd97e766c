//! `kit.json` as it is read back. Keys that nobody uses are passed over, so that the format can
//! grow.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::around_file::{KeepOutRow, MemberBoxRow, ThroughRow};
use super::part_file::{PartRow, Rows};
use super::sheet_file::{GroupRow, SheetRow};
/// The format that is read.
pub(super) const FORMAT: &str = "blankwright-kit/1";

/// The file's name in the kit's folder.
pub(crate) const NAME: &str = "kit.json";

/// The whole file.
#[derive(Debug, Deserialize)]
pub struct KitRow {
    pub(crate) format: String,
    pub(crate) kit: String,
    pub(crate) title: String,
    pub(crate) revision: String,
    pub(crate) template: String,
    pub(crate) spec_sha256: String,
    pub(crate) values: BTreeMap<String, ValueRow>,
    pub(crate) wall: Option<WallRow>,
    pub(crate) parts: Vec<PartRow>,
    pub(crate) joints: Vec<JointRow>,
    pub(crate) fasteners: Vec<FastenerRow>,
    pub(crate) findings: Vec<FindingRow>,
    pub(crate) date: String,
    pub(crate) drawn_by: String,
    pub(crate) approved_by: String,
    pub(crate) owner: String,
    pub(crate) site: String,
    pub(crate) units: String,
    pub(crate) tolerance: String,
    pub(crate) container: ContainerRow,
    pub(crate) keep_outs: Vec<KeepOutRow>,
    pub(crate) revisions: Vec<RevisionRow>,
    pub(crate) notes: Vec<String>,
    pub(crate) cautions: Vec<String>,
    pub(crate) files: Vec<String>,
    #[serde(default)]
    pub(crate) sheets: Vec<SheetRow>,
    #[serde(default)]
    pub(crate) sheet_groups: Vec<GroupRow>,
    pub(crate) neighbours: Vec<NeighbourRow>,
    #[serde(default)]
    pub(crate) amendments: Vec<AmendmentRow>,
}

/// A resolved or derived value.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(crate) enum ValueRow {
    Number(f64),
    Flag(bool),
    Text(String),
}

/// The wall.
#[derive(Debug, Deserialize)]
pub(crate) struct WallRow {
    pub(crate) pitch: f64,
    pub(crate) outer_flat: f64,
    pub(crate) slope: f64,
    pub(crate) inner_flat: f64,
    pub(crate) depth: f64,
    pub(crate) thickness: f64,
    pub(crate) outer_flat_centres: Vec<f64>,
    pub(crate) cuts: Option<[f64; 2]>,
    pub(crate) cut_top: Option<f64>,
    pub(crate) cut_bottom: Option<f64>,
    pub(crate) ends: [f64; 2],
    pub(crate) edges: [f64; 2],
}

/// A joint.
#[derive(Debug, Deserialize)]
pub(crate) struct JointRow {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) fastener: String,
    pub(crate) grip: f64,
    pub(crate) gap: f64,
    pub(crate) pairs: Vec<Vec<MemberRow>>,
    pub(crate) set_from: String,
    pub(crate) before: Vec<String>,
    pub(crate) through: Option<ThroughRow>,
}

/// A member of a joint's pair.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(crate) enum MemberRow {
    Hole {
        part: String,
        place: usize,
        hole: String,
    },
    Into {
        into: String,
        #[serde(default)]
        post: bool,
    },
}

/// A fastener with its counts.
#[derive(Debug, Deserialize)]
pub(crate) struct FastenerRow {
    pub(crate) id: String,
    pub(crate) title: String,
    pub(crate) count: usize,
    pub(crate) spare: usize,
    pub(crate) hole: f64,
    pub(crate) diameter: f64,
    pub(crate) grip: [f64; 2],
    pub(crate) edge: f64,
    pub(crate) source: String,
}

/// Another kit of the same box.
#[derive(Debug, Deserialize)]
pub(crate) struct NeighbourRow {
    pub(crate) kit: String,
    pub(crate) title: String,
    pub(crate) to_site: Rows,
    pub(crate) bolts: Vec<MeetingRow>,
}

impl KitRow {
    /// What this kit orders to join it to another: that one's number and the bolts.
    pub(crate) fn ordered(&self) -> impl Iterator<Item = (&str, &MeetingRow)> {
        let all =
            self.neighbours.iter().flat_map(|row| row.bolts.iter().map(move |bolt| (row, bolt)));
        let mine = all.filter(|(_, bolt)| bolt.ordered_by == self.kit);
        mine.map(|(row, bolt)| (row.kit.as_str(), bolt))
    }
}

/// What bolts two kits together.
#[derive(Debug, Deserialize)]
pub(crate) struct MeetingRow {
    pub(crate) fastener: String,
    pub(crate) count: usize,
    pub(crate) grip: f64,
    pub(crate) ordered_by: String,
}

/// What the checks said when the kit was drawn.
#[derive(Debug, Deserialize)]
pub(crate) struct FindingRow {
    pub(crate) check: String,
    pub(crate) severity: String,
    pub(crate) subject: String,
}

/// The container.
#[derive(Debug, Deserialize)]
pub(crate) struct ContainerRow {
    pub(crate) id: String,
    pub(crate) title: String,
    pub(crate) members: Vec<MemberBoxRow>,
    pub(crate) uncut_wall: Option<WallRow>,
}

/// What an amendment did to a part.
#[derive(Debug, Deserialize)]
pub(crate) struct AmendmentRow {
    pub(crate) part: String,
    pub(crate) text: String,
    pub(crate) reason: String,
    pub(crate) revision: String,
}

/// A line of the revision table.
#[derive(Debug, Deserialize)]
pub(crate) struct RevisionRow {
    pub(crate) index: String,
    pub(crate) date: String,
    pub(crate) text: String,
}

impl KitRow {
    /// Reads the bytes of a kit's own file; else what is wrong with it.
    pub fn of_bytes(bytes: &[u8]) -> Result<Self, String> {
        match serde_json::from_slice::<Self>(bytes) {
            Ok(kit) if kit.format == FORMAT => Ok(kit),
            Ok(kit) => Err(format!("is of format `{}`, {FORMAT} is meant", kit.format)),
            Err(error) => Err(format!("does not read: {error}")),
        }
    }
}

/// Whether these bytes are a `kit.json` of this program, judged by their beginning.
pub fn is_kit_file(bytes: &[u8]) -> bool {
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(256)]);
    head.contains(FORMAT)
}
