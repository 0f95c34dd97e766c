//! Sheets filled one after the other in one order of all parts: good for few sheets, and always a
//! whole answer.

use super::bed::{Bed, Rule};
use super::core::Core;
use super::dice::Dice;
use super::dive::Cut;
use super::fill::{Candidate, top_up};
use super::master::Master;
use super::price::Found;

/// By how much a part's size is made greater or smaller at most, so that orders differ.
const NOISE: f64 = 1.4;

/// One order of all parts on sheet after sheet; the first four numbers are the plain order from
/// the longest part to the shortest under each rule.
pub(crate) fn row(core: &Core, master: &Master, stock: &[usize], number: usize) -> Cut {
    let mut dice = Dice::new(core.job.seed ^ 0x726f_7773, number as u64);
    let plain = number < Rule::ALL.len();
    let rule = if plain { number } else { dice.below(Rule::ALL.len()) };
    let mut noise = || if plain { 1.0 } else { dice.near_one(NOISE) };
    let length = |item: &usize| {
        let pose = core.poses[*item].first();
        pose.map_or(0, |pose| core.form_size(pose.form).into_iter().max().unwrap_or(0)) as f64
    };
    let mut order: Vec<(f64, usize)> =
        (0..master.demand.len()).map(|item| (length(&item) * noise(), item)).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut sheets = stock.to_vec();
    let price = |stock: &usize| master.weight[*stock] / core.room(*stock).area();
    let mut prices: Vec<(f64, usize)> =
        sheets.drain(..).map(|stock| (price(&stock) * noise(), stock)).collect();
    prices.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut cut = Cut { sheets: Vec::new(), rest: master.demand.clone() };
    for (_, stock) in prices {
        for _ in 0..master.limit[stock].unwrap_or(u32::MAX) {
            let found = sheet(core, &cut.rest, (stock, Rule::ALL[rule]), &order);
            if found.placed.is_empty() {
                break;
            }
            cut.take(&found, 1);
        }
    }
    cut
}

fn sheet(core: &Core, rest: &[u32], (stock, rule): (usize, Rule), order: &[(f64, usize)]) -> Found {
    let room = core.room(stock).area() * 1e4;
    let parts = order.iter().flat_map(|(_, item)| {
        let most = (room / core.area(*item)) as u32;
        let part = Candidate { item: *item, pose: None };
        std::iter::repeat_n(part, rest[*item].min(most) as usize)
    });
    let order: Vec<Candidate> = parts.collect();
    let tried = top_up(core, &mut Bed::new(core, stock), &order, rule);
    Found::new(stock, (order, tried), rule, rest.len())
}
