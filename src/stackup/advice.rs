//! The smallest hole, or the shortest slot, under a joint's heads that makes it safe enough.

use std::ops::Range;

use super::chance::{Covariance, outside, principal};
use super::gate::{Gate, Region};
use super::linear::Linear;
use super::model::{Bore, Model};
use super::report::TARGET;
use crate::units;

/// Holes and slots grow in steps of this, mm.
const STEP: f64 = 0.1;

/// By no more than this many steps.
const STEPS: u32 = 50;

/// A slot's direction this near to an edge of its face, degrees, follows the edge.
const SNAP: f64 = 15.0;

/// Pins of a joint, and which side they are set from.
pub(super) struct Row {
    /// The pins.
    pub(super) pins: Range<usize>,
    /// Whether the heads lie on the last sheet, not on the first.
    pub(super) far: bool,
}

impl Row {
    /// The hole under a pin's head.
    fn under_head(&self, model: &Model, pin: usize) -> usize {
        let bores = &model.pins[pin].bores;
        if self.far { bores.end - 1 } else { bores.start }
    }
}

/// How much the holes under a joint's heads must grow: diameter, or length and direction of a slot.
pub(super) struct Growth {
    /// Added to the diameter, mm.
    pub(super) hole: Option<f64>,
    /// Added to the width for a slot's length, mm, and its direction, degrees.
    pub(super) slot: Option<(f64, f64)>,
}

/// Looks for both; `worst` is the pair most at risk.
pub(super) fn growth(model: &Model, linear: &Linear, row: &Row, worst: usize) -> Growth {
    let under_head = |pin: usize| &model.bores[row.under_head(model, pin)];
    let angle = across(under_head(model.pairs[worst].pin), linear.covariance(worst));
    let (cos, sin) = (units::cos_deg(angle), units::sin_deg(angle));
    let wider = |bore: &Bore, grown: f64| {
        let radius = bore.gate.radius + grown / 2.0;
        Gate { radius, ..bore.gate.clone() }
    };
    let longer = |bore: &Bore, grown: f64| {
        let [x, y] = bore.turn;
        let half = [0, 1].map(|i| (x[i] * cos + y[i] * sin) * grown / 2.0);
        Gate { half: Some(half), ..bore.gate.clone() }
    };
    let round = row.pins.clone().all(|pin| under_head(pin).gate.half.is_none());
    Growth {
        hole: least(model, linear, row, &wider),
        slot: least(model, linear, row, &longer).filter(|_| round).map(|grown| (grown, angle)),
    }
}

/// The direction in which an offset spreads most, in a hole's face, degrees over -90 up to 90.
fn across(bore: &Bore, covariance: Covariance) -> f64 {
    let (_, angle) = principal(covariance);
    let along = [units::cos_deg(angle), units::sin_deg(angle)];
    let [x, y] = bore.turn.map(|axis| axis[0] * along[0] + axis[1] * along[1]);
    let angle = units::atan2_deg(y, x);
    let near = (angle / 90.0).round() * 90.0;
    let angle = if (angle - near).abs() <= SNAP { near } else { angle.round() };
    if angle <= -90.0 {
        angle + 180.0
    } else if 90.0 < angle {
        angle - 180.0
    } else {
        angle
    }
}

/// The least growth with which the joint reaches the target.
fn least(
    model: &Model,
    linear: &Linear,
    row: &Row,
    grow: &dyn Fn(&Bore, f64) -> Gate,
) -> Option<f64> {
    let reaches = |steps: u32| {
        let grown = f64::from(steps) * STEP;
        let passes = row.pins.clone().map(|pin| {
            let wide = row.under_head(model, pin);
            1.0 - fails(model, linear, pin, (wide, &grow(&model.bores[wide], grown)))
        });
        TARGET <= passes.product::<f64>()
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

/// The chance that a pin does not go through when one of its holes has another gate.
fn fails(model: &Model, linear: &Linear, pin: usize, (wide, gate): (usize, &Gate)) -> f64 {
    let each = model.pins[pin].pairs.clone().map(|index| {
        let gates = model.pairs[index].bores;
        let [a, b] = gates.map(|bore| if bore == wide { gate } else { &model.bores[bore].gate });
        outside(&Region::of(a, b), linear.covariance(index))
    });
    each.sum::<f64>().min(1.0)
}
