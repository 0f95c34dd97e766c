//! Volumes that must stay free, as a template declares them, in the site frame.

use serde::Deserialize;
use toml::Spanned;

use super::Formula;
use super::model::Text;
use super::part::{Hands, Repeat};

/// A volume that must stay free: a box (`low`, `high`), a cylinder (`axis`, `radius`), or a
/// rectangle carried along a path (`path`, `bend_radius`, `across`, `size`).
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepOutItem {
    /// In words.
    pub name: Text,
    /// Stands when this holds.
    pub when: Option<Formula>,
    /// Whether its mirror image stands too; declared as the left one.
    #[serde(default)]
    pub hands: Hands,
    /// Lower corner of a box.
    pub low: Option<[Formula; 3]>,
    /// Upper corner of a box.
    pub high: Option<[Formula; 3]>,
    /// The middles of a cylinder's ends.
    pub axis: Option<[[Formula; 3]; 2]>,
    /// A cylinder's radius.
    pub radius: Option<Formula>,
    /// The corners of a path in one plane; the rectangle's middle runs along it.
    #[serde(default)]
    pub path: Vec<[Formula; 3]>,
    /// Radius of the bends in the place of the path's corners.
    pub bend_radius: Option<Formula>,
    /// Direction of the rectangle's width, square to the path.
    pub across: Option<[Formula; 3]>,
    /// The rectangle's width along `across`, and its size in the plane of the path.
    pub size: Option<[Formula; 2]>,
    /// Parts that may enter it, without hand.
    #[serde(default)]
    pub except: Vec<Spanned<String>>,
    /// Stands more than once.
    pub repeat: Option<Repeat>,
}

/// A hollow in the container that its data do not know: an upright box.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HollowItem {
    /// In words.
    pub name: Text,
    /// There when this holds.
    pub when: Option<Formula>,
    /// Whether its mirror image is there too; declared as the left one.
    #[serde(default)]
    pub hands: Hands,
    /// Lower corner.
    pub low: [Formula; 3],
    /// Upper corner.
    pub high: [Formula; 3],
}
