//! Parts in a room that may overlap, how far they do, and the weight of every pair's overlap.

use crate::nest::core::{Core, Pose};
use crate::nest::model::{Placed, Rect};
use crate::nest::nfp::NoFit;

/// An overlap less deep than this is none, hundredths of a millimetre: what double precision may
/// lose. Slanted edges are padded by far more.
const NONE: f64 = 1e-3;

/// A part where it lies.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Part {
    /// Index of its item; none for a blocked rectangle.
    pub item: Option<usize>,
    /// How it lies.
    pub pose: Pose,
    /// Lower left corner of the rectangle about it; whole numbers.
    pub at: [f64; 2],
}

/// Parts that may overlap.
#[derive(Debug, Clone)]
pub(crate) struct Crowd<'c> {
    pub core: &'c Core,
    pub room: Rect,
    pub parts: Vec<Part>,
    /// Side of a square of every part's area, hundredths.
    sides: Vec<f64>,
    /// How far every pair overlaps, by rows: the depth times the side of the smaller part, as if it
    /// were an area, so that large parts find their places first.
    overlap: Vec<f64>,
    weight: Vec<f64>,
}

/// Where everything else forbids one form to lie: seen from one part of a crowd.
pub(crate) struct View<'a> {
    others: Vec<Other<'a>>,
    /// Least and greatest place of the form inside the room; inside out where it is too large.
    pub low: [f64; 2],
    pub high: [f64; 2],
}

struct Other<'a> {
    low: [f64; 2],
    high: [f64; 2],
    at: [f64; 2],
    weight: f64,
    no_fit: &'a NoFit,
}

impl<'c> Crowd<'c> {
    /// Parts in a room, with the blocked rectangles of the stock put in front.
    pub(crate) fn new(core: &'c Core, stock: usize, room: Rect, placed: &[Placed]) -> Self {
        let blocked = core.blocked(stock).iter().map(|&(form, at)| Part {
            item: None,
            pose: Pose { form, turn: 0, mirrored: false, shift: [0, 0] },
            at: at.map(|c| c as f64),
        });
        let lie = |placed: &Placed| {
            let (pose, at) = core.pose_of(placed)?;
            Some(Part { item: Some(placed.item), pose, at: at.map(|c| c as f64) })
        };
        let parts: Vec<Part> = blocked.chain(placed.iter().filter_map(lie)).collect();
        let n = parts.len();
        let side = |part: &Part| part.item.map_or(f64::INFINITY, |item| core.area(item).sqrt());
        let sides = parts.iter().map(side).collect();
        let (overlap, weight) = (vec![0.0; n * n], vec![1.0; n * n]);
        let mut crowd = Self { core, room, parts, sides, overlap, weight };
        crowd.refresh();
        crowd
    }

    /// What lies in the room, for a layout.
    pub(crate) fn placed(&self) -> Vec<Placed> {
        let one =
            |part: &Part| Some(self.core.placed(part.item?, part.pose, part.at.map(|c| c as i64)));
        self.parts.iter().filter_map(one).collect()
    }

    /// Works all overlaps out anew.
    pub(crate) fn refresh(&mut self) {
        for part in 0..self.parts.len() {
            self.refresh_row(part);
        }
    }

    fn refresh_row(&mut self, part: usize) {
        let n = self.parts.len();
        let here = self.parts[part];
        for other in 0..n {
            let there = self.parts[other];
            let fixed = here.item.is_none() && there.item.is_none();
            let overlap = match other == part || fixed {
                true => 0.0,
                false => depth(self.core, &here, &there) * self.smaller(part, other),
            };
            self.overlap[part * n + other] = overlap;
            self.overlap[other * n + part] = overlap;
        }
    }

    /// Side of the smaller of two parts.
    fn smaller(&self, part: usize, other: usize) -> f64 {
        self.sides[part].min(self.sides[other])
    }

    /// Lays a part elsewhere.
    pub(crate) fn lay(&mut self, part: usize, pose: Pose, at: [f64; 2]) {
        self.parts[part].pose = pose;
        self.parts[part].at = at;
        self.refresh_row(part);
    }

    /// Moves every part into the room, as far as it is not there; one that is too long for the room
    /// as it lies takes its first pose that fits.
    pub(crate) fn herd(&mut self) {
        let room = [0, 1].map(|k| self.room.high[k] - self.room.low[k]);
        for part in &mut self.parts {
            let Some(item) = part.item else { continue };
            let fits = |pose: &&Pose| {
                let size = self.core.form_size(pose.form);
                size[0] <= room[0] && size[1] <= room[1]
            };
            if !fits(&&part.pose) {
                part.pose = self.core.poses[item].iter().find(fits).copied().unwrap_or(part.pose);
            }
            let size = self.core.form_size(part.pose.form);
            part.at = [0, 1].map(|k| {
                let high = (self.room.high[k] - size[k]) as f64;
                part.at[k].min(high).max(self.room.low[k] as f64)
            });
        }
        self.refresh();
    }

    /// Sum of all overlaps.
    pub(crate) fn total(&self) -> f64 {
        self.overlap.iter().sum::<f64>() / 2.0
    }

    /// Parts that overlap with others and may be moved.
    pub(crate) fn in_the_way(&self) -> Vec<usize> {
        let n = self.parts.len();
        let overlaps = |part: &usize| self.overlap[part * n..][..n].iter().any(|&o| 0.0 < o);
        let movable = |part: &usize| self.parts[*part].item.is_some();
        (0..n).filter(movable).filter(overlaps).collect()
    }

    /// Weighted overlap of one part as it lies.
    pub(crate) fn load(&self, part: usize) -> f64 {
        let n = self.parts.len();
        let row = part * n..(part + 1) * n;
        self.overlap[row.clone()].iter().zip(&self.weight[row]).map(|(o, w)| o * w).sum()
    }

    /// Pairs that overlap weigh more from now on, the worst most; others less again.
    pub(crate) fn weigh(&mut self) {
        let worst = self.overlap.iter().copied().fold(0.0, f64::max);
        for (weight, overlap) in self.weight.iter_mut().zip(&self.overlap) {
            *weight = match *overlap {
                0.0 => (*weight * 0.95).max(1.0),
                overlap => *weight * (1.2 + 0.8 * overlap / worst),
            };
        }
    }

    /// All weights as at the start.
    pub(crate) fn forget(&mut self) {
        self.weight.fill(1.0);
    }

    /// The places of one part under a form.
    pub(crate) fn view(&self, part: usize, form: usize) -> View<'c> {
        let n = self.parts.len();
        let other = |(at, other): (usize, &Part)| {
            let no_fit = self.core.no_fit(other.pose.form, form);
            let [x, y] = other.at;
            let (low, high) = (no_fit.low, no_fit.high);
            Other {
                low: [low[0] + x, low[1] + y],
                high: [high[0] + x, high[1] + y],
                at: other.at,
                weight: self.weight[part * n + at] * self.smaller(part, at),
                no_fit,
            }
        };
        let others = self.parts.iter().enumerate().filter(|(at, _)| *at != part).map(other);
        let size = self.core.form_size(form);
        let low = self.room.low.map(|c| c as f64);
        let high = [0, 1].map(|k| (self.room.high[k] - size[k]) as f64);
        View { others: others.collect(), low, high }
    }
}

/// How deep two parts overlap, hundredths.
fn depth(core: &Core, here: &Part, there: &Part) -> f64 {
    let no_fit = core.no_fit(there.pose.form, here.pose.form);
    let depth = no_fit.depth([here.at[0] - there.at[0], here.at[1] - there.at[1]]);
    if depth < NONE { 0.0 } else { depth }
}

impl View<'_> {
    /// Weighted overlap at a place, as far as it stays below a limit.
    pub(crate) fn load(&self, p: [f64; 2], limit: f64) -> f64 {
        let mut sum = 0.0;
        for other in &self.others {
            let misses = p[0] <= other.low[0]
                || other.high[0] <= p[0]
                || p[1] <= other.low[1]
                || other.high[1] <= p[1];
            if misses {
                continue;
            }
            let depth = other.no_fit.depth([p[0] - other.at[0], p[1] - other.at[1]]);
            sum += if depth < NONE { 0.0 } else { depth * other.weight };
            if limit <= sum {
                return f64::INFINITY;
            }
        }
        sum
    }

    /// Whether the form fits the room at all.
    pub(crate) fn fits(&self) -> bool {
        self.low[0] <= self.high[0] && self.low[1] <= self.high[1]
    }

    /// The nearest whole place inside the room.
    pub(crate) fn inside(&self, p: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|k| p[k].round().min(self.high[k]).max(self.low[k]))
    }
}
