//! How little stock any plan could do with.

use super::Piece;

/// The greater of two lower bounds on the length of all bars. A bar of length s holds pieces that,
/// each with its cut, come to s and one cut at most.
///
/// By length: the shortest set of bars that holds everything if pieces could be divided. By long
/// pieces: those longer than half the longest bar lie in bars of their own, each in the shortest
/// that holds it.
pub(super) fn least_stock(pieces: &[Piece], stock: &[f64], kerf: f64) -> f64 {
    let need: f64 = pieces.iter().map(|piece| piece.count as f64 * (piece.length + kerf)).sum();
    by_length(need, stock, kerf).max(by_long_pieces(pieces, stock, kerf))
}

/// The shortest set of bars that holds this much, pieces divided at will. `stock` runs from the
/// longest to the shortest. With many bars, or bars of many lengths, the last one makes little
/// odds: then bars are divided too.
pub(super) fn by_length(need: f64, stock: &[f64], kerf: f64) -> f64 {
    let Some((first, others)) = stock.split_first() else { return 0.0 };
    let most = ((need / (first + kerf)) - 1e-9).ceil().max(0.0);
    if others.is_empty() {
        return most * first;
    }
    if 2 < stock.len() || 64.0 < most {
        let ratio = stock.iter().map(|s| s / (s + kerf)).fold(f64::INFINITY, f64::min);
        return need.max(0.0) * ratio;
    }
    let counts = (0..=most as usize).map(|n| n as f64);
    let totals = counts.map(|n| n * first + by_length(need - n * (first + kerf), others, kerf));
    totals.fold(f64::INFINITY, f64::min)
}

fn by_long_pieces(pieces: &[Piece], stock: &[f64], kerf: f64) -> f64 {
    let half = stock.first().map_or(0.0, |longest| (longest + kerf) / 2.0);
    let long = pieces.iter().filter(|piece| half < piece.length + kerf);
    let own = long.map(|piece| {
        let holds = stock.iter().filter(|s| piece.length <= **s);
        piece.count as f64 * holds.copied().fold(f64::INFINITY, f64::min)
    });
    own.sum()
}
