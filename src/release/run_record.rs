//! What is kept of a run that writes a catalogue, or a share of one: from what, with what, and
//! whether it came to its end.

use serde::{Deserialize, Serialize};

use super::json;

/// Name of the record in the folder of a catalogue or of a share.
pub const RUN_NAME: &str = ".catalogue.json";

const FORMAT: &str = "blankwright-catalogue/1";

/// The record of the last run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunRecord {
    /// Names this kind of record.
    pub format: String,
    /// The catalogue's number.
    pub catalogue: String,
    /// Which share of how many; none for the whole.
    pub share: Option<[usize; 2]>,
    /// Whether the run came to its end. Until then the folder may hold kits of two runs.
    pub finished: bool,
    /// The program's version, with a digest of its sources.
    pub program: String,
    /// SHA-256 of the catalogue's file, hexadecimal.
    pub spec_sha256: String,
    /// Digest of families, containers and shop.
    pub data_sha256: String,
    /// What was asked for, in words.
    pub wish: String,
}

impl Default for RunRecord {
    fn default() -> Self {
        Self {
            format: FORMAT.to_owned(),
            catalogue: String::new(),
            share: None,
            finished: false,
            program: String::new(),
            spec_sha256: String::new(),
            data_sha256: String::new(),
            wish: String::new(),
        }
    }
}

impl RunRecord {
    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        json::to_bytes(self)
    }

    /// Reads a record back; none where it is no such record.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let read: Self = serde_json::from_slice(bytes).ok()?;
        (read.format == FORMAT).then_some(read)
    }
}
