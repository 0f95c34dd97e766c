//! What a template file says, typed. Lengths are formulas in millimetres, angles in degrees.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;
use toml::Spanned;

use super::Formula;
use super::joint::Joint;
use super::keep_out::{HollowItem, KeepOutItem};
use super::lengths::LengthsItem;
use super::part::PartItem;
use super::screen::ScreenItem;
use super::work::{FoamItem, KeySizeItem, MeasureItem, SupplyItem};
use crate::note::Place;

/// A sentence, perhaps with `{{ formulas }}`, and its place.
pub type Text = Spanned<String>;

/// A whole kit family.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Template {
    /// Name, title and what it makes.
    pub template: Head,
    /// Parameters by group and name.
    #[serde(default)]
    pub parameters: BTreeMap<String, BTreeMap<String, Spanned<Parameter>>>,
    /// Groups of parts cut from one kind of sheet.
    pub sheets: BTreeMap<String, SheetGroup>,
    /// How the opening is fitted to the corrugation; none for kits that cut no wall.
    pub opening: Option<OpeningRule>,
    /// Two containers end to end, for kits that join them.
    pub ends: Option<EndsRule>,
    /// Derived values by group and name.
    #[serde(default)]
    pub values: BTreeMap<String, BTreeMap<String, Formula>>,
    /// The parts in the order of their numbers.
    pub parts: Vec<PartItem>,
    /// What joins them.
    #[serde(default)]
    pub joints: Vec<Joint>,
    /// Volumes that must stay free.
    #[serde(default)]
    pub keep_outs: Vec<KeepOutItem>,
    /// Hollows in the container as measured.
    #[serde(default)]
    pub hollows: Vec<HollowItem>,
    /// Rules of the trade.
    #[serde(default)]
    pub requirements: Vec<Requirement>,
    /// Screens of loads.
    #[serde(default)]
    pub screens: Vec<ScreenItem>,
    /// Profiles cut from bars.
    #[serde(default)]
    pub lengths: Vec<LengthsItem>,
    /// General notes for the drawings.
    #[serde(default)]
    pub notes: Vec<Text>,
    /// Safety cautions.
    #[serde(default)]
    pub cautions: Vec<Text>,
    /// How the kit is built in, in order; what cuts the wall comes before and is not said here.
    #[serde(default)]
    pub steps: Vec<StepItem>,
    /// Places that are filled with foam.
    #[serde(default)]
    pub foam: Vec<FoamItem>,
    /// Sizes that are set or checked on site.
    #[serde(default)]
    pub measures: Vec<MeasureItem>,
    /// What is used up or bought besides, with its quantities.
    #[serde(default)]
    pub supplies: Vec<SupplyItem>,
    /// Boxes that pictures of steps and layouts show and that are no part of the kit.
    #[serde(default)]
    pub bodies: Vec<KeepOutItem>,
    /// What a customer asks of the kit, for quotes.
    #[serde(default)]
    pub key_sizes: Vec<KeySizeItem>,
    /// What may be ordered besides, where the spec says nothing of it.
    #[serde(default)]
    pub options: Vec<Text>,
    /// The file's name, for findings.
    #[serde(skip)]
    pub file: Arc<str>,
}

impl Template {
    /// A place in this template's file.
    pub fn place(&self, span: std::ops::Range<usize>) -> Option<Place> {
        Some(Place { file: Arc::clone(&self.file), span })
    }
}

/// Name, title and purpose of a family.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// As specs name it.
    pub name: String,
    /// For people.
    pub title: String,
    /// One or two sentences.
    pub about: String,
    /// Names of hollows of the container that the family closes on purpose: `fork pocket`.
    #[serde(default)]
    pub closes: Vec<String>,
}

/// What kind of value a parameter takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ParameterKind {
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
    /// A plain number.
    Number,
    /// A whole number.
    Count,
    /// One of the choices.
    Choice,
    /// Yes or no.
    Flag,
    /// Words.
    Text,
}

/// A parameter that specs may give.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parameter {
    /// What it takes.
    pub kind: ParameterKind,
    /// Used when the spec is silent; a parameter without one must be given.
    pub default: Option<Formula>,
    /// Default of a choice or a text.
    pub word: Option<String>,
    /// Smallest value.
    pub min: Option<Formula>,
    /// Greatest value.
    pub max: Option<Formula>,
    /// The words a choice allows.
    #[serde(default)]
    pub choices: Vec<String>,
    /// One line for people.
    pub help: String,
}

/// Parts cut from one kind of sheet.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetGroup {
    /// Thickness used when the spec is silent: `2.0` or `"14 ga"`.
    pub thickness: Spanned<Thickness>,
    /// Key in the shop's materials.
    pub material: Spanned<String>,
    /// One line for people.
    pub help: String,
}

/// A sheet thickness as typed.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Thickness {
    /// Millimetres.
    Number(f64),
    /// A length or a gauge in words.
    Text(String),
}

/// How an opening is fitted to the wall's corrugation.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OpeningRule {
    /// Rough width wished for.
    pub width: Formula,
    /// How far the frame's lip reaches over the outer flat from the cut.
    pub lip: Formula,
    /// What must stay free of the flat beside lip and cut.
    pub margin: Formula,
    /// Wished middle of the opening, from the left corner post as seen from outside.
    pub centre: Formula,
    /// Number (from 1, from the left post) of the outer flat that carries the left lip; where it is
    /// above 0 it stands in the place of the wished middle.
    pub left_flat: Option<Formula>,
    /// Z of the lower cut.
    pub bottom: Formula,
    /// Z of the upper cut.
    pub top: Formula,
}

/// Two containers end to end: the near one at X below 0, the far one beyond the gap.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EndsRule {
    /// Gap between the corner fittings' end faces.
    pub gap: Formula,
    /// The near box's end at the gap: a formula that gives `door-end` or `front-end`.
    pub near: Formula,
    /// The far box's end at the gap.
    pub far: Formula,
}

/// One step of the work on site.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepItem {
    /// What is done, in a few words.
    pub title: Text,
    /// How.
    pub text: Text,
    /// Names of the parts it needs, without hand.
    #[serde(default)]
    pub parts: Vec<Spanned<String>>,
    /// What can hurt someone.
    #[serde(default)]
    pub cautions: Vec<Text>,
    /// Done when this holds.
    pub when: Option<Formula>,
    /// Names, without hand, of parts that stand already and are worked on.
    #[serde(default)]
    pub on: Vec<Spanned<String>>,
    /// Names of joints that are set in it, though all their parts stand sooner.
    #[serde(default)]
    pub joints: Vec<Spanned<String>>,
    /// What the names of bodies and keep-outs begin with that its picture shows.
    #[serde(default)]
    pub shows: Vec<Spanned<String>>,
    /// How far the far one of two boxes still stands from its place.
    pub apart: Option<Formula>,
}

/// How grave a broken requirement is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Gravity {
    /// The kit is refused.
    #[default]
    Error,
    /// Released with a warning.
    Warning,
    /// Good to know.
    Note,
}

/// A rule of the trade: `found` against `at_least` or `at_most`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Requirement {
    /// Name of the check, under `require.`; stable.
    pub id: Spanned<String>,
    /// Asked when this holds.
    pub when: Option<Formula>,
    /// The value found.
    pub found: Formula,
    /// The lower limit.
    pub at_least: Option<Formula>,
    /// The upper limit.
    pub at_most: Option<Formula>,
    /// Unit of both: `mm`, `deg` or none.
    #[serde(default)]
    pub unit: String,
    /// How grave.
    #[serde(default)]
    pub severity: Gravity,
    /// What is wrong, with the numbers.
    pub message: Text,
    /// The way out.
    pub help: Text,
    /// Where the limit comes from.
    pub source: String,
}
