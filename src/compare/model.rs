//! What a comparison finds.

use crate::flat::Contour;
use crate::geom::{BlankFrame, Map2, Path, Point};
use crate::reading::{KitRow, PartRow};

/// Most reasons given in full.
const MOST_REASONS: usize = 4;

/// Two revisions held against each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The older one, then the newer.
    pub heads: [Head; 2],
    /// Whether the newer one reads in inches.
    pub inches: bool,
    /// Values that differ, by name.
    pub values: Vec<ValueChange>,
    /// The newer one's parts in their order, then those that are gone.
    pub parts: Vec<PartChange>,
    /// Fasteners whose count or title differs.
    pub fasteners: Vec<FastenerChange>,
}

/// Which revision it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// Kit number.
    pub kit: String,
    /// Title for people.
    pub title: String,
    /// Revision letter or number.
    pub revision: String,
    /// Date of issue, ISO 8601.
    pub date: String,
    /// Legal owner, for title blocks.
    pub owner: String,
    /// General tolerance, for title blocks.
    pub tolerance: String,
}

impl Head {
    pub(super) fn of(kit: &KitRow) -> Self {
        Self {
            kit: kit.kit.clone(),
            title: kit.title.clone(),
            revision: kit.revision.clone(),
            date: kit.date.clone(),
            owner: kit.owner.clone(),
            tolerance: kit.tolerance.clone(),
        }
    }
}

/// A resolved or derived value that differs; none where it is not there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueChange {
    /// Dotted name.
    pub name: String,
    /// As it was.
    pub old: Option<String>,
    /// As it is.
    pub new: Option<String>,
}

/// A fastener whose count or title differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FastenerChange {
    /// Its key in the shop's data.
    pub id: String,
    /// As the newer kit orders it, or the older where it is gone.
    pub title: String,
    /// How many, spares left out; 0 where there are none.
    pub counts: [usize; 2],
    /// How many spares.
    pub spares: [usize; 2],
}

/// What became of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It was not there before.
    Added,
    /// It is no longer there.
    Gone,
    /// It is made otherwise.
    Changed,
    /// It is made as before.
    Unchanged,
}

impl State {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            State::Added => "added",
            State::Gone => "gone",
            State::Changed => "changed",
            State::Unchanged => "unchanged",
        }
    }
}

/// A part as one of the revisions has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Part number.
    pub number: String,
    /// Name in the template, with the hand.
    pub name: String,
    /// As printed.
    pub title: String,
    /// Pieces in one kit.
    pub quantity: usize,
}

impl Named {
    pub(super) fn of(part: &PartRow) -> Self {
        Self {
            number: part.number.clone(),
            name: part.name.clone(),
            title: part.title.clone(),
            quantity: part.quantity,
        }
    }
}

/// A part in both revisions, or in one.
#[derive(Debug, Clone, PartialEq)]
pub struct PartChange {
    /// What became of it.
    pub state: State,
    /// As it was.
    pub old: Option<Named>,
    /// As it is.
    pub new: Option<Named>,
    /// What changed, in words; for an unchanged part what changed around it.
    pub changes: Vec<String>,
    /// What the old pieces on the shelf are good for.
    pub shelf: Option<OnShelf>,
    /// Both blanks, for a picture; of a changed part.
    pub overlay: Option<Overlay>,
}

impl PartChange {
    /// The part as it is, or as it was where it is gone.
    pub fn named(&self) -> Option<&Named> {
        self.new.as_ref().or(self.old.as_ref())
    }
}

/// What can be done with a piece of the older revision.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It is what the newer revision asks for.
    Good,
    /// It becomes that by taking sheet away or marking it anew.
    Rework,
    /// It cannot become that.
    Scrap,
}

impl Verdict {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Good => "good",
            Verdict::Rework => "rework",
            Verdict::Scrap => "scrap",
        }
    }
}

/// A verdict with its reasons.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judgement {
    /// What can be done.
    pub verdict: Verdict,
    /// Why, or what is to be done.
    pub reasons: Vec<String>,
}

impl Judgement {
    /// A verdict with its reasons, the first few in full.
    pub(super) fn of(verdict: Verdict, mut reasons: Vec<String>) -> Self {
        let rest = reasons.len().saturating_sub(MOST_REASONS);
        reasons.truncate(MOST_REASONS);
        if rest > 0 {
            reasons.push(format!("and {rest} more"));
        }
        Self { verdict, reasons }
    }
}

/// What the older revision's pieces are good for, cut and still flat, or folded already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OnShelf {
    /// A blank that is cut and not folded.
    pub flat: Judgement,
    /// A folded part; a part without bends is judged as its blank.
    pub folded: Judgement,
}

/// A blank as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Outline.
    pub outer: Path<BlankFrame>,
    /// Inside contours.
    pub inner: Vec<Contour>,
    /// Centre lines of the bends.
    pub bends: Vec<[Point<BlankFrame>; 2]>,
    /// Extents of its bounding box.
    pub size: [f64; 2],
}

/// Two blanks to be laid upon each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// The older one.
    pub old: Drawn,
    /// The newer one.
    pub new: Drawn,
    /// From the older one's blank frame to the newer one's, so that most of both coincide.
    pub onto: Map2<BlankFrame, BlankFrame>,
    /// Sheet that is only in the older one, as polygons in the newer one's blank frame.
    pub removed: Vec<Vec<Point<BlankFrame>>>,
    /// Sheet that is only in the newer one.
    pub added: Vec<Vec<Point<BlankFrame>>>,
}
