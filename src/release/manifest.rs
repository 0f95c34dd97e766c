//! The manifest of a release: what was frozen, what it was made from, what was said about it. All
//! of it follows from the files and inputs alone, so that making it again gives the same bytes.

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::json;
use super::kit_json::{FindingJson, finding_json};
use super::recorded::Program;
use crate::note::{Finding, Severity};

/// Name of the manifest in a release's folder.
pub const MANIFEST: &str = "manifest.json";

/// Name of the list of digests beside it, in the form that `sha256sum -c` reads.
pub const SEAL: &str = "manifest.sha256";

/// The manifest's format; the digit changes with its meaning.
pub(super) const FORMAT: &str = "blankwright-release/1";

/// SHA-256 of some bytes, in 64 small hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes in small hexadecimal digits, two each.
pub fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What a release was made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Input<'a> {
    /// `spec`, `template`, `container` or `shop`.
    pub role: &'a str,
    /// The name of its file, without folders.
    pub name: &'a str,
    /// Whether it is what the program carries, not a file of the user's.
    pub built_in: bool,
    /// Where its copy stands in the release.
    pub path: &'a str,
    /// The whole content.
    pub bytes: &'a [u8],
}

/// Another kit of the same spec, released at once with this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mate {
    /// Its number.
    pub kit: String,
    /// Its revision.
    pub revision: String,
    /// SHA-256 of its `kit.json`.
    pub kit_json_sha256: String,
}

/// What is frozen.
#[derive(Debug, Clone, Copy)]
pub struct Frozen<'a> {
    /// The kit's files with their paths; `kit.json` is among them.
    pub files: &'a [(&'a str, &'a [u8])],
    /// What they were made from.
    pub inputs: &'a [Input<'a>],
    /// Everything said about the kit.
    pub findings: &'a [Finding],
    /// The program that made it.
    pub program: &'a Program,
    /// How many kits were built by chance to try the tolerances; 0 for none.
    pub builds: u32,
    /// The other kits of the spec.
    pub mates: &'a [Mate],
}

/// What `kit.json` says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Head {
    /// The kit's number.
    pub kit: String,
    /// Its title.
    pub title: String,
    /// Its revision.
    pub revision: String,
    /// Its family.
    pub template: String,
}

impl Head {
    /// Reads the head of a `kit.json`; none when these bytes are none.
    pub fn read(kit_json: &[u8]) -> Option<Self> {
        serde_json::from_slice(kit_json).ok()
    }
}

/// The bytes of `manifest.json`. None when the files hold no `kit.json`.
pub fn manifest(frozen: &Frozen) -> Option<Vec<u8>> {
    let kit_json = frozen.files.iter().find(|(path, _)| *path == "kit.json")?.1;
    let head = Head::read(kit_json)?;
    let copies = frozen.inputs.iter().map(|input| (input.path, input.bytes));
    let mut files: Vec<FileJson> =
        frozen.files.iter().copied().chain(copies).map(file_json).collect();
    files.sort_by(|a, b| a.path.cmp(&b.path));
    files.dedup_by(|a, b| a.path == b.path);
    let warnings = || frozen.findings.iter().filter(|f| f.severity == Severity::Warning);
    Some(json::to_bytes(&ManifestJson {
        format: FORMAT,
        kit: &head.kit,
        title: &head.title,
        revision: &head.revision,
        template: &head.template,
        program: ProgramJson {
            name: "blankwright",
            version: &frozen.program.version,
            build: Some(&*frozen.program.build).filter(|build| !build.is_empty()),
        },
        builds: frozen.builds,
        together: frozen.mates,
        inputs: frozen.inputs.iter().map(input_json).collect(),
        files,
        accepted: warnings().filter(|f| f.accepted.is_some()).map(finding_json).collect(),
        allowed: warnings().filter(|f| f.accepted.is_none()).map(finding_json).collect(),
        findings: frozen.findings.iter().map(finding_json).collect(),
    }))
}

#[derive(Serialize)]
struct ManifestJson<'a> {
    format: &'a str,
    kit: &'a str,
    title: &'a str,
    revision: &'a str,
    template: &'a str,
    program: ProgramJson<'a>,
    builds: u32,
    together: &'a [Mate],
    inputs: Vec<InputJson<'a>>,
    files: Vec<FileJson>,
    accepted: Vec<FindingJson<'a>>,
    /// Warnings that were released without a reason.
    allowed: Vec<FindingJson<'a>>,
    findings: Vec<FindingJson<'a>>,
}

#[derive(Serialize)]
struct ProgramJson<'a> {
    name: &'a str,
    version: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    build: Option<&'a str>,
}

#[derive(Serialize)]
struct InputJson<'a> {
    role: &'a str,
    name: &'a str,
    built_in: bool,
    path: &'a str,
    sha256: String,
}

fn input_json<'a>(input: &Input<'a>) -> InputJson<'a> {
    let &Input { role, name, built_in, path, bytes } = input;
    InputJson { role, name, built_in, path, sha256: sha256(bytes) }
}

/// A file of the release; it is read back as it is written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileJson {
    /// Path from the release's folder, parts separated by `/`.
    pub path: String,
    /// Its size.
    pub bytes: u64,
    /// SHA-256 of its content.
    pub sha256: String,
}

fn file_json((path, bytes): (&str, &[u8])) -> FileJson {
    FileJson { path: path.to_owned(), bytes: bytes.len() as u64, sha256: sha256(bytes) }
}

/// The list of digests beside a manifest: of the manifest itself first, then of every other file.
pub fn seal(manifest: &[u8], files: &[FileJson]) -> Vec<u8> {
    let first = format!("{}  {MANIFEST}\n", sha256(manifest));
    let rest = files.iter().map(|file| format!("{}  {}\n", file.sha256, file.path));
    std::iter::once(first).chain(rest).collect::<String>().into_bytes()
}
