//! What was said of a catalogue's variant, kept so that it can be said again without working the
//! variant out.

use serde::{Deserialize, Serialize};

/// An error or a warning. Numbers are texts, since those read back to the last bit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    /// `error` or `warning`.
    pub severity: String,
    /// The check.
    pub check: String,
    /// What it is about.
    pub subject: String,
    /// What is said.
    pub message: String,
    /// Found, limit and unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measure: Option<[String; 3]>,
    /// Where the limit comes from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// The way out.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub help: String,
    /// Why it is accepted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accepted: Option<String>,
    /// Where it stands in a text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<SaidPlace>,
}

/// Where a finding stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SaidPlace {
    /// The data file by its own name, without the folders it is in; empty for the catalogue's file.
    pub file: String,
    /// In the catalogue's file: the keys that lead there from the variant's top.
    pub path: String,
    /// Whether the last key is meant, not its value.
    pub key: bool,
    /// First and last byte: of a data file from its beginning, else from that of key or value.
    pub span: Option<[usize; 2]>,
}
