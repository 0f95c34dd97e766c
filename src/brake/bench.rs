//! The brake made ready for being asked whether a part meets it: tools, ram and bed as convex
//! parts.

use std::rc::Rc;

use super::convex::{Sided, convex_parts, hull, normals};
use super::runs::Pieces;
use crate::geom::{BrakeFrame, Point};
use crate::shelf::{Brake, ToolShape};

/// A convex part of a tool.
#[derive(Debug, Clone)]
pub(super) struct Convex {
    /// Its corners, counter-clockwise.
    pub(super) corners: Vec<Point<BrakeFrame>>,
    /// The direction out of each side, from its corner to the next.
    pub(super) normals: Vec<Point<BrakeFrame>>,
}

impl Convex {
    fn new(corners: Vec<Point<BrakeFrame>>) -> Self {
        Self { normals: normals(&corners), corners }
    }

    /// Its corners with the directions out of its sides.
    pub(super) fn sided(&self) -> Sided<'_, BrakeFrame> {
        (&self.corners, &self.normals)
    }

    /// All that it passes when it is moved.
    pub(super) fn swept(&self, by: Point<BrakeFrame>) -> Self {
        let moved = self.corners.iter().map(|p| *p + by);
        Self::new(hull(self.corners.iter().copied().chain(moved).collect()))
    }
}

/// A punch with the ram above it, or a die with the bed below it.
#[derive(Debug, Clone)]
pub(super) struct Set {
    /// The tool's convex parts; a punch's tip in (0, 0).
    pub(super) tool: Vec<Convex>,
    /// How far a punch can be lifted, mm.
    pub(super) lift: f64,
    /// The pieces it is cut into.
    pub(super) pieces: Rc<Pieces>,
    /// Ram or bed, where the tool holds or carries it.
    pub(super) frame: Vec<Convex>,
}

/// The brake with its tools.
pub(super) struct Bench<'a> {
    pub(super) brake: &'a Brake,
    pub(super) punches: Vec<Set>,
    pub(super) dies: Vec<Set>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(brake: &'a Brake) -> Self {
        let lowest_die = brake.dies.iter().map(|die| die.tool.height()).fold(0.0, f64::max);
        let mut known: Vec<Rc<Pieces>> = Vec::new();
        let mut pieces = |tool: &ToolShape| {
            let same = known.iter().find(|pieces| pieces.lengths == tool.segments);
            let pieces = same.map_or_else(|| Rc::new(Pieces::new(&tool.segments)), Rc::clone);
            known.push(Rc::clone(&pieces));
            pieces
        };
        let mut punches = Vec::new();
        for punch in &brake.punches {
            let height = punch.tool.height();
            let lift = (brake.open_height - height - lowest_die).max(0.0);
            let pieces = pieces(&punch.tool);
            let frame = shifted(&brake.ram, height);
            punches.push(Set { tool: parts(&punch.tool), lift, frame, pieces });
        }
        let dies = brake.dies.iter().map(|die| Set {
            tool: parts(&die.tool),
            lift: 0.0,
            pieces: pieces(&die.tool),
            frame: shifted(&brake.bed, -die.tool.height()),
        });
        Self { brake, punches, dies: dies.collect() }
    }
}

fn parts(tool: &ToolShape) -> Vec<Convex> {
    shifted(&tool.outline, 0.0)
}

fn shifted(outline: &[[f64; 2]], by: f64) -> Vec<Convex> {
    let points: Vec<_> = outline.iter().map(|[x, y]| Point::new(*x, y + by)).collect();
    convex_parts(&points).into_iter().map(Convex::new).collect()
}
