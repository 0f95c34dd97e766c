//! The command line as the user types it.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::nest::Effort;
use crate::pipeline::{FileKind, Only, SheetsAsked, Wish};

/// Version and build, as a release's manifest records them.
const VERSION: &str =
    concat!(env!("CARGO_PKG_VERSION"), " (build ", env!("BLANKWRIGHT_SOURCES"), ")");

/// From a short spec to a whole kit of folded sheet-metal parts, checked and drawn.
#[derive(Debug, Parser)]
#[command(name = "blankwright", version = VERSION, about, max_term_width = 100)]
pub(crate) struct Arguments {
    /// What is to be done.
    #[command(subcommand)]
    pub command: Command,
    /// Folder of kit families; it may hold `containers` and `shop` too. Without it: `./templates`
    /// where that holds any of these, else what is built in.
    #[arg(long, global = true, value_name = "DIR")]
    pub templates: Option<PathBuf>,
    /// Folder of the shop's own data: materials, fasteners, machines.
    #[arg(long, global = true, value_name = "DIR")]
    pub shop: Option<PathBuf>,
    /// Say which data is used and what is done.
    #[arg(long, short, global = true)]
    pub verbose: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Work kits out, check them, and write a folder of files for each.
    Draw(DrawArguments),
    /// Draw, and draw again whenever a spec or the shop's data change.
    Watch(DrawArguments),
    /// Draw a catalogue: every variant's kit.json, and each distinct part once.
    Catalogue(CatalogueArguments),
    /// Work kits out and check them; write nothing.
    Check(CheckArguments),
    /// Work kits out, prove them, and freeze their revision: it is never changed again.
    Release(ReleaseArguments),
    /// Find what was changed, lost or added in releases.
    Verify(VerifyArguments),
    /// Prove kits from their written files: read back, refold, check again.
    Prove(ProveArguments),
    /// Compare two revisions: what changed, and what the pieces on the shelf are still good for.
    Compare(CompareArguments),
    /// Lay the parts of one or more kits out on common sheets for the laser.
    Sheets(SheetsArguments),
    /// Show a kit family's parameters, or list the families.
    Describe {
        /// Name of the family: `overhead-door`.
        template: Option<String>,
    },
    /// Print the JSON schema of specs, for editors.
    Schema {
        /// Name of the family whose parameters the schema knows; without it, what all share.
        template: Option<String>,
    },
    /// Print completions for a shell.
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
}

/// What to draw and where to.
#[derive(Debug, Clone, Args)]
pub(crate) struct DrawArguments {
    /// Specs, and what to do with them.
    #[command(flatten)]
    pub check: CheckArguments,
    /// Folder in which each kit gets its own.
    #[arg(long, default_value = "output", value_name = "DIR")]
    pub out: PathBuf,
    /// Kinds of file to write; kit.json is always among them. The kit's folder then holds these
    /// alone.
    #[arg(long, value_name = "KIND,...", value_delimiter = ',', value_parser = kinds())]
    pub only: Vec<String>,
    /// Parts to write files for: `SKB-0914-01L`, or `01L` in every kit. What is about the whole kit
    /// stays whole.
    #[arg(long, value_name = "NUMBER,...", value_delimiter = ',')]
    pub parts: Vec<String>,
    /// Write without proving first what is about to be written.
    #[arg(long)]
    pub no_proof: bool,
}

/// What to release and where to.
#[derive(Debug, Args)]
pub(crate) struct ReleaseArguments {
    /// Specs, and what to do with them.
    #[command(flatten)]
    pub check: CheckArguments,
    /// Folder of releases: each kit's revision stands in DIR/KIT/REVISION.
    #[arg(long, value_name = "DIR")]
    pub to: PathBuf,
    /// Release kits with warnings that their spec does not accept; the manifest lists them.
    #[arg(long)]
    pub allow_warnings: bool,
}

/// Which releases to look at, and how to tell about it.
#[derive(Debug, Args)]
pub(crate) struct VerifyArguments {
    /// Releases, or folders of releases.
    #[arg(required = true, value_name = "DIR")]
    pub folders: Vec<PathBuf>,
    /// Make each release again from its recorded inputs, and compare every byte.
    #[arg(long)]
    pub rebuild: bool,
    /// Form of the findings: for people on stderr, or one JSON array on stdout.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Which catalogue to draw and where to.
#[derive(Debug, Args)]
pub(crate) struct CatalogueArguments {
    /// Spec with `[[variant]]` or `[sweep]`.
    #[arg(value_name = "SPEC")]
    pub spec: PathBuf,
    /// Folder in which the catalogue gets its own.
    #[arg(long, default_value = "output", value_name = "DIR")]
    pub out: PathBuf,
    /// Kinds of file to write; kit.json is always among them. Without it: kit.json and laser files.
    #[arg(long, value_name = "KIND,...", value_delimiter = ',', value_parser = kinds())]
    pub only: Vec<String>,
    /// Lay each kit out on sheets of its own, as `draw` does: laser files of the sheets,
    /// sheets.pdf, sheets.csv. With pdf, csv or html among the kinds this is done in any case.
    #[arg(long)]
    pub sheets: bool,
    /// Draw these kits alone, each whole and with its own `parts`, into DIR/NUMBER: all that `draw`
    /// writes, with the numbers of shared parts. For a kit that is sold.
    #[arg(long, value_name = "NUMBER,...", value_delimiter = ',',
          conflicts_with_all = ["only", "sheets", "share", "merge"])]
    pub kits: Vec<String>,
    /// Draw one share of the variants, `3/16` for the third of sixteen, into a folder of its own
    /// beside the catalogue's.
    #[arg(long, value_name = "I/N", value_parser = share, conflicts_with = "merge")]
    pub share: Option<Share>,
    /// Put shares together: folders of shares, or folders that hold them. What they lack is drawn.
    #[arg(long, value_name = "DIR", num_args = 1..)]
    pub merge: Vec<PathBuf>,
    /// Write without proving first what is about to be written.
    #[arg(long)]
    pub no_proof: bool,
    /// Form of the findings: for people on stderr, or one JSON array on stdout.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// How many variants are worked out at once; the results do not depend on it.
    #[arg(long, short, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
}

/// One of so many shares, both from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Share {
    /// Which.
    pub one: usize,
    /// Of how many.
    pub of: usize,
}

fn share(text: &str) -> Result<Share, String> {
    let numbers = text.split_once('/').and_then(|(one, of)| {
        Some(Share { one: one.trim().parse().ok()?, of: of.trim().parse().ok()? })
    });
    numbers
        .filter(|share| 1 <= share.one && share.one <= share.of && share.of <= 100_000)
        .ok_or_else(|| "write 3/16 for the third of sixteen shares".to_owned())
}

impl CatalogueArguments {
    /// What is asked for of every kit. A kit with papers, lists or a page is laid out on sheets as
    /// one that is drawn alone: they tell of the sheets, and its price follows from them.
    pub(crate) fn wish(&self) -> Wish {
        let named = kinds_of(&self.only);
        let usual = [FileKind::Json, FileKind::Dxf];
        let kinds = if named.is_empty() { usual.to_vec() } else { named.clone() };
        let telling = [FileKind::Pdf, FileKind::Csv, FileKind::Html];
        let laid = self.sheets || telling.iter().any(|kind| kinds.contains(kind));
        Wish {
            only: Only { kinds, parts: Vec::new() },
            sheets: laid.then_some(Only { kinds: named, parts: Vec::new() }),
            proved: !self.no_proof,
        }
    }
}

/// The kinds of file that words mean, each once.
fn kinds_of(words: &[String]) -> Vec<FileKind> {
    let asked = |kind: &FileKind| words.iter().any(|word| word == kind.ending());
    FileKind::ALL.into_iter().filter(asked).collect()
}

/// Which kits to prove, and how to tell about it.
#[derive(Debug, Args)]
pub(crate) struct ProveArguments {
    /// Kits' folders as `draw` wrote them, or those of catalogues.
    #[arg(required = true, value_name = "DIR")]
    pub folders: Vec<PathBuf>,
    /// Form of the findings: for people on stderr, or one JSON array on stdout.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Which two revisions to compare, and how to tell about it.
#[derive(Debug, Args)]
pub(crate) struct CompareArguments {
    /// The older revision: a spec, a kit's folder as `draw` or `release` wrote it, or a folder of
    /// such folders.
    #[arg(value_name = "OLD")]
    pub old: PathBuf,
    /// The newer revision.
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    /// Folder to which pages, overlay pictures and tables are written; without it nothing is.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Form of the answer on stdout: for people, or one JSON array.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Which specs to work out, and how to tell about it.
#[derive(Debug, Clone, Args)]
pub(crate) struct CheckArguments {
    /// Spec files, or folders whose specs (*.toml) are all taken.
    #[arg(required = true, value_name = "SPEC|DIR")]
    pub specs: Vec<PathBuf>,
    /// Form of the findings: for people on stderr, or one JSON array on stdout.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Builds each kit this often with errors drawn at random within the shop's tolerances, and
    /// tries its fasteners: 10000 tell a chance to 0.1 %. The linear method is always used.
    #[arg(long, value_name = "N", default_value_t = 0, hide_default_value = true,
          value_parser = clap::value_parser!(u32).range(0..=10_000_000))]
    pub builds: u32,
    /// The revision before: a spec, a kit's folder as `draw` or `release` wrote it, or a folder of
    /// such folders. What did not change keeps number and revision, and the revision tables fill
    /// themselves. Without it, what the spec names under `previous`.
    #[arg(long, value_name = "OLD")]
    pub since: Option<PathBuf>,
    /// How many kits are worked out at once; the results do not depend on it.
    #[arg(long, short, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
}

/// Which kits to lay out on common sheets, and how.
#[derive(Debug, Args)]
pub(crate) struct SheetsArguments {
    /// Spec files, or folders whose specs (*.toml) are all taken.
    #[arg(required = true, value_name = "SPEC|DIR")]
    pub specs: Vec<PathBuf>,
    /// Folder for the sheets; it then holds these alone.
    #[arg(long, default_value = "output/sheets", value_name = "DIR")]
    pub out: PathBuf,
    /// How hard to look: the same everywhere, whatever the machine.
    #[arg(long, value_enum, default_value_t = EffortWord::Normal)]
    pub effort: EffortWord,
    /// Seed of the search: the same seed gives the same sheets.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
    /// How many of each kit are cut.
    #[arg(long, value_name = "N", default_value_t = 1,
          value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub times: u32,
    /// Write what can be laid out though something cannot.
    #[arg(long)]
    pub partial: bool,
    /// Form of the findings: for people on stderr, or one JSON array on stdout.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// How many threads work; the results do not depend on it.
    #[arg(long, short, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum EffortWord {
    /// About a second for one kit.
    Quick,
    /// Some seconds.
    Normal,
    /// About a minute.
    Long,
}

impl SheetsArguments {
    /// What is asked for.
    pub(crate) fn wish(&self) -> SheetsAsked {
        let effort = match self.effort {
            EffortWord::Quick => Effort::Quick,
            EffortWord::Normal => Effort::Normal,
            EffortWord::Long => Effort::Long,
        };
        SheetsAsked { effort, seed: self.seed, times: self.times, partial: self.partial }
    }
}

/// How findings are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// Sentences with the place in the file.
    Text,
    /// A JSON array.
    Json,
}

impl DrawArguments {
    /// The files that are asked for.
    pub(crate) fn wanted(&self) -> Only {
        Only { kinds: kinds_of(&self.only), parts: self.parts.clone() }
    }
}

fn kinds() -> PossibleValuesParser {
    PossibleValuesParser::new(FileKind::ALL.map(FileKind::ending))
}
