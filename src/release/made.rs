//! What is kept beside the files of a catalogue's kit: what they were made from and what they were
//! when they were made. The same inputs give the same record.

use serde::{Deserialize, Serialize};

use super::json;

/// Name of the record in the kit's folder.
pub const MADE_NAME: &str = ".made.json";

const FORMAT: &str = "blankwright-made/1";

/// The record of one kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    format: String,
    /// Digest of everything that the files depend on.
    pub inputs: String,
    /// The files of the kit's own folder.
    pub files: Vec<MadeFile>,
    /// Its parts.
    pub parts: Vec<MadePart>,
    /// Warnings, accepted ones too.
    pub warnings: Vec<MadeWarning>,
}

/// A file as it was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeFile {
    /// Path inside its folder.
    pub path: String,
    /// SHA-256 of its bytes, hexadecimal.
    pub sha256: String,
}

/// A part of the kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadePart {
    /// Its number in all kits that have it.
    pub number: String,
    /// Its number when the kit is drawn alone.
    pub in_kit: String,
    /// As printed.
    pub title: String,
    /// How many the kit has.
    pub quantity: usize,
    /// Material and thickness, as printed.
    pub sheet: String,
    /// What makes it the same part, hexadecimal.
    pub identity: String,
    /// Its files, in the catalogue's folder.
    pub files: Vec<MadeFile>,
}

/// A warning about the kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeWarning {
    /// The check.
    pub check: String,
    /// What it is about.
    pub subject: String,
    /// What is said.
    pub message: String,
    /// Why it is accepted; empty where it is not.
    pub accepted: String,
}

impl Made {
    /// A record.
    pub fn new(
        inputs: String,
        files: Vec<MadeFile>,
        parts: Vec<MadePart>,
        warnings: Vec<MadeWarning>,
    ) -> Self {
        Self { format: FORMAT.to_owned(), inputs, files, parts, warnings }
    }

    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        json::to_bytes(self)
    }

    /// Reads a record back; none where it is no such record.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let made: Self = serde_json::from_slice(bytes).ok()?;
        (made.format == FORMAT).then_some(made)
    }
}
