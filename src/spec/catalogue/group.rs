//! The variants that come of one `[[variant]]`, or of the whole file where there is none.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::axis::{Axis, Draft, axes};
use super::{SweepTexts, at_path, naming};
use crate::note::{Finding, Notes};
use crate::spec::header::{self, Rule};
use crate::spec::parse::optional;
use crate::spec::several::over;
use crate::spec::text::place;
use crate::spec::{SPEC, Said, Table};

/// What a variant's own number may be called.
const SUFFIX: Rule = Rule { example: "\"A1\"", ..header::KIT };

/// Variants that share all but what they sweep.
#[derive(Debug)]
pub(super) struct Group<'t> {
    /// The top of the file with the variant's own values over it.
    table: Spanned<DeTable<'t>>,
    /// The number that the codes of the sweep are added to.
    pub(super) number: Said<String>,
    title: String,
    /// What is swept, the last one fastest.
    pub(super) axes: Vec<Axis<'t>>,
    /// Where the sweep stands, or the variant where there is none.
    pub(super) sweep_span: Range<usize>,
    /// The first of its variants, counted in the whole catalogue.
    pub(super) first: usize,
}

impl<'t> Group<'t> {
    /// How many variants it comes to.
    pub(super) fn count(&self) -> u128 {
        let lengths = self.axes.iter().map(|axis| axis.values.len() as u128);
        lengths.fold(1, u128::saturating_mul)
    }

    /// Which value of each axis a variant has.
    fn steps(&self, index: usize) -> Vec<usize> {
        let mut rest = index;
        let mut steps: Vec<usize> = Vec::new();
        for axis in self.axes.iter().rev() {
            steps.push(rest % axis.values.len());
            rest /= axis.values.len();
        }
        steps.reverse();
        steps
    }

    pub(super) fn number_of(&self, index: usize) -> String {
        let steps = self.steps(index);
        let codes = self.axes.iter().zip(steps).map(|(axis, step)| &axis.values[step].code);
        codes.fold(self.number.value.clone(), |number, code| format!("{number}-{code}"))
    }

    /// The number and the table of a variant.
    pub(super) fn variant(&self, index: usize) -> (String, Spanned<DeTable<'t>>) {
        let number = self.number_of(index);
        let mut table = self.table.clone();
        let steps = self.steps(index);
        for (axis, step) in self.axes.iter().zip(&steps) {
            set(table.get_mut(), &axis.path, axis.values[*step].value.clone());
        }
        let shown = self.axes.iter().zip(&steps);
        let shown: Vec<String> = shown.map(|(axis, step)| axis.shown(*step)).collect();
        let span = self.number.span.clone();
        let said =
            |text: &str| Spanned::new(span.clone(), DeValue::String(Cow::Owned(text.to_owned())));
        let key = |name: &'static str| Spanned::new(span.clone(), Cow::Borrowed(name));
        if let Some(title) = naming::title(&self.title, &shown, &number) {
            set(table.get_mut(), &[key("title")], said(&title));
        }
        set(table.get_mut(), &[key("kit")], said(&number));
        (number, table)
    }
}

/// Puts a value at a path, in the place of what is there.
fn set<'t>(table: &mut DeTable<'t>, path: &[Spanned<Cow<'t, str>>], value: Spanned<DeValue<'t>>) {
    let Some((first, rest)) = path.split_first() else { return };
    let name = first.get_ref().as_ref();
    if rest.is_empty() {
        table.remove(name);
        table.insert(first.clone(), value);
        return;
    }
    let is_table = |value: &Spanned<DeValue>| matches!(value.get_ref(), DeValue::Table(_));
    if !table.get(name).is_some_and(is_table) {
        table.remove(name);
        let below = Spanned::new(first.span(), DeValue::Table(DeTable::new()));
        table.insert(first.clone(), below);
    }
    if let Some(DeValue::Table(below)) = table.get_mut(name).map(Spanned::get_mut) {
        set(below, rest, value);
    }
}

/// Every group of a file, in its order.
pub(super) fn groups<'t>(
    file: &Arc<str>,
    toml: &Spanned<DeTable<'t>>,
    texts: &'t SweepTexts,
    notes: &mut Notes,
) -> Vec<Group<'t>> {
    let top = toml.get_ref();
    let common = super::top(toml);
    let swept = axes(file, "sweep", top.get("sweep"), notes);
    let reader = Reader { file, common: &common, swept: &swept };
    let drafts: Vec<(Group, Vec<Draft>)> = match top.get("variant") {
        None => reader.whole(toml, notes).into_iter().collect(),
        Some(variants) => reader.all(variants, notes),
    };
    // Values between the first and the last of a sweep are parsed once they have their place.
    let made: Vec<String> =
        drafts.iter().flat_map(|(_, axes)| axes).flat_map(Draft::made).collect();
    let mut made = texts.0.get_or_init(|| made).iter().map(String::as_str);
    let finished = drafts.into_iter().map(|(group, axes)| {
        let axes = axes.into_iter().map(|axis| axis.finish(&mut made)).collect();
        Group { axes, ..group }
    });
    finished.collect()
}

/// What all variants of a file are read with.
struct Reader<'a, 't> {
    file: &'a Arc<str>,
    common: &'a DeTable<'t>,
    swept: &'a [Draft<'t>],
}

impl<'t> Reader<'_, 't> {
    /// A file without `[[variant]]`.
    fn whole(
        &self,
        toml: &Spanned<DeTable<'t>>,
        _notes: &mut Notes,
    ) -> Option<(Group<'t>, Vec<Draft<'t>>)> {
        let table = Spanned::new(toml.span(), self.common.clone());
        let span = toml.get_ref().get("sweep").map_or(0..0, Spanned::span);
        Some((self.group(table, span)?, self.swept.to_vec()))
    }

    fn all(
        &self,
        variants: &Spanned<DeValue<'t>>,
        notes: &mut Notes,
    ) -> Vec<(Group<'t>, Vec<Draft<'t>>)> {
        let mut wrong = |what: &str, span: Range<usize>| {
            let finding = Finding::error("catalogue.variant", what.to_owned()).about("variant");
            let help = "write every variant under `[[variant]]`, with a `suffix`";
            notes.add(finding.at(place(self.file, span)).help(help));
        };
        let entries: Vec<&Spanned<DeValue>> = match variants.get_ref() {
            DeValue::Array(items) if !items.is_empty() => items.iter().collect(),
            _ => {
                wrong("`variant` is no list of tables", variants.span());
                return Vec::new();
            }
        };
        let mut tables = Vec::new();
        for entry in entries {
            match entry.get_ref() {
                DeValue::Table(own) => tables.push((entry.span(), own)),
                _ => wrong("an entry of `variant` is no table", entry.span()),
            }
        }
        tables.into_iter().filter_map(|(span, own)| self.variant(span, own, notes)).collect()
    }

    /// One `[[variant]]`: its own values over the top's.
    fn variant(
        &self,
        span: Range<usize>,
        own: &DeTable<'t>,
        notes: &mut Notes,
    ) -> Option<(Group<'t>, Vec<Draft<'t>>)> {
        let suffix = self.suffix(&span, own, notes);
        let mut whole = over(self.common, own);
        ["suffix", "sweep"].iter().for_each(|key| drop(whole.remove(*key)));
        let own_axes = axes(self.file, "variant.sweep", own.get("sweep"), notes);
        for axis in &own_axes {
            if at_path(own, &axis.names()).is_some() {
                let message = format!("`{}` is given and swept in one variant", axis.path());
                let finding = Finding::error("catalogue.swept", message).about(axis.path());
                let at = place(self.file, axis.key_span());
                notes.add(finding.at(at).help("remove the one or the other"));
            }
        }
        let free = |axis: &&Draft| {
            let names = axis.names();
            at_path(own, &names).is_none() && own_axes.iter().all(|other| other.names() != names)
        };
        let axes: Vec<Draft> =
            self.swept.iter().filter(free).cloned().chain(own_axes.clone()).collect();
        let mut group = self.group(Spanned::new(span.clone(), whole), span)?;
        if let Some(suffix) = suffix {
            group.number = Said {
                value: format!("{}-{}", group.number.value, suffix.value),
                span: suffix.span,
            };
        }
        Some((group, axes))
    }

    /// The variant's own ending of the number; it may give a whole number in its place.
    fn suffix(
        &self,
        span: &Range<usize>,
        own: &DeTable<'t>,
        notes: &mut Notes,
    ) -> Option<Said<String>> {
        let own = Spanned::new(span.clone(), own.clone());
        let mut table = Table::top(self.file, &own, &SPEC);
        match (table.has("suffix"), table.has("kit")) {
            (true, false) => {
                let said = optional(&mut table, "suffix", &SUFFIX, notes);
                (!said.value.is_empty()).then_some(said)
            }
            (false, true) => None,
            (given, _) => {
                let what = if given { "both `suffix` and `kit`" } else { "no `suffix`" };
                let finding = Finding::error("catalogue.variant", format!("a variant has {what}"));
                let help = "write `suffix = \"A1\"`, or a whole number as `kit`";
                table.tell(span, finding.about("variant").help(help), notes);
                None
            }
        }
    }

    fn group(&self, table: Spanned<DeTable<'t>>, sweep_span: Range<usize>) -> Option<Group<'t>> {
        let text = |key: &str| match table.get_ref().get(key).map(|value| (value.get_ref(), value))
        {
            Some((DeValue::String(text), value)) => {
                Some(Said { value: text.to_string(), span: value.span() })
            }
            _ => None,
        };
        let number = text("kit")?;
        let title = text("title").map_or_else(String::new, |said| said.value);
        Some(Group { number, title, table, axes: Vec::new(), sweep_span, first: 0 })
    }
}
