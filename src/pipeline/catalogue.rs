//! Catalogues: kits of one file that share the numbers of equal parts.

use super::alone::Alone;
use super::build::{Step, Worked};
use super::files::{Layout, files};
use super::proof;
use super::seal::sha256_of;
use super::sheets as laying;
use super::{Built, FileKind, Only, OutFile, Source, Stock, Trial};
use crate::kit::{Identity, Part};
use crate::note::{Finding, Notes, Severity};
use crate::release::{Membership, sha256};
use crate::resolve;
use crate::spec::{self, Catalogue, Spec, SweepTexts, Units, Variant};

/// Most variants that are worked out as kits of their own, all held at once.
pub const MOST_ALONE: usize = 100;

/// Every variant of a catalogue as a kit of its own; none where the source is no catalogue.
pub(super) fn each_alone(
    source: &Source,
    stock: &Stock,
    trial: &Trial,
) -> Option<Vec<(Built, Option<Worked>)>> {
    let text = std::str::from_utf8(&source.bytes).ok().filter(|text| spec::holds_variants(text))?;
    let (texts, mut notes) = (SweepTexts::default(), Notes::default());
    let Some(catalogue) = open(&source.name, text, (&texts, stock), &mut notes) else {
        return Some(vec![(Built { notes, ..Built::default() }, None)]);
    };
    if MOST_ALONE < catalogue.len() {
        notes.add(many(&catalogue));
        let kit = Some(catalogue.number.clone());
        return Some(vec![(Built { notes, kit, ..Built::default() }, None)]);
    }
    let digest = sha256(&source.bytes);
    let all = (0..catalogue.len()).map(|index| {
        let variant = catalogue.variant(index);
        let mut built = Built { kit: Some(variant.number.clone()), ..Built::default() };
        let worked = variant.spec(&mut built.notes).and_then(|spec| {
            let step = Step { sha256: &digest, stock, trial, before: None, shared: None };
            step.work_out(&spec, &mut built).map(|(worked, _)| worked)
        });
        (built, worked)
    });
    Some(all.collect())
}

fn many(catalogue: &Catalogue) -> Finding {
    let count = catalogue.len();
    let message = format!(
        "{} has {count} variants; at most {MOST_ALONE} are drawn as kits of their own",
        catalogue.number
    );
    let help = "use `blankwright catalogue` with this file: equal parts are then drawn once";
    Finding::error("catalogue.many-kits", message).about(catalogue.number.clone()).help(help)
}

/// Reads a catalogue, and sees to it that what it sweeps is known: what is wrong with the name of a
/// parameter would be wrong in all its variants.
pub fn open<'t>(
    file: &str,
    text: &'t str,
    (texts, stock): (&'t SweepTexts, &Stock),
    notes: &mut Notes,
) -> Option<Catalogue<'t>> {
    let catalogue = Catalogue::read(file, text, texts, notes)?;
    let before = notes.len();
    for (first, keys) in catalogue.firsts() {
        let mut about = Notes::default();
        let spec = catalogue.variant(first).spec(&mut about);
        if let Some((spec, family)) =
            spec.and_then(|spec| stock.family(&spec.template.value).map(|family| (spec, family)))
        {
            resolve::bind(&spec, family, &stock.shelf, &mut about);
        }
        let at_key = |finding: &&Finding| {
            let start = finding.place.as_ref().map(|place| place.span.start);
            finding.severity == Severity::Error && keys.iter().any(|key| Some(key.start) == start)
        };
        about.all().iter().filter(at_key).for_each(|finding| notes.add(finding.clone()));
    }
    (before == notes.len()).then_some(catalogue)
}

/// What the kits of a catalogue have in common.
#[derive(Debug)]
pub struct Series<'a> {
    stock: &'a Stock,
    pub(super) catalogue: String,
    /// What numbers of shared parts begin with.
    prefix: String,
    /// The top of the catalogue, for drawings of shared parts.
    pub(super) top: Option<Spec>,
    wish: Wish,
    /// Digest of all inputs but the variant itself, for each family by name.
    inputs: Vec<(String, String)>,
}

/// What is asked for of every kit of a catalogue.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wish {
    /// The kinds of file.
    pub only: Only,
    /// Whether each kit is laid out on sheets of its own, and the kinds of file about those.
    pub sheets: Option<Only>,
    /// Whether files are proved before they are written.
    pub proved: bool,
}

impl Wish {
    /// In words, for people and digests.
    pub fn words(&self) -> String {
        let kinds = |only: &Only| {
            let asked = FileKind::ALL.into_iter().filter(|kind| only.kind(*kind));
            asked.map(FileKind::ending).collect::<Vec<_>>().join(", ")
        };
        let sheets = self.sheets.as_ref().map(|only| format!("; sheets as {}", kinds(only)));
        let proved = if self.proved { "" } else { "; not proved" };
        format!("{}{}{proved}", kinds(&self.only), sheets.unwrap_or_default())
    }
}

/// The texts everything is made from, for digests: the program's, the families', the shelf's.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a> {
    /// What tells one version of the program from another.
    pub program: &'a str,
    /// The families.
    pub families: &'a [Source],
    /// Containers, materials, fasteners and the shop.
    pub shelf: &'a [&'a Source],
}

impl Inputs<'_> {
    /// Digest of families, containers, materials, fasteners and the shop.
    pub fn data_digest(&self) -> String {
        let texts = self.families.iter().chain(self.shelf.iter().copied());
        sha256_of(texts.map(|source| source.bytes.as_slice()))
    }
}

impl<'a> Series<'a> {
    /// For the kits of one catalogue.
    pub fn of(catalogue: &Catalogue, stock: &'a Stock, inputs: &Inputs, wish: Wish) -> Self {
        let top = spec::parse("", &catalogue.top, &mut Notes::default());
        let words = format!("{} {} {}", wish.words(), catalogue.prefix, words(top.as_ref()));
        let seal = |family: &Source| {
            let mut texts = vec![inputs.program.as_bytes(), words.as_bytes(), &family.bytes];
            texts.extend(inputs.shelf.iter().map(|source| source.bytes.as_slice()));
            sha256_of(texts.into_iter())
        };
        let named =
            |family: &&Source| stock.families.iter().find(|read| *read.file == *family.name);
        let inputs = inputs
            .families
            .iter()
            .filter_map(|family| Some((named(&family)?.template.name.clone(), seal(family))));
        let (catalogue, prefix) = (catalogue.number.clone(), catalogue.prefix.clone());
        Self { stock, catalogue, prefix, top, wish, inputs: inputs.collect() }
    }

    /// The catalogue's title; empty where its top gives none.
    pub fn title(&self) -> &str {
        self.top.as_ref().map_or("", |top| &top.title.value)
    }

    /// What is asked for.
    pub fn wish(&self) -> &Wish {
        &self.wish
    }

    /// Digest of everything that a variant's files depend on.
    pub fn inputs_of(&self, variant: &Variant) -> String {
        let family = self.inputs.iter().find(|(name, _)| *name == variant.template);
        let seal = family.map_or("", |(_, seal)| seal.as_str());
        sha256_of([seal.as_bytes(), variant.text.as_bytes()].into_iter())
    }
}

/// What drawings of shared parts print of the catalogue's top.
fn words(top: Option<&Spec>) -> String {
    let Some(top) = top else { return String::new() };
    let texts = [&top.title, &top.revision, &top.date, &top.site, &top.drawn_by, &top.approved_by];
    let mut words: Vec<&str> = texts.iter().map(|said| said.value.as_str()).collect();
    words.push(if top.units == Units::Inch { "in" } else { "mm" });
    for line in &top.revisions {
        words.extend([&line.index, &line.date, &line.text].map(|said| said.value.as_str()));
    }
    words.join("\n")
}

/// What became of one variant.
#[derive(Debug, Clone, Default)]
pub struct Member {
    /// Everything there is to say about it.
    pub notes: Notes,
    /// Its files; none with an error.
    pub files: Option<Vec<OutFile>>,
    /// Its parts, where it was made.
    pub parts: Vec<SharedPart>,
}

/// A part of a variant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SharedPart {
    /// The number that all kits with this part give it.
    pub number: String,
    /// The number it has when its kit is drawn alone.
    pub in_kit: String,
    /// As printed.
    pub title: String,
    /// How many the kit has.
    pub quantity: usize,
    /// Material and thickness, as printed.
    pub sheet: String,
    /// What makes it the same part, hexadecimal.
    pub identity: String,
    /// Its own files, paths beginning with `parts/`.
    pub files: Vec<OutFile>,
}

/// Works one variant out and makes no files.
pub fn checked(variant: &Variant, series: &Series) -> Member {
    let mut built = Built::default();
    work_out(variant, series, &mut built);
    Member { notes: built.notes, ..Member::default() }
}

fn work_out(variant: &Variant, series: &Series, built: &mut Built) -> Option<Worked> {
    variant.spec(&mut built.notes).and_then(|spec| {
        let sha256 = sha256(variant.text.as_bytes());
        let shared = Some(series.prefix.as_str());
        let (stock, trial) = (series.stock, &Trial::none());
        let step = Step { sha256: &sha256, stock, trial, before: None, shared };
        step.work_out(&spec, built).map(|(worked, _)| worked)
    })
}

/// Works one variant out and makes its files: `kit.json` first, and those of its parts apart.
pub fn member(variant: &Variant, series: &Series) -> Member {
    let mut built = Built::default();
    let worked = work_out(variant, series, &mut built);
    let mut notes = built.notes;
    let Some(worked) = worked.filter(|_| !notes.has_errors()) else {
        return Member { notes, ..Member::default() };
    };
    let membership = Membership {
        catalogue: &series.catalogue,
        apart: false,
        spec: &variant.text,
        in_kit: &worked.in_kit,
    };
    let wish = &series.wish;
    let made = drawn(&worked, series, (&wish.only, wish.sheets.as_ref(), &membership), &mut notes);
    let holds =
        |made: &Vec<OutFile>| !wish.proved || proof::holds(made, &series.stock.shelf, &mut notes);
    let Some(made) = made.filter(holds) else { return Member { notes, ..Member::default() } };
    let (own, files): (Vec<OutFile>, Vec<OutFile>) =
        made.into_iter().partition(|file| file.path.starts_with("parts/"));
    Member { notes, files: Some(files), parts: parts(&worked, series, &own) }
}

/// Works one variant out and makes all its files, as of a kit that is drawn alone, but with the
/// numbers of shared parts: a folder that can be passed on.
pub fn apart(variant: &Variant, series: &Series) -> Built {
    let mut built = Built::default();
    let Some(worked) = work_out(variant, series, &mut built) else { return built };
    built.parts = worked.kit.parts.iter().map(|part| part.number.clone()).collect();
    if built.notes.has_errors() {
        return built;
    }
    let membership = Membership {
        catalogue: &series.catalogue,
        apart: true,
        spec: &variant.text,
        in_kit: &worked.in_kit,
    };
    let all = Only::default();
    let made = drawn(&worked, series, (&all, Some(&all), &membership), &mut built.notes);
    let shelf = &series.stock.shelf;
    built.files =
        made.filter(|made| !series.wish.proved || proof::holds(made, shelf, &mut built.notes));
    built
}

/// The files of a kit with its parts', and about its sheets where those are asked for; none where
/// the parts cannot be laid out, which is told.
fn drawn(
    worked: &Worked,
    series: &Series,
    (only, sheets, membership): (&Only, Option<&Only>, &Membership),
    notes: &mut Notes,
) -> Option<Vec<OutFile>> {
    let stock = series.stock;
    let Some(sheets) = sheets else {
        return Some(files((worked, None), stock, notes.all(), (only, Some(membership))));
    };
    let request = laying::request(worked, stock);
    let laid = laying::lay_out(&request, Trial::none().share, notes);
    if notes.has_errors() {
        return None;
    }
    let laid = Some(Layout { request: &request, laid: &laid, only: sheets });
    Some(files((worked, laid), stock, notes.all(), (only, Some(membership))))
}

/// The parts with their files: of the laser file as it is, of drawings those that speak of the part
/// alone.
fn parts(worked: &Worked, series: &Series, own: &[OutFile]) -> Vec<SharedPart> {
    let row = |(i, part): (usize, &Part)| {
        let mut files: Vec<OutFile> = Vec::new();
        let path = |kind: FileKind| format!("parts/{}.{}", part.number, kind.ending());
        let dxf = path(FileKind::Dxf);
        files.extend(own.iter().find(|file| file.path == dxf).cloned());
        if [FileKind::Svg, FileKind::Pdf].iter().any(|kind| series.wish.only.kind(*kind)) {
            let alone = Alone::of(worked, i, series);
            if series.wish.only.kind(FileKind::Svg) {
                files.push(OutFile { path: path(FileKind::Svg), bytes: alone.svg() });
            }
            if series.wish.only.kind(FileKind::Pdf) {
                files.push(OutFile { path: path(FileKind::Pdf), bytes: alone.pdf() });
            }
        }
        SharedPart {
            number: part.number.clone(),
            in_kit: worked.in_kit[i].clone(),
            title: part.title.clone(),
            quantity: part.places.len(),
            sheet: format!("{}, {} mm", part.material.title, part.thickness),
            identity: identity(part, &series.prefix),
            files,
        }
    };
    worked.kit.parts.iter().enumerate().map(row).collect()
}

/// What makes a part the same: its number, which is etched on it, is left out.
fn identity(part: &Part, prefix: &str) -> String {
    let mut bare = part.clone();
    bare.marks.retain(|mark| mark.text != part.number);
    Identity::of(&bare, prefix).hex()
}
