//! What a kit is released as beside its drawings: `kit.json` for machines, lists for people,
//! and the manifest that freezes a revision.

mod around_json;
mod audit;
mod brake_json;
mod changes_json;
mod commonality;
mod finding_json;
mod json;
mod kit_json;
mod lengths_json;
mod lists;
mod manifest;
mod made;
mod membership_json;
mod neighbour_json;
mod part_json;
mod recorded;
mod run_record;
mod said;
mod quote_csv;
mod revision_json;
mod section_json;
mod stackup_json;
mod site_json;
mod sheets_csv;
mod sheets_json;

pub use audit::{Folder, Seen, Thing, audit};
pub use changes_json::{change_json, changes_json};
pub use commonality::{
    Commonality, FindingRow, PartRow, USES_NAME, Use, commonality_csv, commonality_page,
    findings_csv, uses_csv,
};
pub use finding_json::{Placed, findings_json};
pub use kit_json::{Record, kit_json, kit_json_in};
pub use lengths_json::cutting_csv;
pub use lists::{fasteners_csv, parts_csv};
pub use made::{MADE_NAME, Made, MadeFile, MadePart, Refused};
pub use manifest::{
    FileJson, Frozen, Head, Input, MANIFEST, Mate, SEAL, hexadecimal, manifest, seal, sha256,
};
pub use membership_json::{CATALOGUE_FOLDER, Membership, files_of_member, lines_of_uses};
pub use part_json::mass_kg;
pub use quote_csv::quote_csv;
pub use recorded::{Program, Recorded, RecordedInput, next_revision, stays_inside};
pub use run_record::{RUN_NAME, RunRecord};
pub use said::{Said, SaidPlace};
pub use sheets_csv::sheets_csv;
pub use sheets_json::sheets_json;
