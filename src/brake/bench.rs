//! The brake made ready for being asked whether a part meets it: tools, ram and bed as convex
//! parts.

use super::convex::{convex_parts, hull};
use crate::geom::{BrakeFrame, Point};
use crate::shelf::{Brake, ToolShape};

/// A convex part of a tool.
pub(super) type Convex = Vec<Point<BrakeFrame>>;

/// A punch with the ram above it, or a die with the bed below it.
#[derive(Debug, Clone)]
pub(super) struct Set {
    /// The tool's convex parts; a punch's tip in (0, 0).
    pub(super) tool: Vec<Convex>,
    /// The same, each swept up by the room there is when the ram is open: punches alone.
    pub(super) lifted: Vec<Convex>,
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
        let punches = brake.punches.iter().map(|punch| {
            let height = punch.tool.height();
            let open = (brake.open_height - height - lowest_die).max(0.0);
            let tool = parts(&punch.tool);
            let lifted = tool.iter().map(|part| swept_up(part, open)).collect();
            Set { tool, lifted, frame: shifted(&brake.ram, height) }
        });
        let dies = brake.dies.iter().map(|die| Set {
            tool: parts(&die.tool),
            lifted: Vec::new(),
            frame: shifted(&brake.bed, -die.tool.height()),
        });
        Self { brake, punches: punches.collect(), dies: dies.collect() }
    }
}

fn parts(tool: &ToolShape) -> Vec<Convex> {
    shifted(&tool.outline, 0.0)
}

fn shifted(outline: &[[f64; 2]], by: f64) -> Vec<Convex> {
    let points: Vec<_> = outline.iter().map(|[x, y]| Point::new(*x, y + by)).collect();
    convex_parts(&points)
}

fn swept_up(part: &[Point<BrakeFrame>], by: f64) -> Convex {
    let up = part.iter().map(|p| *p + Point::new(0.0, by));
    hull(part.iter().copied().chain(up).collect())
}
