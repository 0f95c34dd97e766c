//! What the stage finds, in plain fields for whoever prints or writes it.

use super::cut::{Cut, cut};
use super::gross::Values;
use super::piece::P;
use super::thin::{Thin, thin};
use crate::fold::FoldedPart;
use crate::kit::Part;

/// What is said wherever a figure of a screen stands.
pub const ADVICE: &str =
    "Advice only, no approval: local codes rule and a licensed engineer decides.";

/// Sections of a kit's bent parts, and the screens of their loads.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Strength {
    /// One for each bent part, in the order of the parts.
    pub sections: Vec<PartSection>,
    /// In the order of the template.
    pub screens: Vec<Screen>,
}

/// The section of one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartSection {
    /// Number of the part.
    pub part: String,
    /// Its index among the kit's parts.
    pub index: usize,
    /// Where and what was cut.
    pub cut: Cut,
    /// Values of the gross section, exact.
    pub values: Values,
    /// Values of the open thin-walled section.
    pub thin: Thin,
    /// From the centroid to the farthest fibre towards +x, -x, +y, -y, mm.
    pub fibres: [f64; 4],
}

impl PartSection {
    /// Cuts a part and works its section out; none where the part has no bend.
    pub fn of(part: &Part, folded: &FoldedPart, index: usize) -> Option<Self> {
        let cut = cut(part, folded)?;
        let values = Values::of(&cut.section.moments());
        let thin = thin(&cut.section);
        let ways = [P::new(1.0, 0.0), P::new(-1.0, 0.0), P::new(0.0, 1.0), P::new(0.0, -1.0)];
        let fibres = ways.map(|way| cut.section.reach(way) - values.centroid.dot(way));
        Some(Self { part: part.number.clone(), index, cut, values, thin, fibres })
    }

    /// Elastic section moduli, mm3: about x for the fibres towards +y and -y, about y for those
    /// towards +x and -x.
    pub fn moduli(&self) -> [f64; 4] {
        let [right, left, top, bottom] = self.fibres;
        let Values { ix, iy, .. } = self.values;
        [ix / top, ix / bottom, iy / right, iy / left]
    }

    /// Whether it is longer than the section is wide; a shorter part is no bar, and its values are
    /// those of the cut alone.
    pub fn is_bar(&self) -> bool {
        let [right, left, top, bottom] = self.fibres;
        (right + left).max(top + bottom) <= self.cut.length
    }
}

/// One figure with its name, unit and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Stable key.
    pub key: &'static str,
    /// In words.
    pub label: &'static str,
    /// The value.
    pub value: f64,
    /// Its unit; empty for a plain ratio.
    pub unit: &'static str,
    /// Formula or rule behind it.
    pub basis: &'static str,
}

/// A part screened.
#[derive(Debug, Clone, PartialEq)]
pub struct Screen {
    /// In words.
    pub name: String,
    /// Number of the part.
    pub part: String,
    /// `beam`, `strip`, `post` or `post-pair`.
    pub kind: &'static str,
    /// The rule, as it is printed.
    pub rule: &'static str,
    /// Span or height, mm.
    pub length: f64,
    /// Yield strength, N/mm2; none where the material's standard names none: nothing is screened.
    pub yield_strength: Option<f64>,
    /// Young's modulus, N/mm2.
    pub modulus: f64,
    /// Where both come from.
    pub material: String,
    /// What is so whatever the load.
    pub figures: Vec<Figure>,
    /// Each load by itself.
    pub loads: Vec<LoadCase>,
    /// Flats wider than the rule covers: a sentence for each.
    pub outside: Vec<String>,
    /// What is taken for granted, and what is left out.
    pub basis: Vec<String>,
}

/// A part screened under one load.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCase {
    /// In words.
    pub name: String,
    /// Where the load comes from.
    pub basis: String,
    /// Step by step.
    pub figures: Vec<Figure>,
    /// Share of yield (beams and strips) or of the buckling resistance (posts) that is taken up.
    pub share: f64,
    /// Deflection and its limit, mm; none for posts.
    pub deflection: Option<[f64; 2]>,
}

impl LoadCase {
    /// The greater of both shares: of the strength, and of the deflection's limit.
    pub fn worst(&self) -> f64 {
        let bent = self.deflection.map_or(0.0, |[found, limit]| found / limit);
        self.share.max(bent)
    }
}

impl Screen {
    /// What the share of a load is a share of.
    pub fn share_of(&self) -> &'static str {
        if matches!(self.kind, "beam" | "strip") { "yield" } else { "the buckling resistance" }
    }

    /// The load that takes most.
    pub fn worst(&self) -> Option<&LoadCase> {
        self.loads.iter().max_by(|a, b| a.worst().total_cmp(&b.worst()))
    }
}
