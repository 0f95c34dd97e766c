//! The order of a part's bends in `kit.json`: what the operator sets for every stroke.

use serde::Serialize;

use super::json::{Number, numbers};
use crate::brake::{BendSide, Plan, Step, StopKind, ToolUse};
use crate::kit::{Part, Side};

/// An addition to the format's first list: a part's `brake`.
#[derive(Serialize)]
pub(super) struct BrakeJson<'a> {
    flips: usize,
    turns: usize,
    tool_changes: usize,
    exact: bool,
    steps: Vec<StepJson<'a>>,
}

#[derive(Serialize)]
struct StepJson<'a> {
    number: usize,
    bends: Vec<&'a str>,
    side_up: &'static str,
    flipped: bool,
    turned: u16,
    punch: ToolJson<'a>,
    die: ToolJson<'a>,
    angle: Number,
    springback: Number,
    springback_source: &'a str,
    angle_set: Number,
    gauge_side: &'static str,
    stop: Option<StopJson<'a>>,
    length: Number,
    force_n: Number,
    force_source: &'a str,
}

#[derive(Serialize)]
struct ToolJson<'a> {
    name: &'a str,
    runs: Vec<RunJson>,
}

/// A run's ends along the bed from the middle of the bends; no pieces where any length serves.
#[derive(Serialize)]
struct RunJson {
    span: [Number; 2],
    pieces: Vec<Number>,
}

#[derive(Serialize)]
struct StopJson<'a> {
    distance: Number,
    face: &'a str,
    kind: &'static str,
    span: [Number; 2],
}

pub(super) fn brake_json<'a>(part: &'a Part, plan: &'a Plan) -> BrakeJson<'a> {
    BrakeJson {
        flips: plan.flips,
        turns: plan.turns,
        tool_changes: plan.tool_changes,
        exact: plan.exact,
        steps: plan.steps.iter().map(|step| step_json(part, step)).collect(),
    }
}

fn step_json<'a>(part: &'a Part, step: &'a Step) -> StepJson<'a> {
    StepJson {
        number: step.number,
        bends: step.bends.iter().map(|bend| part.bends[*bend].name.as_str()).collect(),
        side_up: match step.side_up {
            Side::Upper => "upper",
            Side::Under => "under",
        },
        flipped: step.handling.flipped,
        turned: step.handling.turned,
        punch: tool_json(&step.punch),
        die: tool_json(&step.die),
        angle: Number(step.angle),
        springback: Number(step.springback),
        springback_source: &step.springback_source,
        angle_set: Number(step.angle_set),
        gauge_side: match step.gauge_side {
            BendSide::Parent => "from",
            BendSide::Child => "to",
        },
        stop: step.stop.as_ref().map(|stop| StopJson {
            distance: Number(stop.distance),
            face: &part.faces[stop.face].name,
            kind: match stop.kind {
                StopKind::Edge => "edge",
                StopKind::Standing => "standing face",
                StopKind::Hanging => "hanging face",
            },
            span: numbers(stop.span),
        }),
        length: Number(step.length),
        force_n: Number(step.force),
        force_source: &step.force_source,
    }
}

fn tool_json(tool: &ToolUse) -> ToolJson<'_> {
    let run = |run: &crate::brake::ToolRun| RunJson {
        span: numbers(run.span),
        pieces: run.pieces.iter().copied().map(Number).collect(),
    };
    ToolJson { name: &tool.name, runs: tool.runs.iter().map(run).collect() }
}
