//! The Monte Carlo: kits built with errors drawn at random, folded exactly, fitted, and every
//! fastener tried. A build depends on the seed and its number alone, so that any split of the work
//! gives the same counts.

use std::ops::Range;

use super::fit::{Fit, ROWS, direction};
use super::gate::{Flat, Gate, share_a_point};
use super::model::{Model, Pin};
use super::random::{Law, Stream};
use crate::geom::{FaceFrame, Point3, Pose, SiteFrame};

/// What became of some builds. Whole numbers, so that sums do not depend on their order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tally {
    /// How many kits were built.
    pub builds: u64,
    /// For each joint of the kit, in how many builds all its fasteners passed.
    pub joints: Vec<u64>,
    /// For each fastener through two or more holed sheets, in the order of the joints, in how many
    /// builds it passed.
    pub fasteners: Vec<u64>,
    /// For every two holes of a fastener the sums of xx, xy, yy of their offset as fitted, nm2.
    pub squares: Vec<[i128; 3]>,
}

impl Tally {
    /// No builds yet.
    pub(super) fn none(model: &Model) -> Self {
        Self {
            builds: 0,
            joints: vec![0; model.joints.len()],
            fasteners: vec![0; model.pins.len()],
            squares: vec![[0; 3]; model.pairs.len()],
        }
    }

    /// Both together. They must be of the same kit.
    pub fn merge(&mut self, other: &Tally) {
        self.builds += other.builds;
        self.joints.iter_mut().zip(&other.joints).for_each(|(a, b)| *a += b);
        self.fasteners.iter_mut().zip(&other.fasteners).for_each(|(a, b)| *a += b);
        for (a, b) in self.squares.iter_mut().zip(&other.squares) {
            (0..3).for_each(|i| a[i] += b[i]);
        }
    }
}

/// Builds the kits with these numbers.
pub(super) fn builds(model: &Model, fit: &Fit, seed: u64, range: Range<u64>) -> Tally {
    let folds = model.bodies.iter().map(|body| body.folds.len()).sum();
    let mut bench = Bench {
        model,
        fit,
        law: Law::new(model.deviations.uniform),
        toward: rows(model),
        poses: Vec::with_capacity(folds),
        places: Vec::with_capacity(model.bores.len()),
        radii: Vec::with_capacity(model.bores.len()),
        stretches: Vec::with_capacity(model.bodies.len()),
        offsets: vec![0.0; model.pairs.len() * ROWS],
        x: vec![0.0; fit.unknowns],
    };
    let mut tally = Tally::none(model);
    for build in range {
        bench.build(&mut Stream::of(seed, build), &mut tally);
    }
    tally
}

fn rows(model: &Model) -> Vec<Point3<SiteFrame>> {
    let pairs = model.pairs.iter();
    pairs.flat_map(|pair| (0..ROWS).map(|row| direction(model, pair.pin, row))).collect()
}

/// Room for one build, used again for the next.
struct Bench<'a> {
    model: &'a Model,
    fit: &'a Fit,
    law: Law,
    /// Direction of each row.
    toward: Vec<Point3<SiteFrame>>,
    /// Frames of the folded faces in the site, body by body.
    poses: Vec<Pose<FaceFrame, SiteFrame>>,
    /// Each hole's centre and the room in it.
    places: Vec<Point3<SiteFrame>>,
    radii: Vec<f64>,
    /// How much too long each body's blank is, mm a metre.
    stretches: Vec<f64>,
    offsets: Vec<f64>,
    x: Vec<f64>,
}

impl Bench<'_> {
    fn build(&mut self, stream: &mut Stream, tally: &mut Tally) {
        self.fold(stream);
        self.drill(stream);
        self.lay_up();
        self.fit.relax(&mut self.offsets, &mut self.x);
        self.try_all(tally);
    }

    /// Draws every blank's length and every bend, and folds.
    fn fold(&mut self, stream: &mut Stream) {
        self.poses.clear();
        self.stretches.clear();
        let Self { model, law, .. } = self;
        for body in &model.bodies {
            let first = self.poses.len();
            self.stretches.push(law.draw(stream) * model.deviations.stretch);
            for fold in &body.folds {
                let angle = law.draw(stream) * model.deviations.angle;
                let line = law.draw(stream) * model.deviations.line;
                let parent = fold.parent.map_or(&body.root, |parent| &self.poses[first + parent]);
                let pose = fold.bent(angle, line).then(parent);
                self.poses.push(pose);
            }
        }
    }

    /// Draws every hole's place and size.
    fn drill(&mut self, stream: &mut Stream) {
        self.places.clear();
        self.radii.clear();
        let Self { model, law, .. } = self;
        let mut firsts = Vec::with_capacity(model.bodies.len());
        let mut next = 0;
        for body in &model.bodies {
            firsts.push(next);
            next += body.folds.len();
        }
        for bore in &model.bores {
            let x = law.draw(stream) * model.deviations.position;
            let y = law.draw(stream) * model.deviations.position;
            let pose = match bore.fold {
                Some(fold) => &self.poses[firsts[bore.body] + fold],
                None => &model.bodies[bore.body].root,
            };
            let at = pose.point(bore.at + Point3::new(x, y, 0.0));
            self.places.push(at + bore.stretch * self.stretches[bore.body]);
            // Drawn for every hole, so that the numbers do not shift when one has no room.
            let size = law.draw(stream);
            self.radii.push(bore.gate.radius + bore.gate.spread * size);
        }
    }

    /// The offsets of every two holes before anything is moved; gaps from what is meant.
    fn lay_up(&mut self) {
        for (index, pair) in self.model.pairs.iter().enumerate() {
            let [a, b] = pair.bores;
            let apart = self.places[b] - self.places[a];
            let meant = self.model.bores[b].place - self.model.bores[a].place;
            let row = index * ROWS;
            self.offsets[row] = self.toward[row].dot(apart);
            self.offsets[row + 1] = self.toward[row + 1].dot(apart);
            self.offsets[row + 2] = self.toward[row + 2].dot(apart - meant);
        }
    }

    fn try_all(&self, tally: &mut Tally) {
        tally.builds += 1;
        for (pair, sums) in tally.squares.iter_mut().enumerate() {
            let [x, y] = self.offset(pair).map(|mm| (mm * 1e6).round() as i128);
            *sums = [sums[0] + x * x, sums[1] + x * y, sums[2] + y * y];
        }
        for (joint, pins) in self.model.joints.iter().enumerate() {
            let mut all = true;
            for pin in pins.clone() {
                let passed = self.passes(&self.model.pins[pin]);
                tally.fasteners[pin] += u64::from(passed);
                all &= passed;
            }
            tally.joints[joint] += u64::from(all);
        }
    }

    fn offset(&self, pair: usize) -> Flat {
        [self.offsets[pair * ROWS], self.offsets[pair * ROWS + 1]]
    }

    fn passes(&self, pin: &Pin) -> bool {
        if pin.pairs.len() == 1 {
            let [a, b] = self.model.pairs[pin.pairs.start].bores;
            let rim = self.radii[a] + self.radii[b];
            let far = self.model.pairs[pin.pairs.start].region.away(self.offset(pin.pairs.start));
            return far <= rim;
        }
        let gate =
            |bore: usize| Gate { radius: self.radii[bore], ..self.model.bores[bore].gate.clone() };
        let mut gates = vec![([0.0, 0.0], gate(pin.bores.start))];
        // The first pairs of a pin are those of its first hole with the others.
        let others = pin.bores.clone().skip(1).zip(pin.pairs.clone());
        gates.extend(others.map(|(bore, pair)| (self.offset(pair), gate(bore))));
        gates.iter().all(|(_, gate)| 0.0 <= gate.radius) && share_a_point(&gates)
    }
}
