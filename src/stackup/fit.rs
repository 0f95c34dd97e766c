//! What the fitter does: he lays all parts of the kit up at once, shifts and turns them, presses
//! bends a little open or closed, until all holes meet as well as they can, and then sets the
//! fasteners.
//!
//! "As well as they can" is least squares over the whole kit. The unknowns are the motion of every
//! instance and the give of every bend on the way to a joined hole. The rows are the offsets of
//! every two holes of a fastener in the joint's plane, and, a tenth as heavy, the gap across it: a
//! fastener pulls a gap together, an offset it cannot. A fitter who favours the one tight hole does
//! better yet, so chances are not overstated.

use super::envelope::Envelope;
use super::model::{Bore, Model};
use crate::geom::{Point3, SiteFrame};

/// A gap counts as this share of an offset as long.
const GAP_WEIGHT: f64 = 0.1;

/// A bend pressed by the whole give counts like an offset of this much, mm: about the clearance of
/// a rivet's hole.
const GIVE_WEIGHT: f64 = 0.1;

/// What holds a part that nothing else holds; far below any row.
const ANCHOR: f64 = 1e-6;

/// Unknowns of a body that does not give: three shifts in mm, three turns in thousandths of a
/// radian.
const RIGID: usize = 6;

/// Rows of a pair: two offsets in the joint's plane, the gap.
pub(super) const ROWS: usize = 3;

/// The least-squares system of a kit, factored once.
#[derive(Debug)]
pub(super) struct Fit {
    /// How many unknowns there are.
    pub(super) unknowns: usize,
    /// For each row its entries: unknown and factor.
    entries: Vec<(usize, f64)>,
    /// Where each row's entries begin; one more at the end.
    starts: Vec<usize>,
    factor: Envelope,
}

impl Fit {
    /// Sets the system up and factors it.
    pub(super) fn of(model: &Model) -> Self {
        let (places, unknowns) = places(model);
        let mut fit = Self {
            unknowns,
            entries: Vec::new(),
            starts: vec![0],
            factor: Envelope::new(Vec::new()),
        };
        for pair in &model.pairs {
            let [a, b] = pair.bores.map(|bore| &model.bores[bore]);
            for row in 0..ROWS {
                let toward = direction(model, pair.pin, row);
                fit.enter(model, a, -toward, places[a.body]);
                fit.enter(model, b, toward, places[b.body]);
                fit.starts.push(fit.entries.len());
            }
        }
        fit.factor = fit.normal(model, &places);
        fit.factor.factor();
        fit
    }

    fn enter(&mut self, model: &Model, bore: &Bore, toward: Point3<SiteFrame>, place: usize) {
        let body = &model.bodies[bore.body];
        let arm = (bore.place - body.centre).cross(toward) * 1e-3;
        let rigid = [toward.x, toward.y, toward.z, arm.x, arm.y, arm.z];
        let mut add = |unknown: usize, factor: f64| {
            if factor != 0.0 {
                self.entries.push((place + unknown, factor));
            }
        };
        rigid.into_iter().enumerate().for_each(|(unknown, factor)| add(unknown, factor));
        if model.deviations.give == 0.0 {
            return;
        }
        let mut next = bore.fold;
        while let Some(fold) = next {
            add(RIGID + fold, body.folds[fold].moves(bore.place, toward)[0]);
            next = body.folds[fold].parent;
        }
    }

    /// The normal matrix: rows, anchors, and what pressing a bend costs.
    fn normal(&self, model: &Model, places: &[usize]) -> Envelope {
        let rows = self.starts.len() - 1;
        let mut first: Vec<usize> = (0..self.unknowns).collect();
        for row in 0..rows {
            let least = self.row(row).iter().map(|(unknown, _)| *unknown).min().unwrap_or(0);
            self.row(row)
                .iter()
                .for_each(|(unknown, _)| first[*unknown] = first[*unknown].min(least));
        }
        let mut normal = Envelope::new(first);
        for row in 0..rows {
            for (i, a) in self.row(row) {
                let lower = self.row(row).iter().filter(|(j, _)| j <= i);
                lower.for_each(|(j, b)| normal.add(*i, *j, a * b));
            }
        }
        let spring = GIVE_WEIGHT / model.deviations.give;
        for (body, place) in model.bodies.iter().zip(places) {
            (0..RIGID).for_each(|i| normal.add(place + i, place + i, ANCHOR));
            let bends = if model.deviations.give == 0.0 { 0 } else { body.folds.len() };
            (RIGID..RIGID + bends).for_each(|i| normal.add(place + i, place + i, spring * spring));
        }
        normal
    }

    /// A row's entries.
    pub(super) fn row(&self, row: usize) -> &[(usize, f64)] {
        &self.entries[self.starts[row]..self.starts[row + 1]]
    }

    /// A row times a vector of unknowns.
    pub(super) fn times(&self, row: usize, x: &[f64]) -> f64 {
        self.row(row).iter().map(|(unknown, factor)| factor * x[*unknown]).sum()
    }

    /// From the transposed rows times offsets to what the fitter leaves: solves in place, with the
    /// sign turned by the caller.
    pub(super) fn solve(&self, x: &mut [f64]) {
        self.factor.solve(x);
    }

    /// What is left of all rows' offsets once the fitter has done his best, in place; `x` is room
    /// for the unknowns.
    pub(super) fn relax(&self, offsets: &mut [f64], x: &mut [f64]) {
        x.fill(0.0);
        for (row, offset) in offsets.iter().enumerate() {
            self.row(row).iter().for_each(|(unknown, factor)| x[*unknown] += factor * offset);
        }
        self.solve(x);
        for (row, offset) in offsets.iter_mut().enumerate() {
            *offset -= self.times(row, x);
        }
    }
}

/// The direction of a pair's row in the site; the gap's is shortened by its weight.
pub(super) fn direction(model: &Model, pin: usize, row: usize) -> Point3<SiteFrame> {
    let axis = model.pins[pin].axes[row];
    if row == ROWS - 1 { axis * GAP_WEIGHT } else { axis }
}

/// A gap row's value as a gap, mm.
pub(super) fn as_gap(value: f64) -> f64 {
    value / GAP_WEIGHT
}

/// Where each body's unknowns begin, and how many there are in all. Bodies with few fasteners come
/// first, so that the factor fills little.
fn places(model: &Model) -> (Vec<usize>, usize) {
    let mut held = vec![0usize; model.bodies.len()];
    model.bores.iter().for_each(|bore| held[bore.body] += 1);
    let mut order: Vec<usize> = (0..model.bodies.len()).collect();
    order.sort_by_key(|body| held[*body]);
    let mut places = vec![0; model.bodies.len()];
    let mut next = 0;
    for body in order {
        places[body] = next;
        let bends = model.bodies[body].folds.len();
        next += RIGID + if model.deviations.give == 0.0 { 0 } else { bends };
    }
    (places, next)
}
