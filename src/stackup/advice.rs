//! The smallest hole, or the shortest slot, in a joint's first part that makes it safe enough.

use std::ops::Range;

use super::chance::{outside, principal};
use super::gate::{Gate, Region};
use super::linear::Linear;
use super::model::Model;
use super::report::TARGET;
use crate::units;

/// Holes and slots grow in steps of this, mm.
const STEP: f64 = 0.1;

/// By no more than this many steps.
const STEPS: u32 = 50;

/// A slot's direction this near to an edge of its face, degrees, follows the edge.
const SNAP: f64 = 15.0;

/// How much a joint's first holes must grow: diameter, or length and direction of a slot.
pub(super) struct Growth {
    /// Added to the diameter, mm.
    pub(super) hole: Option<f64>,
    /// Added to the width for a slot's length, mm, and its direction, degrees.
    pub(super) slot: Option<(f64, f64)>,
}

/// Looks for both.
pub(super) fn growth(model: &Model, linear: &Linear, pins: &Range<usize>, worst: usize) -> Growth {
    let wider =
        |gate: &Gate, grown: f64| Gate { radius: gate.radius + grown / 2.0, ..gate.clone() };
    let (_, angle) = principal(linear.covariance(worst));
    let near = (angle / 90.0).round() * 90.0;
    let angle = if (angle - near).abs() <= SNAP { near } else { angle.round() };
    let angle = if angle <= -90.0 { angle + 180.0 } else { angle };
    let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
    let longer = |gate: &Gate, grown: f64| {
        let half = Some([cos * grown / 2.0, sin * grown / 2.0]);
        Gate { half, ..gate.clone() }
    };
    let round =
        pins.clone().all(|pin| model.bores[model.pins[pin].bores.start].gate.half.is_none());
    Growth {
        hole: least(model, linear, pins, &wider),
        slot: least(model, linear, pins, &longer).filter(|_| round).map(|grown| (grown, angle)),
    }
}

/// The least growth with which the joint reaches the target.
fn least(
    model: &Model,
    linear: &Linear,
    pins: &Range<usize>,
    grow: &dyn Fn(&Gate, f64) -> Gate,
) -> Option<f64> {
    let reaches = |steps: u32| {
        let grown = f64::from(steps) * STEP;
        let chances = pins.clone().map(|pin| 1.0 - fails(model, linear, pin, &|g| grow(g, grown)));
        TARGET <= chances.product::<f64>()
    };
    if !reaches(STEPS) {
        return None;
    }
    let (mut short, mut enough) = (0, STEPS);
    while 1 < enough - short {
        let middle = u32::midpoint(short, enough);
        if reaches(middle) { enough = middle } else { short = middle }
    }
    Some(f64::from(enough) * STEP)
}

fn fails(model: &Model, linear: &Linear, pin: usize, grow: &dyn Fn(&Gate) -> Gate) -> f64 {
    let first = model.pins[pin].bores.start;
    let each = model.pins[pin].pairs.clone().map(|index| {
        let [a, b] = model.pairs[index].bores.map(|bore| &model.bores[bore].gate);
        let region = if model.pairs[index].bores[0] == first {
            Region::of(&grow(a), b)
        } else {
            model.pairs[index].region.clone()
        };
        outside(&region, linear.covariance(index))
    });
    each.sum::<f64>().min(1.0)
}
