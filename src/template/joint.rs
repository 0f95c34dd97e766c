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
    /// The side its fasteners are set from: the free side of the `from` face when silent.
    #[serde(default)]
    pub set_from: SideWord,
    /// Parts, without hand, that are fitted only after these fasteners are set.
    #[serde(default)]
    pub before: Vec<Spanned<String>>,
    /// The opening that the tool reaches through.
    pub through: Option<Through>,
}

/// The side of a joint from which its fasteners are set.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SideWord {
    /// The free side of the `from` face.
    #[default]
    From,
    /// The free side of the sheet farthest from it.
    To,
}

/// An opening that a tool reaches through.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Through {
    /// Name of the part, without hand.
    pub part: Spanned<String>,
    /// What its hole is `for`.
    pub hole: Spanned<String>,
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
