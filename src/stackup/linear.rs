//! The linear method: every error's share in every offset that the fitter leaves, summed as
//! variances.

use super::chance::{Covariance, outside};
use super::fit::{Fit, ROWS, as_gap, direction};
use super::model::{Bore, Model};
use crate::geom::{Point3, SiteFrame};

/// An error that moves more than one hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cause {
    /// A body's blank is too long.
    Stretch(usize),
    /// A fold's angle, by body and fold.
    Angle(usize, usize),
    /// A fold's line.
    Line(usize, usize),
}

/// What the linear method finds.
#[derive(Debug)]
pub(super) struct Linear {
    /// Each cause with what one deviation of it leaves in every row, mm.
    pub(super) causes: Vec<(Cause, Vec<f64>)>,
    /// For each pair what the places of all holes by themselves leave.
    pub(super) local: Vec<Covariance>,
}

impl Linear {
    /// Works it out.
    pub(super) fn of(model: &Model, fit: &Fit) -> Self {
        let mut x = vec![0.0; fit.unknowns];
        let columns = columns(model).into_iter();
        let felt = columns.filter(|(_, column)| column.iter().any(|offset| *offset != 0.0));
        let mut causes: Vec<(Cause, Vec<f64>)> = felt.collect();
        causes.iter_mut().for_each(|(_, column)| fit.relax(column, &mut x));
        Self { causes, local: local(model, fit) }
    }

    /// The offset's spread of a pair.
    pub(super) fn covariance(&self, pair: usize) -> Covariance {
        self.causes.iter().fold(self.local[pair], |sum, (_, column)| {
            let [x, y] = [column[pair * ROWS], column[pair * ROWS + 1]];
            [sum[0] + x * x, sum[1] + x * y, sum[2] + y * y]
        })
    }

    /// Deviation of the gap between a pair's faces before the fastener pulls it together, mm.
    pub(super) fn gap(&self, pair: usize) -> f64 {
        let squares = self.causes.iter().map(|(_, column)| {
            let gap = as_gap(column[pair * ROWS + 2]);
            gap * gap
        });
        squares.sum::<f64>().sqrt()
    }

    /// The chance that a pin does not go through: the sum over its pairs, which is never too small.
    pub(super) fn fails(&self, model: &Model, pin: usize) -> f64 {
        let pairs = model.pins[pin].pairs.clone();
        let each = pairs.map(|pair| outside(&model.pairs[pair].region, self.covariance(pair)));
        each.sum::<f64>().min(1.0)
    }
}

/// Each cause with what one deviation of it does to every row before anything is moved.
fn columns(model: &Model) -> Vec<(Cause, Vec<f64>)> {
    let mut columns: Vec<(Cause, Vec<f64>)> = Vec::new();
    for (body, it) in model.bodies.iter().enumerate() {
        let bends = (0..it.folds.len()).flat_map(|f| [Cause::Angle(body, f), Cause::Line(body, f)]);
        let causes = std::iter::once(Cause::Stretch(body)).chain(bends);
        columns.extend(causes.map(|cause| (cause, vec![0.0; model.pairs.len() * ROWS])));
    }
    let numbers = Numbers::of(model);
    for row in 0..model.pairs.len() * ROWS {
        let pair = &model.pairs[row / ROWS];
        let toward = direction(model, pair.pin, row % ROWS);
        let [a, b] = pair.bores.map(|bore| &model.bores[bore]);
        let mut add = |cause: usize, offset: f64| columns[cause].1[row] += offset;
        numbers.each(model, a, -toward, &mut add);
        numbers.each(model, b, toward, &mut add);
    }
    columns
}

/// Where each body's causes begin in the list of all.
struct Numbers(Vec<usize>);

impl Numbers {
    fn of(model: &Model) -> Self {
        let mut next = 0;
        let begin = |body: &super::model::Body| {
            let here = next;
            next += 1 + 2 * body.folds.len();
            here
        };
        Self(model.bodies.iter().map(begin).collect())
    }

    /// How far a hole moves along `toward` for one deviation of each cause.
    fn each(
        &self,
        model: &Model,
        bore: &Bore,
        toward: Point3<SiteFrame>,
        add: &mut impl FnMut(usize, f64),
    ) {
        let (deviations, first) = (&model.deviations, self.0[bore.body]);
        add(first, toward.dot(bore.stretch) * deviations.stretch);
        let mut next = bore.fold;
        while let Some(fold) = next {
            let it = &model.bodies[bore.body].folds[fold];
            let [angle, line] = it.moves(bore.place, toward);
            add(first + 1 + 2 * fold, angle * deviations.angle);
            add(first + 2 + 2 * fold, line * deviations.line);
            next = it.parent;
        }
    }
}

/// For each pair, what the places of all holes leave of its offset. One hole's error is as large
/// along either axis and independent of every other's.
fn local(model: &Model, fit: &Fit) -> Vec<Covariance> {
    let variance = model.deviations.position * model.deviations.position;
    let mut all = Vec::with_capacity(model.pairs.len());
    if variance == 0.0 {
        return vec![[0.0; 3]; model.pairs.len()];
    }
    let mut own = [vec![0.0; fit.unknowns], vec![0.0; fit.unknowns]];
    for pair in 0..model.pairs.len() {
        for (axis, x) in own.iter_mut().enumerate() {
            x.fill(0.0);
            fit.row(pair * ROWS + axis).iter().for_each(|(unknown, factor)| x[*unknown] += factor);
            fit.solve(x);
        }
        // What an offset of another pair along an axis leaves in this one.
        let left = |other: usize, axis: usize| {
            let row = other * ROWS + axis;
            let here = |own: usize| f64::from(u8::from(other == pair && own == axis));
            [here(0) - fit.times(row, &own[0]), here(1) - fit.times(row, &own[1])]
        };
        let mut sum = [0.0; 3];
        for pin in &model.pins {
            add_pin(model, pin, &mut sum, |other| left(other, 0));
            add_pin(model, pin, &mut sum, |other| left(other, 1));
        }
        all.push(sum.map(|value| value * variance));
    }
    all
}

/// Adds what one pin's holes do along one axis; `left` says what an offset of a pair leaves.
fn add_pin(
    model: &Model,
    pin: &super::model::Pin,
    sum: &mut Covariance,
    left: impl Fn(usize) -> [f64; 2],
) {
    let mut add = |[x, y]: [f64; 2], times: f64| {
        *sum = [sum[0] + times * x * x, sum[1] + times * x * y, sum[2] + times * y * y];
    };
    if pin.pairs.len() == 1 {
        return add(left(pin.pairs.start), 2.0);
    }
    for bore in pin.bores.clone() {
        let mut moved = [0.0; 2];
        for pair in pin.pairs.clone() {
            let [a, b] = model.pairs[pair].bores;
            let sign = f64::from(i8::from(b == bore) - i8::from(a == bore));
            let here = left(pair);
            moved = [moved[0] + sign * here[0], moved[1] + sign * here[1]];
        }
        add(moved, 1.0);
    }
}
