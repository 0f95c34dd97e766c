//! Reading a manifest back.

use serde::Deserialize;

use super::manifest::{FORMAT, FileJson, Mate};

/// A manifest as it was read; the findings in it are for people and are passed over.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Recorded {
    format: String,
    /// The kit's number.
    pub kit: String,
    /// Its revision.
    pub revision: String,
    /// The program that made it.
    pub program: Program,
    /// How many kits were built by chance to try the tolerances.
    pub builds: u32,
    /// Other kits that were released at once with it.
    pub together: Vec<Mate>,
    /// What it was made from.
    pub inputs: Vec<RecordedInput>,
    /// Every file but the manifest and its list of digests.
    pub files: Vec<FileJson>,
}

/// The program that made a release.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Program {
    /// Its version.
    pub version: String,
    /// Fingerprint of the sources it was built from; empty where none was recorded.
    #[serde(default)]
    pub build: String,
}

impl Program {
    /// This program.
    pub fn running() -> Self {
        let (version, build) = (env!("CARGO_PKG_VERSION"), env!("BLANKWRIGHT_SOURCES"));
        Self { version: version.to_owned(), build: build.to_owned() }
    }

    /// `version 0.1.0, build 1a2b3c4d5e6f7a8b`.
    pub fn named(&self) -> String {
        let Self { version, build } = self;
        let build = if build.is_empty() { "not recorded" } else { build };
        format!("version {version}, build {build}")
    }
}

/// What a release was made from.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct RecordedInput {
    /// `spec`, `template`, `container` or `shop`.
    pub role: String,
    /// The name of its file, without folders.
    pub name: String,
    /// Whether it was carried by the program.
    pub built_in: bool,
    /// Where its copy stands in the release.
    pub path: String,
    /// SHA-256 of its content.
    pub sha256: String,
}

impl Recorded {
    /// Reads a manifest; says what is wrong when it is none, or is of another format.
    pub fn read(bytes: &[u8]) -> Result<Self, String> {
        let read: Self = serde_json::from_slice(bytes).map_err(|error| error.to_string())?;
        if read.format != FORMAT {
            return Err(format!("its format is `{}`, not `{FORMAT}`", read.format));
        }
        let paths = read.files.iter().map(|file| &file.path);
        let inputs = read.inputs.iter().map(|input| &input.path);
        match paths.chain(inputs).find(|path| !stays_inside(path)) {
            Some(path) => Err(format!("it names `{path}`, which is no path inside the release")),
            None => Ok(read),
        }
    }

    /// Where this and a later making of the same revision differ, in words; empty when in nothing.
    pub fn differences(&self, later: &Self) -> Vec<String> {
        let mut words = Vec::new();
        let old = |role: &str| inputs(self, role);
        for role in ["spec", "template", "container", "shop", "previous"] {
            if old(role) != inputs(later, role) {
                words.push(format!("the {}", role_in_words(role)));
            }
        }
        if self.program != later.program {
            let programs = [&self.program, &later.program].map(Program::named);
            let same = if self.files == later.files { ", which makes the same files" } else { "" };
            words.push(format!("the program ({}; now {}{same})", programs[0], programs[1]));
        }
        if self.builds != later.builds {
            words.push(format!(
                "the number of builds tried ({}, now {})",
                self.builds, later.builds
            ));
        }
        if words.is_empty() && self.files != later.files {
            words.push("what the program makes of the same inputs".to_owned());
        }
        words
    }
}

/// Names and digests of the inputs of one role.
fn inputs<'a>(recorded: &'a Recorded, role: &str) -> Vec<(&'a str, &'a str)> {
    let of_role = recorded.inputs.iter().filter(|input| input.role == role);
    let named = |input: &'a RecordedInput| {
        // The same spec under another name is the same spec.
        let name = if role == "spec" { "" } else { input.name.as_str() };
        (name, input.sha256.as_str())
    };
    of_role.map(named).collect()
}

fn role_in_words(role: &str) -> &str {
    match role {
        "template" => "kit family",
        "shop" => "shop's data",
        "previous" => "revision before",
        other => other,
    }
}

/// Whether a path leads nowhere but into the folder it starts from, on any system.
pub fn stays_inside(path: &str) -> bool {
    let plain = |part: &str| !part.is_empty() && part != "." && part != "..";
    let strange = |c: char| c == '\\' || c == ':' || c.is_control();
    path.split('/').all(plain) && !path.contains(strange)
}

/// Revisions of one letter, in their order; ASME Y14.35 leaves out I, O, Q, S, X and Z (from
/// memory).
const LETTERS: &str = "ABCDEFGHJKLMNPRTUVWY";

/// The revision after this one: B after A, AA after Y, 03 after 02; none where no such order is
/// known.
pub fn next_revision(revision: &str) -> Option<String> {
    if revision.bytes().all(|b| b.is_ascii_digit()) {
        let next = revision.parse::<u32>().ok()? + 1;
        return Some(format!("{next:0width$}", width = revision.len())).filter(|r| r.len() <= 3);
    }
    let mut letters: Vec<char> = revision.chars().collect();
    let places: Option<Vec<usize>> = letters.iter().map(|&letter| LETTERS.find(letter)).collect();
    for (index, place) in places?.into_iter().enumerate().rev() {
        if let Some(next) = LETTERS[place + 1..].chars().next() {
            letters[index] = next;
            return Some(letters.into_iter().collect());
        }
        letters[index] = 'A';
    }
    letters.push('A');
    Some(letters.into_iter().collect()).filter(|next: &String| next.len() <= 3)
}
