//! The spine's two ends: what goes into the making of one kit, and what comes out.

use crate::note::Notes;

/// One spec as it was read; nothing is said yet about its contents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The file's name as the user gave it, for findings.
    pub name: String,
    /// The file's bytes.
    pub bytes: Vec<u8>,
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Want {
    /// Findings alone: nothing is drawn.
    Findings,
    /// Findings and the kit's files.
    Files(Only),
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
    /// The page that shows the kit in a browser.
    Html,
}

impl FileKind {
    /// All kinds.
    pub const ALL: [FileKind; 6] = [
        FileKind::Json,
        FileKind::Dxf,
        FileKind::Svg,
        FileKind::Pdf,
        FileKind::Csv,
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
    /// The kit's files; none when they were not asked for, or when there are errors.
    pub files: Option<Vec<OutFile>>,
}
