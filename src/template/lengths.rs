//! Lengths of bought profile that a template asks for, to be cut from bars.

use serde::Deserialize;

use super::Formula;
use super::model::Text;

/// One profile, its bars and the pieces cut from them.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LengthsItem {
    /// As it is ordered and printed.
    pub name: Text,
    /// Asked for when this holds.
    pub when: Option<Formula>,
    /// Lengths that can be bought; one of 0 or less is none.
    pub stock: Vec<Formula>,
    /// Width of a saw cut.
    pub kerf: Formula,
    /// What is cut.
    pub pieces: Vec<PieceItem>,
}

/// Pieces of one length.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PieceItem {
    /// In words.
    pub name: Text,
    /// Length.
    pub length: Formula,
    /// How many; pieces of which there are none are left out.
    pub count: Formula,
}
