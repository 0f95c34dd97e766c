//! The proof: what was written, read back, refolded and checked again.
//!
//! Nothing here sees the kit that the files were made from. The DXF files give contours, bend lines
//! and their directions; `kit.json` gives the list of bends, holes, joints and places. Both must
//! agree. Then each blank is cut along its bend zones into faces, the faces become a part, the part
//! is folded, placed and joined, and every rule that asks only about the kit is run on that.

mod agree;
mod cap;
mod codes;
mod contour;
mod cut;
mod desk;
mod dxf;
mod etching;
mod faces;
mod figures;
mod folder;
mod holes;
mod joints;
mod lasered;
mod lines;
mod lists;
mod pairs;
mod part;
mod rebuild;
mod rules;
mod shape;
mod apart;
mod common;
mod sheet_dxf;
mod sheet_extras;
mod sheet_figures;
mod sheet_groups;
mod sheet_list;
mod sheet_marks;
mod sheets;

use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::kit::Kit;
use crate::note::{Notes, Severity};
use crate::reading::{KitRow, NAME};
use crate::shelf::Shelf;

pub use codes::{CATALOGUE, PROOF_CHECKS, ProofCheck};
pub use common::prove_sheets;

/// A file of a kit's folder.
#[derive(Debug, Clone, Copy)]
pub struct Found<'a> {
    /// Path inside the folder, parts separated by `/`.
    pub path: &'a str,
    /// The whole content; files that are neither JSON, DXF nor CSV are not looked into.
    pub bytes: &'a [u8],
}

/// What the files are meant to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// A whole kit's folder: a part without its DXF file cannot be proved, which is an error.
    Folder,
    /// Just what a run was asked to write.
    Written,
}

/// A kit as it was read back from its files.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadBack {
    /// The kit, its parts cut from the DXF files' blanks.
    pub kit: Kit,
    /// Its parts folded, in their order.
    pub folded: Vec<FoldedPart>,
    /// Its parts unfolded again.
    pub blanks: Vec<Blank>,
}

/// What became of a proof.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// Everything there is to say; an error means that the kit is not proved.
    pub notes: Notes,
    /// The kit's number, once `kit.json` could be read.
    pub kit: Option<String>,
    /// The kit, where every part could be read back.
    pub read: Option<ReadBack>,
}

impl Proof {
    /// Whether nothing speaks against the files.
    pub fn holds(&self) -> bool {
        self.read.is_some() && !self.notes.has_errors()
    }

    /// How many errors were found.
    pub fn errors(&self) -> usize {
        self.notes.all().iter().filter(|f| f.severity == Severity::Error).count()
    }
}

/// Proves a kit from its files and the shop's data alone.
pub fn prove(files: &[Found], shelf: &Shelf, scope: Scope) -> Proof {
    let mut notes = Notes::default();
    let Some(kit) = read(files, &mut notes) else {
        return Proof { notes, kit: None, read: None };
    };
    let bench = agree::Bench { files, shelf, scope, kit: &kit };
    folder::look_over(&bench, &mut notes);
    lists::compare(&bench, &mut notes);
    joints::look_over(&bench, &mut notes);
    let floor = sheets::Floor {
        files,
        shelf,
        list: NAME,
        parts: &kit.cut_parts(),
        sheets: &kit.sheets,
        groups: &kit.sheet_groups,
        missing: std::collections::BTreeMap::new(),
    };
    sheets::look_over(&floor, &mut notes);
    let read = rebuild::read_back(&bench, &mut notes);
    if let Some(read) = &read {
        rules::run(&bench, read, &mut notes);
    }
    Proof { notes: cap::capped(&notes), kit: Some(kit.kit.clone()), read }
}

/// Reads the kit's own file; what is wrong with it is told.
fn read(files: &[Found], notes: &mut Notes) -> Option<KitRow> {
    let mut desk = desk::Desk::new(notes, NAME);
    let Some(found) = files.iter().find(|file| file.path == NAME) else {
        desk.tell(&codes::READ, "is not there");
        return None;
    };
    match KitRow::of_bytes(found.bytes) {
        Ok(kit) => Some(kit),
        Err(why) => {
            desk.tell(&codes::READ, why);
            None
        }
    }
}
