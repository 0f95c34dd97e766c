//! The order in which the brake makes a part's bends, with tools, stops and forces.
//!
//! [`plan`] asks for each stroke, over the whole swing, whether the part as far as it is bent meets
//! punch, die, ram or bed (`collide`), with tools cut to the length that is free (`fit`), and looks
//! for the order with the fewest flips, turns, tool changes and poor stops (`search`).

mod ask;
mod bench;
mod collide;
mod convex;
mod cost;
mod fit;
mod force;
mod gauge;
mod job;
mod plan;
mod refuse;
mod runs;
mod search;
mod shape;
mod swing;
mod write_up;

use crate::kit::Part;
use crate::shelf::{Material, Shelf, Shop};

pub use ask::can_bend;
pub use force::{FORCE_SOURCE, air_bending_force, radius_after, springback};
pub use plan::{
    BendSide, Handling, Outcome, Plan, Refusal, Step, Stop, StopKind, ToolRun, ToolUse,
};

/// Bends up to which an order is looked for: a set of them is kept as bits.
const MOST_BENDS: usize = 128;

/// What is found for each part, in their order; none for a part whose material is not on the shelf.
pub fn plan_all(parts: &[Part], shelf: &Shelf) -> Vec<Option<Outcome>> {
    let bench = bench::Bench::new(&shelf.shop.brake);
    let one = |part: &Part| {
        let material = shelf.material(&part.material.id)?;
        Some(on_bench(part, &bench, &shelf.shop, material))
    };
    parts.iter().map(one).collect()
}

/// The order of a part's bends, or why there is none.
pub fn plan(part: &Part, shop: &Shop, material: &Material) -> Outcome {
    on_bench(part, &bench::Bench::new(&shop.brake), shop, material)
}

fn on_bench(part: &Part, bench: &bench::Bench<'_>, shop: &Shop, material: &Material) -> Outcome {
    if MOST_BENDS < part.bends.len() {
        return Outcome::Refusal(refuse::too_many(MOST_BENDS));
    }
    let job = job::Job::new(part, bench, shop, material);
    let mut search = search::Search::new(&job);
    let found = if job.units.is_empty() {
        search::Found::Order(Vec::new(), cost::Cost::default())
    } else {
        search.run()
    };
    if let search::Found::Order(order, cost) = found
        && let Ok(plan) = write_up::plan(&mut search, &order, cost)
    {
        return Outcome::Plan(plan);
    }
    Outcome::Refusal(refuse::refusal(&mut search))
}
