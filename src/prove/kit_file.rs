//! `kit.json` as it is read back. Keys that the proof does not use are passed over, so that the
//! format can grow.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Found;
use super::around_file::{KeepOutRow, MemberBoxRow, ThroughRow};
use super::codes::READ;
use super::desk::Desk;
use super::part_file::PartRow;
use crate::note::Notes;

/// The format that is read.
pub(super) const FORMAT: &str = "blankwright-kit/1";

/// The file's name in the kit's folder.
pub(super) const NAME: &str = "kit.json";

/// The whole file.
#[derive(Debug, Deserialize)]
pub(super) struct KitRow {
    pub(super) format: String,
    pub(super) kit: String,
    pub(super) title: String,
    pub(super) revision: String,
    pub(super) template: String,
    pub(super) spec_sha256: String,
    pub(super) values: BTreeMap<String, ValueRow>,
    pub(super) wall: Option<WallRow>,
    pub(super) parts: Vec<PartRow>,
    pub(super) joints: Vec<JointRow>,
    pub(super) fasteners: Vec<FastenerRow>,
    pub(super) findings: Vec<FindingRow>,
    pub(super) date: String,
    pub(super) drawn_by: String,
    pub(super) approved_by: String,
    pub(super) owner: String,
    pub(super) site: String,
    pub(super) units: String,
    pub(super) tolerance: String,
    pub(super) container: ContainerRow,
    pub(super) keep_outs: Vec<KeepOutRow>,
    pub(super) revisions: Vec<RevisionRow>,
    pub(super) notes: Vec<String>,
    pub(super) cautions: Vec<String>,
    pub(super) files: Vec<String>,
}

/// A resolved or derived value.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum ValueRow {
    Number(f64),
    Flag(bool),
    Text(String),
}

/// The wall.
#[derive(Debug, Deserialize)]
pub(super) struct WallRow {
    pub(super) pitch: f64,
    pub(super) outer_flat: f64,
    pub(super) slope: f64,
    pub(super) inner_flat: f64,
    pub(super) depth: f64,
    pub(super) thickness: f64,
    pub(super) outer_flat_centres: Vec<f64>,
    pub(super) cuts: Option<[f64; 2]>,
    pub(super) cut_top: Option<f64>,
    pub(super) cut_bottom: Option<f64>,
    pub(super) ends: [f64; 2],
    pub(super) edges: [f64; 2],
}

/// A joint.
#[derive(Debug, Deserialize)]
pub(super) struct JointRow {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) fastener: String,
    pub(super) grip: f64,
    pub(super) gap: f64,
    pub(super) pairs: Vec<Vec<MemberRow>>,
    pub(super) set_from: String,
    pub(super) before: Vec<String>,
    pub(super) through: Option<ThroughRow>,
}

/// A member of a joint's pair.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum MemberRow {
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
pub(super) struct FastenerRow {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) count: usize,
    pub(super) spare: usize,
    pub(super) hole: f64,
    pub(super) diameter: f64,
    pub(super) grip: [f64; 2],
    pub(super) edge: f64,
    pub(super) source: String,
}

/// What the checks said when the kit was drawn.
#[derive(Debug, Deserialize)]
pub(super) struct FindingRow {
    pub(super) check: String,
    pub(super) severity: String,
    pub(super) subject: String,
}

/// The container.
#[derive(Debug, Deserialize)]
pub(super) struct ContainerRow {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) members: Vec<MemberBoxRow>,
    pub(super) uncut_wall: Option<WallRow>,
}

/// A line of the revision table.
#[derive(Debug, Deserialize)]
pub(super) struct RevisionRow {
    pub(super) index: String,
    pub(super) date: String,
    pub(super) text: String,
}

/// Reads the kit's own file; what is wrong with it is told.
pub(super) fn read(files: &[Found], notes: &mut Notes) -> Option<KitRow> {
    let mut desk = Desk::new(notes, NAME);
    let Some(found) = files.iter().find(|file| file.path == NAME) else {
        desk.tell(&READ, "is not there");
        return None;
    };
    match serde_json::from_slice::<KitRow>(found.bytes) {
        Ok(kit) if kit.format == FORMAT => Some(kit),
        Ok(kit) => {
            desk.tell(&READ, format!("is of format `{}`, {FORMAT} is meant", kit.format));
            None
        }
        Err(error) => {
            desk.tell(&READ, format!("does not read: {error}"));
            None
        }
    }
}
