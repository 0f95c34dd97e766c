//! The search against all orders one by one, on parts at random.

use std::collections::BTreeMap;

use blankwright::brake::{Outcome, can_bend, plan};
use blankwright::kit::{Part, Sense};
use blankwright::shelf::{Material, Shop};
use proptest::prelude::*;

use crate::law_parts;
use crate::law_stock::{STOCK, config, make};

/// What an order costs first: strokes without a stop, then flips.
type Cost = (usize, usize);

/// All orders, bend by bend.
struct Orders<'a> {
    part: &'a Part,
    shop: (&'a Shop, &'a Material),
    known: BTreeMap<(usize, Option<bool>), Option<Cost>>,
}

impl Orders<'_> {
    /// The least cost of the bends left, from a side of the sheet up.
    fn least(&mut self, done: usize, up: Option<bool>) -> Option<Cost> {
        let bends = self.part.bends.len();
        if done + 1 == 1 << bends {
            return Some((0, 0));
        }
        if let Some(known) = self.known.get(&(done, up)) {
            return *known;
        }
        let made: Vec<usize> = (0..bends).filter(|bend| done >> bend & 1 == 1).collect();
        let mut best: Option<Cost> = None;
        for bend in (0..bends).filter(|bend| done >> bend & 1 == 0) {
            let held = can_bend(self.part, self.shop, &made, &[bend]);
            let Some(held) = held.into_iter().flatten().max() else { continue };
            let next = self.part.bends[bend].sense == Sense::Up;
            let Some(rest) = self.least(done | 1 << bend, Some(next)) else { continue };
            let flips = usize::from(up.is_some_and(|up| up != next));
            let cost = (rest.0 + usize::from(!held), rest.1 + flips);
            best = Some(best.map_or(cost, |best| best.min(cost)));
        }
        self.known.insert((done, up), best);
        best
    }
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn the_search_finds_what_trying_all_orders_finds(trial in law_parts::profile()) {
        let Ok(made) = make(&trial.family()) else { return Ok(()) };
        let part = &made.kit.parts[0];
        prop_assume!(part.bends.len() <= 6);
        let material = STOCK.shelf.material(&part.material.id).unwrap();
        let shop = &STOCK.shelf.shop;
        let mut orders = Orders { part, shop: (shop, material), known: BTreeMap::new() };
        let least = orders.least(0, None);
        match plan(part, shop, material) {
            // One stroke for two bends may cost less than two.
            Outcome::Plan(plan) => {
                let unheld = plan.steps.iter().filter(|step| step.stop.is_none()).count();
                let alone = plan.steps.iter().all(|step| step.bends.len() == 1);
                match least {
                    Some(least) => prop_assert!((unheld, plan.flips) <= least),
                    None => prop_assert!(!alone),
                }
                if alone {
                    prop_assert_eq!(Some((unheld, plan.flips)), least);
                }
            }
            Outcome::Refusal(_) => prop_assert_eq!(least, None),
        }
    }
}
