//! The search for a short plan: bars are filled one after the other, each with the longest piece
//! that is left and every full set of others beside it; branches that cannot beat the best plan so
//! far are left. The first plan down fills every bar greedily.

use super::Piece;
use super::bound::by_length;

/// Bars tried before the search gives up on proving its best plan, so that every run takes the
/// same steps and none takes long.
const MOST_TRIES: usize = 5_000;
/// Sets of pieces for one bar that are looked at.
const MOST_SETS: usize = 500;
/// Lengths nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// A bar with its pieces.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Taken {
    pub(super) stock: f64,
    /// In the order of the pieces asked for.
    pub(super) cuts: Vec<usize>,
}

/// What the search came to.
pub(super) struct Found {
    pub(super) bars: Vec<Taken>,
    /// Whether every plan that could be shorter was tried.
    pub(super) complete: bool,
}

/// A search over one set of pieces.
pub(super) struct Search<'a> {
    pieces: &'a [Piece],
    /// Indexes of the pieces, longest first.
    order: Vec<usize>,
    /// Longest first.
    stock: &'a [f64],
    kerf: f64,
    best: Option<(f64, Vec<Taken>)>,
    tries: usize,
    /// Whether a bar had more sets than are looked at.
    short: bool,
}

/// A plan in the making: pieces left, bars taken and their length.
#[derive(Clone)]
struct State {
    left: Vec<usize>,
    bars: Vec<Taken>,
    total: f64,
}

impl<'a> Search<'a> {
    pub(super) fn new(pieces: &'a [Piece], stock: &'a [f64], kerf: f64) -> Self {
        let mut order: Vec<usize> = (0..pieces.len()).collect();
        order.sort_by(|a, b| pieces[*b].length.total_cmp(&pieces[*a].length));
        Self { pieces, order, stock, kerf, best: None, tries: 0, short: false }
    }

    /// The shortest plan found; the search ends early at one that meets the bound.
    pub(super) fn best(mut self, bound: f64) -> Found {
        let left = self.pieces.iter().map(|piece| piece.count).collect();
        self.fill(State { left, bars: Vec::new(), total: 0.0 }, bound);
        let complete = self.tries < MOST_TRIES && !self.short;
        let mut bars = self.best.map_or_else(Vec::new, |(_, bars)| bars);
        bars.sort_by(|a, b| b.stock.total_cmp(&a.stock).then_with(|| b.cuts.cmp(&a.cuts)));
        Found { bars, complete }
    }

    fn fill(&mut self, state: State, bound: f64) {
        let Some(&first) = self.order.iter().find(|i| state.left[**i] > 0) else {
            self.keep(state);
            return;
        };
        let need: f64 = (0..state.left.len()).map(|i| state.left[i] as f64 * self.taking(i)).sum();
        let least = state.total + by_length(need, self.stock, self.kerf);
        if self.beaten(least, bound) {
            return;
        }
        for bar in self.bars(&state, first) {
            if MOST_TRIES <= self.tries && self.best.is_some() {
                return;
            }
            self.tries += 1;
            let mut next = state.clone();
            next.left.iter_mut().zip(&bar.cuts).for_each(|(left, cut)| *left -= cut);
            next.total += bar.stock;
            next.bars.push(bar);
            self.fill(next, bound);
        }
    }

    /// What a piece takes of a bar: itself and its cut.
    fn taking(&self, piece: usize) -> f64 {
        self.pieces[piece].length + self.kerf
    }

    fn keep(&mut self, state: State) {
        if self.best.as_ref().is_none_or(|(total, _)| state.total < total - SAME) {
            self.best = Some((state.total, state.bars));
        }
    }

    /// Whether no plan of at least this length can be worth finding.
    fn beaten(&self, least: f64, bound: f64) -> bool {
        let best = self.best.as_ref().map(|(total, _)| *total);
        best.is_some_and(|best| best <= least + SAME || best <= bound + SAME)
    }

    /// Bars of every length that hold the longest piece left, with every full set beside it; those
    /// that waste least first.
    fn bars(&mut self, state: &State, first: usize) -> Vec<Taken> {
        let mut bars = Vec::new();
        for stock in self.stock.iter().filter(|stock| self.pieces[first].length <= **stock + SAME) {
            let mut cuts = vec![0; self.pieces.len()];
            cuts[first] = 1;
            let room = stock + self.kerf - self.taking(first);
            let mut sets = Vec::new();
            self.sets(state, (0, room), &mut cuts, &mut sets);
            self.short |= MOST_SETS <= sets.len();
            bars.extend(sets.into_iter().map(|(rest, cuts)| (rest, Taken { stock: *stock, cuts })));
        }
        bars.sort_by(|a, b| a.0.total_cmp(&b.0));
        bars.into_iter().map(|(_, bar)| bar).collect()
    }

    /// Every set of pieces, from place `at` of the order on, that leaves no room for another.
    fn sets(
        &self,
        state: &State,
        (at, room): (usize, f64),
        cuts: &mut Vec<usize>,
        sets: &mut Vec<(f64, Vec<usize>)>,
    ) {
        let Some(&piece) = self.order.get(at) else {
            let fits = |i: &usize| cuts[*i] < state.left[*i] && self.taking(*i) <= room + SAME;
            if sets.len() < MOST_SETS && !self.order.iter().any(fits) {
                sets.push((room, cuts.clone()));
            }
            return;
        };
        let before = cuts[piece];
        let most = ((room + SAME) / self.taking(piece)).floor().max(0.0) as usize;
        for more in (0..=most.min(state.left[piece] - before)).rev() {
            if MOST_SETS <= sets.len() {
                break;
            }
            cuts[piece] = before + more;
            self.sets(state, (at + 1, room - more as f64 * self.taking(piece)), cuts, sets);
        }
        cuts[piece] = before;
    }
}
