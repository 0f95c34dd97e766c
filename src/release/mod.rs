//! What a kit is released as beside its drawings: `kit.json` for machines, lists for people.

mod json;
mod kit_json;
mod lists;
mod part_json;

pub use kit_json::{Record, kit_json};
pub use lists::{fasteners_csv, parts_csv};
