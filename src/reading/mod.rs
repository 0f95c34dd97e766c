//! What was written, as it is read back: `kit.json` as typed rows, for the proof and for comparing
//! two revisions. Rows keep the names, units and frames of the format.

mod around_file;
mod issue;
mod kit_file;
mod part_file;
mod sheet_file;

pub(crate) use around_file::{keep_out, member, setting};
pub(crate) use kit_file::{
    AmendmentRow, FastenerRow, JointRow, MemberRow, NAME, NeighbourRow, RevisionRow, ValueRow,
    WallRow,
};
pub use kit_file::{KitRow, is_kit_file};
pub(crate) use part_file::{BendRow, EtchRow, HoleRow, PartRow, StrokeRow, SunkRow, path, pose};
pub use sheet_file::{CommonRow, is_sheets_file};
pub(crate) use sheet_file::{CutPart, GroupRow, LyingRow, NeedRow, SHEETS, SheetRow};
