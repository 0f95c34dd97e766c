//! Joints as a template declares them.

use serde::Deserialize;
use toml::Spanned;

use super::Formula;
use super::model::Text;
use super::part::{Hands, Holes, Sized};

/// A joint, declared once for both hands.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// In words.
    pub name: Text,
    /// Key of the fastener.
    pub fastener: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Whether the mirrored joint is made too.
    #[serde(default)]
    pub hands: Hands,
    /// The face that carries the pattern.
    pub from: Member,
    /// The faces it meets.
    #[serde(default)]
    pub to: Vec<Member>,
    /// The part of the container it goes into: `floor`, `rail`, `post` or `wall`.
    pub into: Option<Spanned<String>>,
    /// Distance the faces stand apart; 0 when silent.
    pub gap: Option<Formula>,
    /// The pattern on the first face.
    pub holes: Holes,
}

/// A face that a joint goes through.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Member {
    /// Name of the part, without hand.
    pub part: Spanned<String>,
    /// Name of the face.
    pub face: Spanned<String>,
    /// Name of the face on the mirrored side, where it differs.
    pub mirrored: Option<Spanned<String>>,
    /// Size of its hole.
    #[serde(default)]
    pub size: Sized,
}
