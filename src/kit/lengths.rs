//! Bought profile cut from bars.

use super::desk::Desk;
use crate::cutting::{self, Piece, Plan};
use crate::template::{LengthsItem, Template};

/// A profile with its cutting plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Lengths {
    /// As it is ordered and printed.
    pub title: String,
    /// Which pieces come out of which bar.
    pub plan: Plan,
}

/// More pieces of a kind are a mistake in a count.
const MOST_PIECES: f64 = 1000.0;

/// The cutting plans of all profiles that the template asks for.
pub(super) fn lengths(desk: &mut Desk, template: &Template) -> Vec<Lengths> {
    let mut all = Vec::new();
    for item in &template.lengths {
        if desk.holds(item.when.as_ref()) {
            all.extend(plan(desk, item));
        }
    }
    all
}

fn plan(desk: &mut Desk, item: &LengthsItem) -> Option<Lengths> {
    let title = desk.text(&item.name)?;
    let stock: Vec<f64> = item.stock.iter().map(|s| desk.number(s)).collect::<Option<_>>()?;
    let stock: Vec<f64> = stock.into_iter().filter(|s| *s > 0.0).collect();
    let kerf = desk.number(&item.kerf)?;
    let mut pieces = Vec::new();
    for piece in &item.pieces {
        let (length, count) = (desk.number(&piece.length)?, desk.number(&piece.count)?.round());
        if !(0.0..=MOST_PIECES).contains(&count) {
            let message = format!("{count} pieces; 0 to {MOST_PIECES} is allowed");
            desk.wrong("template.lengths", piece.count.span(), message);
            return None;
        }
        if count > 0.0 {
            pieces.push(Piece { title: desk.text(&piece.name)?, length, count: count as usize });
        }
    }
    if pieces.is_empty() {
        return None;
    }
    let plan = cutting::plan(&pieces, &stock, kerf);
    if plan.is_none() {
        let longest = pieces.iter().map(|piece| piece.length).fold(0.0, f64::max);
        let most = stock.iter().copied().fold(0.0, f64::max);
        let message =
            format!("{title}: a piece of {longest:.1} mm from bars of {most:.1} mm at most");
        desk.wrong("template.lengths", item.name.span(), message);
    }
    Some(Lengths { title, plan: plan? })
}
