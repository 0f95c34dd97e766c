//! A kit ready for both methods, and the linear method's report.

use std::collections::BTreeMap;
use std::ops::Range;

use super::advice::{Growth, Row, growth};
use super::chance::principal;
use super::fit::{Fit, ROWS};
use super::linear::{Cause, Linear};
use super::model::Model;
use super::report::{Advice, JointStack, Report, TARGET};
use super::trial::{Tally, builds};
use crate::fold::FoldedPart;
use crate::kit::{Bend, HoleShape, Joint, JointMember, Kit, SetFrom};
use crate::shelf::{Shelf, Spread, Tolerance};
use crate::units;

/// How many causes are told.
const CAUSES: usize = 3;

/// A cause with a smaller share of the variance is not told.
const LEAST_SHARE: f64 = 0.005;

/// A kit with its joints laid out for the two methods.
#[derive(Debug)]
pub struct Stack<'a> {
    kit: &'a Kit,
    tolerance: &'a Tolerance,
    model: Model,
    fit: Fit,
}

impl<'a> Stack<'a> {
    /// Lays it out; `folded` stands in the order of the kit's parts.
    pub fn of(kit: &'a Kit, folded: &[FoldedPart], shelf: &'a Shelf) -> Self {
        let model = Model::of(kit, folded, shelf);
        let fit = Fit::of(&model);
        Self { kit, tolerance: &shelf.shop.tolerance, model, fit }
    }

    /// Builds the kits with these numbers, each with errors that the seed and its number decide.
    pub fn builds(&self, seed: u64, range: Range<u64>) -> Tally {
        builds(&self.model, &self.fit, seed, range)
    }

    /// No builds: what others are merged into.
    pub fn no_builds(&self) -> Tally {
        Tally::none(&self.model)
    }

    /// By the linear method.
    pub fn report(&self) -> Report {
        let linear = Linear::of(&self.model, &self.fit);
        let joints = self.kit.joints.iter().zip(&self.model.joints);
        let joints = joints.map(|(joint, pins)| self.joint(joint, pins, &linear));
        Report {
            joints: joints.collect(),
            builds: None,
            basis: basis(self.tolerance),
            limits: Some(self.tolerance.clone()),
        }
    }

    /// The chance of each fastener through two or more holed sheets by the linear method, in the
    /// order of the joints.
    pub fn fasteners(&self) -> Vec<f64> {
        let linear = Linear::of(&self.model, &self.fit);
        (0..self.model.pins.len()).map(|pin| 1.0 - linear.fails(&self.model, pin)).collect()
    }

    /// Variances and covariance (xx, xy, yy, mm2) of the offset of every two holes of a fastener as
    /// fitted, by the linear method, in the order of [`Tally::squares`].
    pub fn offsets(&self) -> Vec<[f64; 3]> {
        let linear = Linear::of(&self.model, &self.fit);
        (0..self.model.pairs.len()).map(|pair| linear.covariance(pair)).collect()
    }

    fn joint(&self, joint: &Joint, pins: &Range<usize>, linear: &Linear) -> JointStack {
        let fails: Vec<f64> = pins.clone().map(|pin| linear.fails(&self.model, pin)).collect();
        // Offsets are normal about 0 and regions the same on both sides of it: then chances that
        // hang together are never smaller together than their product.
        let chance: f64 = fails.iter().map(|fails| 1.0 - fails).product();
        let worst = pins.clone().zip(&fails).max_by(|a, b| a.1.total_cmp(b.1)).map(|(pin, _)| pin);
        let worst = worst.map(|pin| self.model.pins[pin].pairs.start);
        let pairs = pins.clone().flat_map(|pin| self.model.pins[pin].pairs.clone());
        let gap = pairs.map(|pair| 3.0 * linear.gap(pair)).fold(0.0, f64::max);
        let deviation = worst.map_or(0.0, |pair| principal(linear.covariance(pair)).0[0]);
        JointStack {
            id: joint.id.clone(),
            name: joint.name.clone(),
            fasteners: joint.pairs.len(),
            in_place: pins.is_empty(),
            deviation,
            clearance: worst.map_or(0.0, |pair| self.model.pairs[pair].region.clearance),
            gap,
            chance,
            trial: None,
            causes: worst.map_or(Vec::new(), |pair| self.causes(pair, linear)),
            advice: match worst {
                Some(pair) if chance < TARGET => {
                    let row = Row { pins: pins.clone(), far: joint.setting.from == SetFrom::To };
                    self.advice(joint, growth(&self.model, linear, &row, pair))
                }
                _ => Advice::Reached,
            },
        }
    }

    /// Shares of the offset's variance in its worst direction, greatest first.
    fn causes(&self, pair: usize, linear: &Linear) -> Vec<(String, f64)> {
        let (_, angle) = principal(linear.covariance(pair));
        let (x, y) = (units::cos_deg(angle), units::sin_deg(angle));
        let [xx, xy, yy] = linear.local[pair];
        let mut shares = BTreeMap::new();
        shares.insert("places of holes".to_owned(), xx * x * x + 2.0 * xy * x * y + yy * y * y);
        for (cause, column) in &linear.causes {
            let left = column[pair * ROWS] * x + column[pair * ROWS + 1] * y;
            *shares.entry(self.cause(*cause)).or_insert(0.0) += left * left;
        }
        let total: f64 = shares.values().sum();
        let mut shares: Vec<(String, f64)> = shares.into_iter().filter(|(_, v)| 0.0 < *v).collect();
        shares.iter_mut().for_each(|(_, value)| *value /= total);
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        shares.retain(|(_, share)| LEAST_SHARE <= *share);
        shares.truncate(CAUSES);
        shares
    }

    fn cause(&self, cause: Cause) -> String {
        let bend = |body: usize, fold: usize| -> (&Bend, &str) {
            let (body, part) = (&self.model.bodies[body], self.model.bodies[body].part);
            let part = &self.kit.parts[part];
            (&part.bends[body.folds[fold].bend], &part.number)
        };
        match cause {
            Cause::Stretch(body) => {
                let part = &self.kit.parts[self.model.bodies[body].part];
                format!("length of {}", part.number)
            }
            Cause::Angle(body, fold) => {
                let (bend, number) = bend(body, fold);
                format!("angle of bend {} of {number}", bend.name)
            }
            Cause::Line(body, fold) => {
                let (bend, number) = bend(body, fold);
                format!("line of bend {} of {number}", bend.name)
            }
        }
    }

    /// The growth of the holes under the joint's heads in words of their part.
    fn advice(&self, joint: &Joint, growth: Growth) -> Advice {
        let mut holed =
            joint.pairs.first().into_iter().flatten().filter_map(|member| match member {
                JointMember::Hole { part, hole, .. } => Some((&self.kit.parts[*part], hole)),
                JointMember::Into(_) => None,
            });
        let head = if joint.setting.from == SetFrom::To { holed.next_back() } else { holed.next() };
        let found = head.and_then(|(part, id)| {
            let mut faces = part.faces.iter();
            faces.find_map(|face| {
                let hole = face.holes.iter().find(|hole| hole.id == *id)?;
                Some((part.number.clone(), face.name.clone(), hole))
            })
        });
        let Some((part, face, hole)) = found else { return Advice::Reached };
        let up = |value: f64| (value * 10.0 - 1e-6).ceil() / 10.0;
        let (hole, slot) = match hole.shape {
            HoleShape::Slot(width, length, angle) | HoleShape::Rectangle(width, length, angle) => {
                (None, growth.hole.map(|grown| [up(width + grown), up(length + grown), angle]))
            }
            HoleShape::Round(width) => (
                growth.hole.map(|grown| up(width + grown)),
                growth.slot.map(|(grown, angle)| [width, up(width + grown), angle]),
            ),
            HoleShape::Cutout(_) => (None, None),
        };
        Advice::Widen { part, face, hole, slot }
    }
}

/// The limits in words.
fn basis(tolerance: &Tolerance) -> String {
    let n = |value: f64| units::number(value, 2);
    let size = match tolerance.hole_size {
        Some(limit) => format!("+-{} mm", n(limit)),
        None => format!("ISO 9013 class {}", tolerance.laser_class),
    };
    let law = match tolerance.spread {
        Spread::Normal => "normal, limits at 3 sigma",
        Spread::Uniform => "even within the limits",
    };
    format!(
        "holes +-{} mm, their size {size}, blanks +-{} mm/m, bends +-{} deg and +-{} mm, given way \
         by {} deg; {law}; {}",
        n(tolerance.hole_position),
        n(tolerance.stretch),
        n(tolerance.bend_angle),
        n(tolerance.bend_line),
        n(tolerance.give),
        tolerance.source
    )
}
