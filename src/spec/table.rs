//! A table of a TOML file read key by key: each value by the type it must have, and at the end
//! every key that nobody asked for is an error with the nearest known one beside it.

use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::raw;
use super::text::place;
use super::value::{self, Unfit};
use super::{Codes, Given, Raw, Said, Thickness, Units, nearest};
use crate::note::{Finding, Notes, Place};
use crate::units::quoted;

type Key<'t> = Spanned<std::borrow::Cow<'t, str>>;

/// One table, its place, and what was asked of it so far.
pub struct Table<'t> {
    /// The file's name as the user gave it.
    pub file: Arc<str>,
    /// Dotted path from the top of the file; empty for the top.
    pub path: String,
    /// Where the table stands.
    pub span: Range<usize>,
    /// How bare numbers for lengths are read.
    pub units: Units,
    codes: &'static Codes,
    entries: &'t DeTable<'t>,
    asked: Vec<&'static str>,
}

impl<'t> Table<'t> {
    /// The top of a file.
    pub fn top(file: &Arc<str>, table: &'t Spanned<DeTable<'t>>, codes: &'static Codes) -> Self {
        Self {
            file: Arc::clone(file),
            path: String::new(),
            span: table.span(),
            units: Units::Mm,
            codes,
            entries: table.get_ref(),
            asked: Vec::new(),
        }
    }

    /// Dotted path of a key of this table.
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// A place in this table's file.
    pub fn place(&self, span: &Range<usize>) -> Option<Place> {
        place(&self.file, span.clone())
    }

    /// Whether the key is there.
    pub fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    /// The value of a key as it stands.
    pub fn raw(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<Raw>> {
        let value = self.ask(key)?;
        let path = self.path_of(key);
        raw::said(&self.source(), &path, value, notes)
    }

    /// A text.
    pub fn text(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<String>> {
        self.read(key, notes, value::text)
    }

    /// A finite number without a unit.
    pub fn number(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<f64>> {
        self.read(key, notes, value::number)
    }

    /// A length, mm.
    pub fn length(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<f64>> {
        let units = self.units;
        self.read(key, notes, |raw| value::length(raw, units))
    }

    /// An angle, degrees.
    pub fn angle(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<f64>> {
        self.read(key, notes, value::angle)
    }

    /// A sheet's thickness.
    pub fn thickness(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<Thickness>> {
        let units = self.units;
        self.read(key, notes, |raw| value::thickness(raw, units))
    }

    /// A yes or no.
    pub fn flag(&mut self, key: &'static str, notes: &mut Notes) -> Option<Said<bool>> {
        self.read(key, notes, value::flag)
    }

    /// A list of lengths, mm; the unreadable ones are told and left out.
    pub fn lengths(&mut self, key: &'static str, notes: &mut Notes) -> Option<Vec<Said<f64>>> {
        let units = self.units;
        self.list(key, notes, |raw| value::length(raw, units))
    }

    /// A list of texts; the unreadable ones are told and left out.
    pub fn texts(&mut self, key: &'static str, notes: &mut Notes) -> Option<Vec<Said<String>>> {
        self.list(key, notes, value::text)
    }

    /// A table below this one.
    pub fn table(&mut self, key: &'static str, notes: &mut Notes) -> Option<Table<'t>> {
        let value = self.ask(key)?;
        match value.get_ref() {
            DeValue::Table(entries) => Some(self.below(self.path_of(key), value.span(), entries)),
            _ => {
                notes.add(self.wrong(key, value, "a table, under `[..]`"));
                None
            }
        }
    }

    /// An empty table that stands for one that is missing.
    pub fn stand_in(&self, key: &str, nothing: &'t DeTable<'t>) -> Table<'t> {
        self.below(self.path_of(key), self.span.clone(), nothing)
    }

    /// Every table below this one by its key, in the order of the file; other values are told.
    pub fn each_table(&mut self, notes: &mut Notes) -> Vec<(Said<String>, Table<'t>)> {
        let mut tables = Vec::new();
        for (key, value) in self.left_over() {
            match value.get_ref() {
                DeValue::Table(entries) => {
                    let name = Said { value: key.get_ref().to_string(), span: key.span() };
                    let path = self.path_of(key.get_ref());
                    tables.push((name, self.below(path, value.span(), entries)));
                }
                _ => notes.add(self.wrong(key.get_ref(), value, "a table, under `[..]`")),
            }
        }
        tables
    }

    /// The tables of an array of tables (`[[key]]`).
    pub fn tables(&mut self, key: &'static str, notes: &mut Notes) -> Vec<Table<'t>> {
        let Some(value) = self.ask(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            let wanted = "a list of tables, each under `[[..]]`";
            notes.add(self.wrong(key, value, wanted));
            return Vec::new();
        };
        self.tables_of(key, items, notes)
    }

    fn tables_of(&self, key: &str, items: &'t DeArray<'t>, notes: &mut Notes) -> Vec<Table<'t>> {
        let mut tables = Vec::new();
        for item in items.iter() {
            match item.get_ref() {
                DeValue::Table(entries) => {
                    tables.push(self.below(self.path_of(key), item.span(), entries));
                }
                _ => notes.add(self.wrong(key, item, "a table, under `[..]`")),
            }
        }
        tables
    }

    /// Tells that a key must be there and is not; `example` shows how it is written.
    pub fn missing(&self, key: &'static str, example: &str, notes: &mut Notes) {
        let path = self.path_of(key);
        let finding = Finding::error(self.codes.missing_key, format!("`{path}` is missing"));
        let at = self.place(&(self.span.start..self.span.start));
        notes.add(finding.about(path).at(at).help(format!("write `{key} = {example}`")));
    }

    /// Tells a finding at a place in this table's file.
    pub fn tell(&self, span: &Range<usize>, finding: Finding, notes: &mut Notes) {
        notes.add(finding.at(self.place(span)));
    }

    /// Everything nobody asked for, as values for someone else to check: in the order of the file,
    /// paths relative to this table.
    pub fn rest(self, notes: &mut Notes) -> Vec<Given> {
        let mut given = Vec::new();
        for (key, value) in self.left_over() {
            raw::flatten(&self.source(), "", (key, value), &mut given, notes);
        }
        given.sort_by_key(|g| g.key_span.start);
        given
    }

    /// The same for the tables nobody asked for; any other value is an unknown key.
    pub fn groups(self, notes: &mut Notes) -> Vec<Given> {
        let mut given = Vec::new();
        for (key, value) in self.left_over() {
            if holds_tables(value.get_ref()) {
                raw::flatten(&self.source(), "", (key, value), &mut given, notes);
            } else {
                notes.add(self.unknown(key));
            }
        }
        given.sort_by_key(|g| g.key_span.start);
        given
    }

    /// Ends the reading: every key that nobody asked for is an error.
    pub fn finish(self, notes: &mut Notes) {
        for (key, _) in self.left_over() {
            notes.add(self.unknown(key));
        }
    }

    /// The finding about a key that is not known here.
    fn unknown(&self, key: &Key<'_>) -> Finding {
        let inside = if self.path.is_empty() {
            "at the top of the file".to_owned()
        } else {
            format!("in `{}`", self.path)
        };
        let message = format!("{} is not a known key {inside}", quoted(key.get_ref()));
        let help = match nearest(key.get_ref(), self.asked.iter().copied()) {
            Some(meant) => format!("did you mean `{meant}`?"),
            None => format!("known {inside}: {}", self.asked.join(", ")),
        };
        let finding = Finding::error(self.codes.unknown_key, message);
        finding.about(self.path_of(key.get_ref())).at(self.place(&key.span())).help(help)
    }

    fn left_over(&self) -> Vec<(&'t Key<'t>, &'t Spanned<DeValue<'t>>)> {
        let mut entries: Vec<_> =
            self.entries.iter().filter(|(k, _)| !self.was_asked(k.get_ref())).collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        entries
    }

    fn was_asked(&self, key: &str) -> bool {
        self.asked.contains(&key)
    }

    fn ask(&mut self, key: &'static str) -> Option<&'t Spanned<DeValue<'t>>> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        self.entries.get(key)
    }

    /// Reads one value; what keeps it from being read is told.
    fn read<T>(
        &mut self,
        key: &'static str,
        notes: &mut Notes,
        read: impl Fn(&Raw) -> Result<T, Unfit>,
    ) -> Option<Said<T>> {
        let said = self.raw(key, notes)?;
        let path = self.path_of(key);
        self.take(&path, &said, notes, read)
    }

    fn list<T>(
        &mut self,
        key: &'static str,
        notes: &mut Notes,
        read: impl Fn(&Raw) -> Result<T, Unfit>,
    ) -> Option<Vec<Said<T>>> {
        let said = self.raw(key, notes)?;
        let path = self.path_of(key);
        let Raw::List(items) = &said.value else {
            let unfit = Unfit::kind(&said.value, "a list `[..]`");
            self.tell(&said.span, unfit.finding(&path, self.codes), notes);
            return None;
        };
        Some(items.iter().filter_map(|item| self.take(&path, item, notes, &read)).collect())
    }

    fn take<T>(
        &self,
        path: &str,
        said: &Said<Raw>,
        notes: &mut Notes,
        read: impl Fn(&Raw) -> Result<T, Unfit>,
    ) -> Option<Said<T>> {
        match read(&said.value) {
            Ok(value) => Some(Said { value, span: said.span.clone() }),
            Err(unfit) => {
                self.tell(&said.span, unfit.finding(path, self.codes), notes);
                None
            }
        }
    }

    fn below(&self, path: String, span: Range<usize>, entries: &'t DeTable<'t>) -> Table<'t> {
        let (file, units, codes) = (Arc::clone(&self.file), self.units, self.codes);
        Table { file, path, span, units, codes, entries, asked: Vec::new() }
    }

    fn wrong(&self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &'static str) -> Finding {
        let path = self.path_of(key);
        let unfit = Unfit::Kind { found: raw::kind(value.get_ref()), wanted };
        unfit.finding(&path, self.codes).at(self.place(&value.span()))
    }

    fn source(&self) -> raw::Source<'_> {
        raw::Source { file: &self.file, codes: self.codes }
    }
}

fn holds_tables(value: &DeValue<'_>) -> bool {
    match value {
        DeValue::Table(_) => true,
        DeValue::Array(items) => items.iter().any(|i| matches!(i.get_ref(), DeValue::Table(_))),
        _ => false,
    }
}
