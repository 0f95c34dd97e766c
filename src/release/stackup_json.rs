//! What the shop's tolerances do to the joints, in `kit.json`.

use serde::Serialize;

use super::json::{Number, numbers};
use crate::shelf::Tolerance;
use crate::stackup::{Advice, JointStack, Report, TARGET};

/// The stack-up: limits in words, builds of the Monte Carlo where it was asked for, joints.
#[derive(Serialize)]
pub(super) struct StackupJson<'a> {
    basis: &'a str,
    limits: Option<LimitsJson>,
    target: Number,
    builds: Option<u64>,
    seed: Option<u64>,
    joints: Vec<JointJson<'a>>,
}

/// Limits are +-: mm, mm a metre, degrees.
#[derive(Serialize)]
struct LimitsJson {
    laser_class: u8,
    hole_position: Number,
    stretch: Number,
    hole_size: Option<Number>,
    bend_angle: Number,
    bend_line: Number,
    give: Number,
    spread: &'static str,
}

#[derive(Serialize)]
struct JointJson<'a> {
    joint: &'a str,
    fasteners: usize,
    drilled_in_place: bool,
    deviation: Number,
    clearance: Number,
    gap: Number,
    chance: Number,
    built: Option<[Number; 2]>,
    causes: Vec<CauseJson<'a>>,
    widen: Option<WidenJson<'a>>,
    built_least: Option<Number>,
}

#[derive(Serialize)]
struct CauseJson<'a> {
    cause: &'a str,
    share: Number,
}

#[derive(Serialize)]
struct WidenJson<'a> {
    part: &'a str,
    face: &'a str,
    hole: Option<Number>,
    slot: Option<[Number; 3]>,
}

pub(super) fn stackup_json(report: &Report) -> StackupJson<'_> {
    StackupJson {
        basis: &report.basis,
        limits: report.limits.as_ref().map(limits_json),
        target: Number(TARGET),
        builds: report.builds.map(|(builds, _)| builds),
        seed: report.builds.map(|(_, seed)| seed),
        joints: report.joints.iter().map(joint_json).collect(),
    }
}

fn limits_json(limits: &Tolerance) -> LimitsJson {
    LimitsJson {
        laser_class: limits.laser_class,
        hole_position: Number(limits.hole_position),
        stretch: Number(limits.stretch),
        hole_size: limits.hole_size.map(Number),
        bend_angle: Number(limits.bend_angle),
        bend_line: Number(limits.bend_line),
        give: Number(limits.give),
        spread: limits.spread.word(),
    }
}

fn joint_json(joint: &JointStack) -> JointJson<'_> {
    let causes = joint.causes.iter();
    JointJson {
        joint: &joint.id,
        fasteners: joint.fasteners,
        drilled_in_place: joint.in_place,
        deviation: Number(joint.deviation),
        clearance: Number(joint.clearance),
        gap: Number(joint.gap),
        chance: Number(joint.chance),
        built: joint.trial.map(|tried| numbers([tried.chance, tried.error])),
        causes: causes.map(|(cause, share)| CauseJson { cause, share: Number(*share) }).collect(),
        widen: match &joint.advice {
            Advice::Reached => None,
            Advice::Widen { part, face, hole, slot } => {
                Some(WidenJson { part, face, hole: hole.map(Number), slot: slot.map(numbers) })
            }
        },
        built_least: joint.trial.map(|tried| Number(tried.least)),
    }
}
