//! What a kit is released as beside its drawings: `kit.json` for machines, lists for people.

mod around_json;
mod brake_json;
mod changes_json;
mod finding_json;
mod json;
mod kit_json;
mod lengths_json;
mod lists;
mod neighbour_json;
mod part_json;
mod section_json;
mod stackup_json;
mod site_json;

pub use changes_json::{change_json, changes_json};
pub use finding_json::{Placed, findings_json};
pub use kit_json::{Record, kit_json};
pub use lengths_json::cutting_csv;
pub use lists::{fasteners_csv, parts_csv};
pub use part_json::mass_kg;
