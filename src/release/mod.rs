//! What a kit is released as beside its drawings: `kit.json` for machines, lists for people,
//! and the manifest that freezes a revision.

mod around_json;
mod audit;
mod brake_json;
mod changes_json;
mod finding_json;
mod json;
mod kit_json;
mod lengths_json;
mod lists;
mod manifest;
mod neighbour_json;
mod part_json;
mod recorded;
mod quote_csv;
mod revision_json;
mod section_json;
mod stackup_json;
mod site_json;
mod sheets_csv;
mod sheets_json;

pub use audit::{Folder, Seen, Thing, audit};
pub use changes_json::{change_json, changes_json};
pub use finding_json::{Placed, findings_json};
pub use kit_json::{Record, kit_json};
pub use lengths_json::cutting_csv;
pub use lists::{fasteners_csv, parts_csv};
pub use manifest::{
    FileJson, Frozen, Head, Input, MANIFEST, Mate, SEAL, hexadecimal, manifest, seal, sha256,
};
pub use part_json::mass_kg;
pub use quote_csv::quote_csv;
pub use recorded::{Program, Recorded, RecordedInput, next_revision, stays_inside};
pub use sheets_csv::sheets_csv;
pub use sheets_json::sheets_json;
