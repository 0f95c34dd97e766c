//! What the search for an order of bends says: a plan stroke by stroke, or why there is none.
//!
//! Frame of the machine ([`BrakeFrame`]): the plane across the bending line. x to the back, towards
//! the gauge; y up; origin in the middle of the die's opening, level with its shoulders. Along the
//! bed runs z, to the right of the operator, who stands at negative x; a picture of the plane shows
//! the gauge at the right and is seen from the operator's right.

use crate::geom::{BrakeFrame, Point};
use crate::kit::Side;

/// What was found for one part.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// It can be bent; a flat part has a plan without steps.
    Plan(Plan),
    /// No order of its bends can be made with the shop's tools.
    Refusal(Refusal),
}

/// An order of bends, with everything the operator sets.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The strokes in order.
    pub steps: Vec<Step>,
    /// How often the other side of the sheet is turned up.
    pub flips: usize,
    /// How often the part is turned in its plane.
    pub turns: usize,
    /// How often punch or die is changed.
    pub tool_changes: usize,
    /// Whether every order was weighed; above the limit of bends only the likeliest are.
    pub exact: bool,
    /// Outline of the ram, closed; y = 0 where the punch hangs, to be put at the punch's height
    /// above its nose.
    pub ram: Vec<Point<BrakeFrame>>,
    /// Outline of the bed, closed; y = 0 where the die stands, to be put at the die's height below
    /// the origin.
    pub bed: Vec<Point<BrakeFrame>>,
}

/// One stroke of the ram.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// From 1.
    pub number: usize,
    /// The bends made in this stroke, as indices into the part's bends: several when they lie on
    /// one line with one angle and one direction.
    pub bends: Vec<usize>,
    /// The side of the sheet at the bend that faces the punch.
    pub side_up: Side,
    /// What is done with the part before this stroke.
    pub handling: Handling,
    /// The die.
    pub die: ToolUse,
    /// The punch; its outline has the nose's tip in (0, 0).
    pub punch: ToolUse,
    /// Angle wanted: deviation from flat, degrees.
    pub angle: f64,
    /// By how much the sheet springs back, degrees.
    pub springback: f64,
    /// Where the springback comes from.
    pub springback_source: String,
    /// Angle to set: deviation from flat under load, degrees.
    pub angle_set: f64,
    /// y of the punch's tip when it touches the flat sheet, and at the end of the stroke.
    pub nose: [f64; 2],
    /// Which side of the bend lies towards the gauge.
    pub gauge_side: BendSide,
    /// Where the part is held against the gauge; none when no edge or face serves.
    pub stop: Option<Stop>,
    /// Length of all bends of the stroke, mm.
    pub length: f64,
    /// Force, N.
    pub force: f64,
    /// Where the force comes from.
    pub force_source: String,
    /// The part cut across in the middle of the first bend, before the stroke: closed outlines of
    /// legs and of bends made, as they lie on the die.
    pub before: Vec<Vec<Point<BrakeFrame>>>,
    /// The same at the end of the stroke, under load.
    pub after: Vec<Vec<Point<BrakeFrame>>>,
}

/// What the operator does with the part before a stroke.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handling {
    /// The other side of the sheet is turned up.
    pub flipped: bool,
    /// The part is turned in its plane by this many degrees to the left, seen from above, after
    /// the flip about an axis along the bed; 0, 90, 180, 270, or what lies between on slanted
    /// bends, to the nearest degree.
    pub turned: u16,
}

/// A side of the bend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BendSide {
    /// The face nearer the root, and all that hangs on it.
    Parent,
    /// The face folded from it.
    Child,
}

/// A tool as it is set up for a stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolUse {
    /// Index into the shop's dies or punches.
    pub index: usize,
    /// Its name in the shop's file.
    pub name: String,
    /// Its outline, closed.
    pub outline: Vec<Point<BrakeFrame>>,
    /// What is set up, from the operator's left to the right; more than one where bends of one
    /// stroke are apart.
    pub runs: Vec<ToolRun>,
}

/// A run of tool without a gap.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolRun {
    /// z of its ends from the middle of the bends, mm.
    pub span: [f64; 2],
    /// Lengths of the pieces it is put together from, mm; empty when any length serves that is at
    /// least the span's.
    pub pieces: Vec<f64>,
}

/// Where the part touches the back gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// From the bending line to the stop, mm.
    pub distance: f64,
    /// Index of the face that touches.
    pub face: usize,
    /// What of it touches.
    pub kind: StopKind,
    /// z of the two ends of what touches, from the middle of the bends, mm.
    pub span: [f64; 2],
}

/// What of a face touches the gauge, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StopKind {
    /// A free edge of the sheet that lies on the die.
    Edge,
    /// The outside of a leg that stands up.
    Standing,
    /// The outside of a leg that hangs down.
    Hanging,
}

/// Why no order of bends exists.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// The bends, as indices into the part's bends, that stand in the way where one gets farthest;
    /// a bend again for each such end.
    pub blocked: Vec<usize>,
    /// What each of these meets, a sentence each, in the same order.
    pub why: Vec<String>,
    /// What would help, in one sentence.
    pub help: String,
    /// Whether every order was weighed.
    pub exact: bool,
}

impl Outcome {
    /// The plan, where there is one.
    pub fn plan(&self) -> Option<&Plan> {
        match self {
            Outcome::Plan(plan) => Some(plan),
            Outcome::Refusal(_) => None,
        }
    }
}

impl Plan {
    /// The place of a bend among all bends as they are made, from 1: bends of one stroke follow one
    /// another.
    pub fn place_of(&self, bend: usize) -> Option<usize> {
        let mut made = self.steps.iter().flat_map(|step| &step.bends);
        made.position(|other| *other == bend).map(|before| before + 1)
    }

    /// The number of the stroke that makes a bend, from 1.
    pub fn number_of(&self, bend: usize) -> Option<usize> {
        self.steps.iter().find(|step| step.bends.contains(&bend)).map(|step| step.number)
    }
}
