//! The spine's two ends: what goes into the making of kits, and what comes out.

mod alone;
mod build;
mod files;
mod common;
mod meeting;
mod together;
mod proof;
mod since;
mod check_sheet;
mod origin;
mod portrait;
mod changes;
mod sheets;
mod catalogue;
mod seal;

use std::sync::OnceLock;

use crate::note::{Finding, Notes};
use crate::shelf::Shelf;
use crate::spec::read_text;
use crate::template::{self, Template};
use crate::write::DxfWriter;

pub use build::{build, build_tried};
pub use catalogue::{
    Inputs, MOST_ALONE, Member, Series, SharedPart, Wish, apart, checked, member, open,
};
pub use changes::changes_files;
pub use common::{CommonSheets, SheetsAsked, common_sheets};
pub use portrait::portrait;
pub use since::Earlier;

/// One spec as it was read; nothing is said yet about its contents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The file's name as the user gave it, for findings.
    pub name: String,
    /// The file's bytes.
    pub bytes: Vec<u8>,
}

/// Everything kits are made from, read once for all of them.
#[derive(Debug, Clone)]
pub struct Stock {
    /// Materials, fasteners, the shop, containers.
    pub shelf: Shelf,
    /// The kit families; a broken one is left out and stops only the kits of its own.
    pub families: Vec<Template>,
    /// The writer of laser files, made for the shop's layers when the first file is asked for.
    pub laser: OnceLock<DxfWriter>,
}

impl Stock {
    /// Reads the texts of the families and of the shelf. None when the shelf is not whole;
    /// everything wrong is told.
    pub fn read(families: &[Source], shelf: &[Source], notes: &mut Notes) -> Option<Self> {
        Self::read_by(families, shelf, notes, Shelf::read)
    }

    /// The same, but entries of the rack that do not read are told and left out.
    pub fn read_part(families: &[Source], shelf: &[Source], notes: &mut Notes) -> Option<Self> {
        Self::read_by(families, shelf, notes, Shelf::read_part)
    }

    fn read_by(
        families: &[Source],
        shelf: &[Source],
        notes: &mut Notes,
        read: impl Fn(&[(&str, &str)], &mut Notes) -> Option<Shelf>,
    ) -> Option<Self> {
        let families = read_families(families, notes);
        let texts: Vec<(&str, &str)> = shelf
            .iter()
            .filter_map(|s| Some((s.name.as_str(), read_text(&s.name, &s.bytes, notes)?)))
            .collect();
        let read = read(&texts, notes)?;
        (texts.len() == shelf.len()).then_some(Self {
            shelf: read,
            families,
            laser: OnceLock::new(),
        })
    }

    /// The family of that name.
    pub fn family(&self, name: &str) -> Option<&Template> {
        self.families.iter().find(|family| family.template.name == name)
    }
}

/// All families that can be read, in the order of their files; what is wrong with others is told.
pub fn read_families(sources: &[Source], notes: &mut Notes) -> Vec<Template> {
    let mut families: Vec<Template> = Vec::new();
    for source in sources {
        let text = read_text(&source.name, &source.bytes, notes);
        let Some(family) = text.and_then(|text| template::parse(&source.name, text, notes)) else {
            continue;
        };
        match families.iter().find(|other| other.template.name == family.template.name) {
            Some(other) => notes.add(twice(&family, other)),
            None => families.push(family),
        }
    }
    families
}

fn twice(family: &Template, other: &Template) -> Finding {
    let name = &family.template.name;
    let message = format!("{} is a second family named {name}, after {}", family.file, other.file);
    Finding::error("template.twice", message).help("give each family a name of its own")
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Want {
    /// Findings alone: nothing is drawn.
    Findings,
    /// Findings and the kit's files, proved.
    Files(Only),
    /// Findings and the kit's files without their proof.
    Unproved(Only),
}

/// Which of a kit's files are asked for. `kit.json` is always among them: it names the folder's
/// kit.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Only {
    /// Kinds of file; empty means all.
    pub kinds: Vec<FileKind>,
    /// Part numbers, whole (`SKB-0914-01L`) or without the kit's (`01L`); empty means all. They
    /// limit the files that belong to one part; what is about the whole kit stays whole.
    pub parts: Vec<String>,
}

impl Only {
    /// Whether files of this kind are asked for.
    pub fn kind(&self, kind: FileKind) -> bool {
        kind == FileKind::Json || self.kinds.is_empty() || self.kinds.contains(&kind)
    }

    /// Whether the files of the part with this number are asked for.
    pub fn part(&self, kit: &str, number: &str) -> bool {
        self.parts.is_empty() || self.parts.iter().any(|p| names_part(p, kit, number))
    }
}

/// Whether `wanted` is the part's number, with or without the kit's number before it.
fn names_part(wanted: &str, kit: &str, number: &str) -> bool {
    let short = number.strip_prefix(kit).and_then(|rest| rest.strip_prefix('-'));
    wanted == number || short == Some(wanted)
}

/// Calls a piece of work with every number from 0 up to the first argument, in any order and on any
/// number of threads, and returns when all are done.
pub type Share<'a> = dyn Fn(usize, &(dyn Fn(usize) + Sync)) + Sync + 'a;

/// What a kit is worked out with besides its spec: a Monte Carlo of the tolerances, and the
/// revision before.
#[derive(Clone, Copy)]
pub struct Trial<'a> {
    /// How many kits are built; 0 for none.
    pub builds: u32,
    /// How the work is shared out.
    pub share: &'a Share<'a>,
    /// Kits of the revision that this one follows; the one of the kit's own number counts. Empty
    /// for a first revision.
    pub earlier: &'a [Earlier],
}

impl Trial<'_> {
    /// None is built, and nothing is followed.
    pub fn none() -> Trial<'static> {
        Trial { builds: 0, share: &|count, work| (0..count).for_each(work), earlier: &[] }
    }
}

/// The kinds of file a kit consists of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileKind {
    /// `kit.json`.
    Json,
    /// Blanks and nests for the laser.
    Dxf,
    /// Previews.
    Svg,
    /// Shop drawings, quote and site papers.
    Pdf,
    /// Lists for stores and purchasing.
    Csv,
    /// The kit in three dimensions.
    Glb,
    /// The kit's solids for other programs.
    Step,
    /// The page that shows all of it.
    Html,
}

impl FileKind {
    /// All kinds.
    pub const ALL: [FileKind; 8] = [
        FileKind::Json,
        FileKind::Dxf,
        FileKind::Svg,
        FileKind::Pdf,
        FileKind::Csv,
        FileKind::Glb,
        FileKind::Step,
        FileKind::Html,
    ];

    /// The ending of such a file's name, which is also the word for the kind.
    pub fn ending(self) -> &'static str {
        match self {
            FileKind::Json => "json",
            FileKind::Dxf => "dxf",
            FileKind::Svg => "svg",
            FileKind::Pdf => "pdf",
            FileKind::Csv => "csv",
            FileKind::Glb => "glb",
            FileKind::Step => "step",
            FileKind::Html => "html",
        }
    }
}

/// One file of a kit's folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutFile {
    /// Path inside the kit's folder, parts separated by `/`.
    pub path: String,
    /// The whole content.
    pub bytes: Vec<u8>,
}

/// What became of one spec.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Built {
    /// Everything there is to say about it.
    pub notes: Notes,
    /// The kit's number, once the spec could be read that far.
    pub kit: Option<String>,
    /// Numbers of its parts, once they could be worked out.
    pub parts: Vec<String>,
    /// The kit's files; none when they were not asked for, or when there are errors.
    pub files: Option<Vec<OutFile>>,
    /// Names of the data texts it was made from, once it could be worked out.
    pub used: Vec<String>,
    /// The other kits of the same spec, in its order.
    pub others: Vec<Built>,
}
