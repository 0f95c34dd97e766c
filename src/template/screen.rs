//! Screens of loads as a template declares them: advice that goes with the kit, never approval.

use serde::Deserialize;
use toml::Spanned;

use super::Formula;
use super::model::Text;

/// What a part is screened as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ScreenKind {
    /// On two supports, loaded across.
    Beam,
    /// Pinned at both ends, pressed along.
    Post,
    /// A part and its mirror image bolted to it, pressed along.
    PostPair,
    /// A strip of a flat part, on two edges, loaded across.
    Strip,
}

/// A screen of one part.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ScreenItem {
    /// In words.
    pub name: Text,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Name of the part, without hand; of two hands the left one is screened.
    pub part: Spanned<String>,
    /// As what.
    pub kind: ScreenKind,
    /// Span of a beam or strip, height of a post.
    pub length: Formula,
    /// How wide a strip bears, mm.
    pub width: Option<Formula>,
    /// `en-1993` or `aisi`; `en-1993` where silent.
    pub rule: Option<Formula>,
    /// Whether a beam is held sideways along its length.
    #[serde(default)]
    pub held: bool,
    /// Faces at the section's ends whose outer edge is held by fasteners.
    #[serde(default)]
    pub held_edges: Vec<Spanned<String>>,
    /// Greatest deflection of a beam or strip, mm.
    pub deflection: Option<Formula>,
    /// X in the site of the plane in which a pair is mirrored.
    pub mirror: Option<Formula>,
    /// Thickness of the wall that closes a pair's cell between its lips.
    pub closing: Option<Formula>,
    /// The loads, each by itself.
    pub loads: Vec<LoadItem>,
    /// What the screen takes for granted.
    #[serde(default)]
    pub basis: Vec<Text>,
}

/// One load of a screen.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoadItem {
    /// In words.
    pub name: Text,
    /// Taken when this holds.
    pub when: Option<Formula>,
    /// Along all of a beam, downwards, N/mm.
    pub line: Option<Formula>,
    /// In the middle of a beam, downwards, or along a post, N.
    pub point: Option<Formula>,
    /// Length along a beam over which `point` is spread evenly, mm; 0 where silent.
    pub spread: Option<Formula>,
    /// What the load is multiplied by for stress and buckling; 1 where silent. Deflection is worked
    /// out without it.
    pub factor: Option<Formula>,
    /// Where the load comes from.
    pub basis: Text,
}
