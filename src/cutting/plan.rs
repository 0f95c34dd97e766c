//! A cutting plan and how it is made.

use super::bound::least_stock;
use super::search::{Search, Taken};

/// Pieces of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// In words.
    pub title: String,
    /// Length, mm, above 0.
    pub length: f64,
    /// How many.
    pub count: usize,
}

/// One bar with what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Length as bought, mm.
    pub stock: f64,
    /// How many pieces of each kind, in the order of the plan's pieces.
    pub cuts: Vec<usize>,
    /// What is left after the last cut, mm.
    pub rest: f64,
}

/// A cutting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What is cut, in the order it was asked for.
    pub pieces: Vec<Piece>,
    /// The bars, longest first, those cut alike together.
    pub bars: Vec<Bar>,
    /// Width of a saw cut, mm.
    pub kerf: f64,
    /// Length of all bars, mm.
    pub total: f64,
    /// No plan does with less, mm.
    pub bound: f64,
    /// Whether the plan is one of the shortest: it meets the bound, or every other was tried.
    pub proven: bool,
}

/// Cuts the pieces from bars of the given lengths with a saw of this kerf so that the bars'
/// lengths come to as little as the search finds. None when a piece is longer than every bar, or
/// a number is not above 0 (kerf: not below).
pub fn plan(pieces: &[Piece], stock: &[f64], kerf: f64) -> Option<Plan> {
    let mut stock: Vec<f64> = stock.to_vec();
    stock.sort_by(|a, b| b.total_cmp(a));
    stock.dedup();
    let longest = stock.first().copied()?;
    let wrong = |length: f64| !(0.0 < length && length.is_finite());
    let sound = 0.0 <= kerf && kerf.is_finite() && !stock.iter().any(|s| wrong(*s));
    if !sound || pieces.iter().any(|p| wrong(p.length) || longest < p.length) {
        return None;
    }
    let bound = least_stock(pieces, &stock, kerf);
    let found = Search::new(pieces, &stock, kerf).best(bound);
    let total = found.bars.iter().map(|bar| bar.stock).sum();
    let proven = found.complete || total <= bound + 1e-6;
    let bars = found.bars.iter().map(|bar| cut(bar, pieces, kerf)).collect();
    Some(Plan { pieces: pieces.to_vec(), bars, kerf, total, bound, proven })
}

/// A bar as it is cut; the last cut is none where the pieces fill it exactly.
fn cut(bar: &Taken, pieces: &[Piece], kerf: f64) -> Bar {
    let used: f64 =
        bar.cuts.iter().zip(pieces).map(|(n, piece)| *n as f64 * (piece.length + kerf)).sum();
    Bar { stock: bar.stock, cuts: bar.cuts.clone(), rest: (bar.stock - used).max(0.0) }
}
