//! What a spec says, typed but not yet bound to a template.

use std::ops::Range;
use std::sync::Arc;

use crate::note::Place;

/// A value and where it stands in the file, in bytes.
#[derive(Debug, Clone, PartialEq)]
pub struct Said<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Range<usize>,
}

/// A value as TOML holds it.
#[derive(Debug, Clone, PartialEq)]
pub enum Raw {
    /// A finite integer or decimal; for a length: millimetres.
    Number(f64),
    /// A text: a word, or a quantity with its unit.
    Text(String),
    /// `true` or `false`.
    Flag(bool),
    /// An array.
    List(Vec<Said<Raw>>),
    /// A table inside an array; the paths of its values are relative to it.
    Table(Vec<Given>),
}

/// One value given for a template's parameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Dotted path from the top of the file: `opening.clear_width`.
    pub path: String,
    /// Where the last key of the path stands.
    pub key_span: Range<usize>,
    /// The value.
    pub value: Raw,
    /// Where the value stands.
    pub span: Range<usize>,
}

/// The units in which drawings read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Inches; bare numbers for lengths are then refused.
    Inch,
}

/// A sheet's thickness as it was asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Thickness {
    /// Millimetres.
    Mm(f64),
    /// A gauge, looked up in the material's own table.
    Gauge(u32),
}

/// A whole spec.
#[derive(Debug, Clone, PartialEq)]
pub struct Spec {
    /// The file's name as the user gave it.
    pub file: Arc<str>,
    /// Kit number: `SKB-0914`.
    pub kit: Said<String>,
    /// Name of the kit family.
    pub template: Said<String>,
    /// Revision letter or number.
    pub revision: Said<String>,
    /// Title for people; empty when not given.
    pub title: Said<String>,
    /// Where it is built in; empty when not given.
    pub site: Said<String>,
    /// Date of issue, ISO 8601; a date that exists.
    pub date: Said<String>,
    /// Who drew it; empty when not given.
    pub drawn_by: Said<String>,
    /// Who approved it; empty when not given.
    pub approved_by: Said<String>,
    /// The units in which drawings read.
    pub units: Units,
    /// Which container and which of its walls.
    pub container: Option<ContainerChoice>,
    /// What the parts are cut from.
    pub sheet: SheetChoice,
    /// Warnings accepted by name.
    pub accepts: Vec<Accept>,
    /// Revisions so far, in the order of the file.
    pub revisions: Vec<RevisionLine>,
    /// What sales says of the quote.
    pub quote: QuoteAsk,
    /// Site feedback carried into a revision.
    pub amendments: Vec<Amendment>,
    /// Path of the revision before, from the folder of the spec.
    pub previous: Option<Said<String>>,
    /// Values of `[overrides]`; paths without that word.
    pub overrides: Vec<Given>,
    /// Every other value, for the template's parameters, in the order of the file.
    pub given: Vec<Given>,
}

/// What a spec says of the quote.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct QuoteAsk {
    /// The customer's address, line by line.
    pub customer: Vec<String>,
    /// How many days the quote holds; none where the shop's own number does.
    pub valid_days: Option<usize>,
    /// What may be ordered besides, in sentences.
    pub options: Vec<String>,
}

/// The container a kit is for.
#[derive(Debug, Clone, PartialEq)]
pub struct ContainerChoice {
    /// Id of the container: `40ft-high-cube`.
    pub kind: Said<String>,
    /// Name of the wall: `left`, `right`, `front-end`, `door-end`.
    pub wall: Option<Said<String>>,
    /// Id of a second container, where one stands end to end with the first and differs from it.
    pub other: Option<Said<String>>,
    /// Corrugation measured on site.
    pub survey: Option<Survey>,
}

/// The post a survey was measured from, as seen from outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SurveyFrom {
    /// From the left corner post's edge at the wall.
    Left,
    /// From the right corner post's edge at the wall.
    Right,
}

/// Centres of outer flats as measured on site.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey {
    /// The post measured from.
    pub from: SurveyFrom,
    /// Distance between the two posts' edges at the wall, when measured, mm.
    pub length: Option<Said<f64>>,
    /// Distances from the post's edge to the centres of outer flats, mm, in the order of the file.
    pub centres: Vec<Said<f64>>,
    /// Where the survey stands in the file.
    pub span: Range<usize>,
}

/// What the parts are cut from.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetChoice {
    /// Id of the material for all parts.
    pub material: Option<Said<String>>,
    /// Thickness for all parts.
    pub thickness: Option<Said<Thickness>>,
    /// Parts that differ.
    pub parts: Vec<SheetOf>,
}

/// The sheet of one part that differs from the others.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetOf {
    /// Name of the part in the template.
    pub part: Said<String>,
    /// Its material, when that differs.
    pub material: Option<Said<String>>,
    /// Its thickness, when that differs.
    pub thickness: Option<Said<Thickness>>,
}

/// A warning accepted by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Accept {
    /// Id of the check.
    pub check: Said<String>,
    /// The one part or joint it is accepted for; all of them when none is named.
    pub subject: Option<Said<String>>,
    /// Why; printed on the drawing set.
    pub reason: Said<String>,
}

/// One line of the revision table.
#[derive(Debug, Clone, PartialEq)]
pub struct RevisionLine {
    /// Letter or number.
    pub index: Said<String>,
    /// ISO 8601 date.
    pub date: Said<String>,
    /// What changed.
    pub text: Said<String>,
}

/// A change to one part that came back from the site.
#[derive(Debug, Clone, PartialEq)]
pub struct Amendment {
    /// Name of the part in the template.
    pub part: Said<String>,
    /// Why.
    pub reason: Said<String>,
    /// The revision that introduced it.
    pub revision: Said<String>,
    /// What is done.
    pub change: Change,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

/// What an amendment does. Places are mm in the frame in which the template draws the face.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// A new hole.
    Cut {
        /// Name of the face.
        face: Said<String>,
        /// Its centre.
        at: Said<[f64; 2]>,
        /// Its size.
        size: HoleSize,
        /// What it is for.
        purpose: Option<Said<String>>,
    },
    /// A notch in an edge.
    Notch {
        /// `face.edge`.
        on: Said<String>,
        /// Start on the edge.
        from: Said<f64>,
        /// End on the edge.
        to: Said<f64>,
        /// How deep, from the mould line.
        depth: Said<f64>,
    },
    /// A hole stands elsewhere.
    Move {
        /// Which.
        hole: HoleChoice,
        /// By how much, x and y.
        by: Said<[f64; 2]>,
    },
    /// A hole is larger.
    Enlarge {
        /// Which.
        hole: HoleChoice,
        /// Its new size.
        size: HoleSize,
    },
    /// A hole is left out.
    Remove {
        /// Which.
        hole: HoleChoice,
    },
}

impl Change {
    /// The face it names; none for a notch, which names an edge.
    pub fn face(&self) -> Option<&Said<String>> {
        match self {
            Change::Cut { face, .. } => Some(face),
            Change::Move { hole, .. } | Change::Enlarge { hole, .. } | Change::Remove { hole } => {
                Some(&hole.face)
            }
            Change::Notch { .. } => None,
        }
    }
}

/// All amendments of a spec, with what is needed to carry them out and to tell what is wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Amendments {
    /// The spec's file.
    pub file: Arc<str>,
    /// Whether its drawings read in inches.
    pub inches: bool,
    /// The revisions that can have introduced them.
    pub revisions: Vec<String>,
    /// The amendments, in the order of the file.
    pub list: Vec<Amendment>,
}

impl Amendments {
    /// A place in the spec's file.
    pub fn place(&self, span: &Range<usize>) -> Option<Place> {
        Some(Place { file: Arc::clone(&self.file), span: span.clone() })
    }
}

/// Which hole of a part is meant.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleChoice {
    /// Name of the face.
    pub face: Said<String>,
    /// What it is for: a fastener's key, a purpose, or the name of its joint.
    pub hole: Option<Said<String>>,
    /// The place it is nearest to.
    pub near: Option<Said<[f64; 2]>>,
    /// Whether all that fit are meant.
    pub every: bool,
    /// Where the choice stands in the file.
    pub span: Range<usize>,
}

/// The size of a hole, mm; directions in degrees from +x of the face as the template draws it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoleSize {
    /// Diameter.
    Round(f64),
    /// Width, overall length, direction of the length.
    Slot(f64, f64, f64),
    /// Width, length, direction of the length.
    Rectangle(f64, f64, f64),
}

impl Spec {
    /// A place in this spec's file.
    pub fn place(&self, span: &Range<usize>) -> Option<Place> {
        Some(Place { file: Arc::clone(&self.file), span: span.clone() })
    }

    /// Its amendments, with the revisions that it knows.
    pub fn amendments(&self) -> Amendments {
        let before = self.revisions.iter().map(|line| line.index.value.clone());
        Amendments {
            file: Arc::clone(&self.file),
            inches: self.units == Units::Inch,
            revisions: before.chain([self.revision.value.clone()]).collect(),
            list: self.amendments.clone(),
        }
    }

    /// The value given for a parameter's path.
    pub fn given(&self, path: &str) -> Option<&Given> {
        self.given.iter().find(|g| g.path == path)
    }
}
