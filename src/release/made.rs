//! What is kept of a catalogue's variants: of a kit what its files were made from and what they
//! were when they were made, of a refused variant why it is refused. The same inputs give the same
//! record.

use serde::{Deserialize, Serialize};

use super::json;
use super::said::Said;

/// Name of the record in the kit's folder.
pub const MADE_NAME: &str = ".made.json";

const FORMAT: &str = "blankwright-made/2";

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
    pub said: Vec<Said>,
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

impl Made {
    /// A record.
    pub fn new(
        inputs: String,
        files: Vec<MadeFile>,
        parts: Vec<MadePart>,
        said: Vec<Said>,
    ) -> Self {
        Self { format: FORMAT.to_owned(), inputs, files, parts, said }
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

const REFUSED_FORMAT: &str = "blankwright-refused/1";

/// The record of a variant that was refused.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refused {
    format: String,
    /// Digest of everything that the refusal depends on.
    pub inputs: String,
    /// Errors and warnings; one error at least.
    pub said: Vec<Said>,
}

impl Refused {
    /// A record.
    pub fn new(inputs: String, said: Vec<Said>) -> Self {
        Self { format: REFUSED_FORMAT.to_owned(), inputs, said }
    }

    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        json::to_bytes(self)
    }

    /// Reads a record back; none where it is no such record, or names no error.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let read: Self = serde_json::from_slice(bytes).ok()?;
        let whole = read.format == REFUSED_FORMAT && read.bytes() == bytes;
        (whole && read.said.iter().any(|said| said.severity == "error")).then_some(read)
    }
}
