//! A catalogue: one file with many kits of one design. What stands at its top holds for all of
//! them; each `[[variant]]` says what differs, and a `[sweep]` runs through values of parameters.
//!
//! Variants are numbered through in the order of the file, the last parameter of a sweep changing
//! fastest, and made one at a time: the catalogue itself is small.

mod axis;
mod group;
mod locate;
mod naming;
mod written;

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::{Arc, OnceLock};

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::header::{self, KIT};
use super::parse::{optional, parse_table, required};
use super::text::place;
use super::{SPEC, Spec, Table, read_toml};
use crate::note::{Finding, Notes};
use group::Group;
pub use locate::Locus;

/// The keys that make a file a catalogue.
const KEYS: [&str; 3] = ["variant", "sweep", OWN];

/// The key of what concerns the catalogue itself.
const OWN: &str = "catalogue";

/// No catalogue has more variants: more are a slip of the pen.
pub const MOST_VARIANTS: usize = 100_000;

/// How many faults of numbers are told.
const FAULTS: usize = 8;

/// Values that sweeps make between their first and their last one, kept as they would be typed.
#[derive(Debug, Default)]
pub struct SweepTexts(OnceLock<Vec<String>>);

/// A catalogue as it was typed.
#[derive(Debug)]
pub struct Catalogue<'t> {
    file: Arc<str>,
    /// Its own number: `OSK-0200`.
    pub number: String,
    /// What numbers of parts begin with that its kits share: `OSK-P`.
    pub prefix: String,
    /// What stands at the top of the file, as a spec's text without variants.
    pub top: String,
    groups: Vec<Group<'t>>,
    count: usize,
}

/// One kit of a catalogue.
#[derive(Debug)]
pub struct Variant<'t> {
    /// Its kit number.
    pub number: String,
    /// The name of its kit family; empty where it gives none.
    pub template: String,
    /// The spec it amounts to: a text that gives the same kit when it is drawn alone.
    pub text: String,
    file: Arc<str>,
    table: Spanned<DeTable<'t>>,
}

impl Variant<'_> {
    /// Reads it as a spec; places are those of the catalogue's file.
    pub fn spec(&self, notes: &mut Notes) -> Option<Spec> {
        parse_table(&self.file, &self.table, notes)
    }
}

/// Whether a text is that of a catalogue; false where it cannot be read.
pub fn holds_variants(text: &str) -> bool {
    let read = DeTable::parse_recoverable(text).0;
    KEYS.iter().any(|key| read.get_ref().contains_key(*key))
}

impl<'t> Catalogue<'t> {
    /// Reads a catalogue. Every fault is told at once; none with a fault that concerns more than
    /// one variant.
    pub fn read(
        file: &str,
        text: &'t str,
        texts: &'t SweepTexts,
        notes: &mut Notes,
    ) -> Option<Self> {
        let file: Arc<str> = Arc::from(file);
        let before = notes.len();
        let toml = read_toml(&file, text, &SPEC, notes)?;
        let number = number(&file, &toml, notes);
        let prefix = prefix(&file, &toml, &number, notes);
        let groups = group::groups(&file, &toml, texts, notes);
        if before < notes.len() {
            return None;
        }
        let mut catalogue =
            Self { number, prefix, top: written::written(&top(&toml)), groups, file, count: 0 };
        catalogue.count_up(notes)?;
        catalogue.check_numbers(notes);
        (notes.len() == before).then_some(catalogue)
    }

    /// How many variants there are.
    pub fn len(&self) -> usize {
        self.count
    }

    /// Whether there are none; a catalogue that was read has one at least.
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// The kit number of a variant.
    pub fn number_of(&self, index: usize) -> String {
        let (group, index) = self.group_of(index);
        group.number_of(index)
    }

    /// A variant; `index` counts from 0.
    pub fn variant(&self, index: usize) -> Variant<'t> {
        let (group, index) = self.group_of(index);
        let (number, table) = group.variant(index);
        let text = written::written(table.get_ref());
        let template = match table.get_ref().get("template").map(Spanned::get_ref) {
            Some(DeValue::String(name)) => name.to_string(),
            _ => String::new(),
        };
        Variant { number, template, text, file: Arc::clone(&self.file), table }
    }

    /// For each `[[variant]]`, or for the whole where there is none: the first variant that comes
    /// of it, and where the names of the parameters stand that it sweeps.
    pub fn firsts(&self) -> Vec<(usize, Vec<Range<usize>>)> {
        let keys = |group: &Group| group.axes.iter().map(|axis| axis.key_span.clone()).collect();
        self.groups.iter().map(|group| (group.first, keys(group))).collect()
    }

    fn group_of(&self, index: usize) -> (&Group<'t>, usize) {
        let at = self.groups.partition_point(|group| group.first <= index).saturating_sub(1);
        let group = &self.groups[at];
        (group, index - group.first)
    }

    fn count_up(&mut self, notes: &mut Notes) -> Option<()> {
        let mut count: u128 = 0;
        for group in &mut self.groups {
            group.first = usize::try_from(count).unwrap_or(usize::MAX);
            count = count.saturating_add(group.count());
            if count > MOST_VARIANTS as u128 {
                let message = format!(
                    "the catalogue comes to {count} variants here; at most {MOST_VARIANTS} are made"
                );
                let finding = Finding::error("catalogue.many", message).about("sweep");
                let at = place(&self.file, group.sweep_span.clone());
                notes.add(finding.at(at).help("give fewer values, or split the catalogue"));
                return None;
            }
        }
        self.count = usize::try_from(count).unwrap_or(0);
        Some(())
    }

    /// Every number names one folder.
    fn check_numbers(&self, notes: &mut Notes) {
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        let mut faults = 0;
        for index in 0..self.count {
            let number = self.number_of(index);
            let wrong = (KIT.fault)(&number).map(|fault| {
                let message = format!("a variant would be called {number}: {fault}");
                (Finding::error(KIT.code, message), "give shorter codes or suffixes")
            });
            let twice = seen.insert(number.clone(), index).map(|_| {
                let message = format!("two variants are called {number}");
                (Finding::error("catalogue.twice", message), "give each its own suffix or code")
            });
            if let Some((finding, help)) = wrong.or(twice) {
                let at = place(&self.file, self.group_of(index).0.number.span.clone());
                notes.add(finding.about(number).at(at).help(help));
                faults += 1;
            }
            if faults == FAULTS {
                return;
            }
        }
    }
}

/// The catalogue's own number.
fn number<'t>(file: &Arc<str>, toml: &'t Spanned<DeTable<'t>>, notes: &mut Notes) -> String {
    let mut top = Table::top(file, toml, &SPEC);
    if top.has("kits") {
        let finding = Finding::error("catalogue.kits", "`kits` and variants stand in one file");
        let span = toml.get_ref().get("kits").map_or(0..0, Spanned::span);
        top.tell(&span, finding.about("kits").help("give each kit a catalogue of its own"), notes);
    }
    required(&mut top, "kit", &header::KIT, notes).value
}

/// What numbers of shared parts begin with: `parts` under `[catalogue]`, or the catalogue's number
/// up to its first hyphen and a P.
fn prefix<'t>(
    file: &Arc<str>,
    toml: &'t Spanned<DeTable<'t>>,
    number: &str,
    notes: &mut Notes,
) -> String {
    let mut top = Table::top(file, toml, &SPEC);
    let given = top.table(OWN, notes).map(|mut own| {
        let parts = optional(&mut own, "parts", &header::KIT, notes);
        own.finish(notes);
        parts.value
    });
    let usual = format!("{}-P", number.split('-').next().unwrap_or(number));
    given.filter(|given| !given.is_empty()).unwrap_or(usual)
}

/// The top of the file without what makes it a catalogue.
fn top<'t>(toml: &Spanned<DeTable<'t>>) -> DeTable<'t> {
    let mut top = toml.get_ref().clone();
    KEYS.iter().for_each(|key| drop(top.remove(*key)));
    top
}

/// The value at a path of keys.
fn at_path<'a, 't>(table: &'a DeTable<'t>, path: &[&str]) -> Option<&'a Spanned<DeValue<'t>>> {
    let (first, rest) = path.split_first()?;
    let value = table.get(*first)?;
    match (rest, value.get_ref()) {
        ([], _) => Some(value),
        (rest, DeValue::Table(below)) => at_path(below, rest),
        _ => None,
    }
}
