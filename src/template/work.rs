//! What a template says of the work on site besides its steps: foam, and what is measured there.

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
