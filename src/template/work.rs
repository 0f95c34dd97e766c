//! What a template says of the work on site besides its steps: foam, what is measured
//! there, what is used up; and what a customer asks of the kit.

use serde::Deserialize;

use super::Formula;
use super::model::Text;

/// A place that is filled with foam.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FoamItem {
    /// Where, in words.
    pub name: Text,
    /// Filled when this holds.
    pub when: Option<Formula>,
    /// Area that is sprayed, mm2.
    pub area: Formula,
    /// Mean depth, mm.
    pub depth: Formula,
}

/// A size that is set or checked on site.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasureItem {
    /// What is set: `shim`.
    pub name: Text,
    /// Set when this holds.
    pub when: Option<Formula>,
    /// Where, in words.
    pub at: Text,
    /// The size, in words.
    pub size: Text,
    /// How, in words.
    #[serde(default)]
    pub how: Option<Text>,
}

/// Something that is used up on site or bought besides the kit: a count, or a quantity worked out
/// from a length or an area, to which the papers add their allowance.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SupplyItem {
    /// What it is.
    pub name: Text,
    /// Needed when this holds.
    pub when: Option<Formula>,
    /// What it is for, in words.
    #[serde(rename = "for")]
    pub purpose: Text,
    /// How many pieces.
    pub count: Option<Formula>,
    /// Length of a seam, mm: tape by its length, or a bead of sealant where `bead` is given.
    pub seam: Option<Formula>,
    /// Diameter of the bead, mm.
    pub bead: Option<Formula>,
    /// Area, mm2: by its size, or a bed of sealant where `bed` is given.
    pub area: Option<Formula>,
    /// Thickness of the bed, mm.
    pub bed: Option<Formula>,
    /// Where the need comes from; common practice where nothing is said.
    #[serde(default)]
    pub source: String,
}

/// A size or count that a customer asks for.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeySizeItem {
    /// What it is, in a customer's words.
    pub name: Text,
    /// Told when this holds.
    pub when: Option<Formula>,
    /// The size, in words.
    pub size: Text,
}
