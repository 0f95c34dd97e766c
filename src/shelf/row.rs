//! A table of a data file whose keys must be there: what is missing or out of bounds is told, and a
//! stand-in is handed on, which never gets far: a shelf with a fault is not built.

use std::ops::Range;
use std::sync::OnceLock;

use toml::de::DeTable;

use crate::note::{Finding, Notes};
use crate::spec::{Raw, Said, Table};
use crate::units::quoted;

/// A table and the notes its faults go to.
pub(super) struct Row<'n, 't> {
    pub(super) table: Table<'t>,
    pub(super) notes: &'n mut Notes,
    /// Whether missing keys go untold, because the whole table is missing and that was told.
    quiet: bool,
}

impl<'n, 't> Row<'n, 't> {
    pub(super) fn new(table: Table<'t>, notes: &'n mut Notes) -> Self {
        Self { table, notes, quiet: false }
    }

    /// A table below this one that must be there.
    pub(super) fn below(&mut self, key: &'static str) -> Row<'_, 't> {
        static NONE: OnceLock<DeTable<'static>> = OnceLock::new();
        match self.table.table(key, self.notes) {
            Some(table) => Row { table, notes: self.notes, quiet: self.quiet },
            None => {
                self.missing(key, "{ .. }");
                let table = self.table.stand_in(key, NONE.get_or_init(DeTable::new));
                Row { table, notes: self.notes, quiet: true }
            }
        }
    }

    /// Reads each table of an array of tables.
    pub(super) fn each<T>(&mut self, key: &'static str, read: impl Fn(&mut Row) -> T) -> Vec<T> {
        let mut all = Vec::new();
        for table in self.table.tables(key, self.notes) {
            let mut row = Row { table, notes: self.notes, quiet: false };
            all.push(read(&mut row));
            row.end();
        }
        all
    }

    /// A text that must be there and say something.
    pub(super) fn text(&mut self, key: &'static str) -> String {
        match self.table.text(key, self.notes) {
            Some(said) if !said.value.trim().is_empty() => said.value,
            Some(said) => {
                self.tell(key, &said.span, "is empty");
                String::new()
            }
            None => {
                self.missing(key, "\"..\"");
                String::new()
            }
        }
    }

    /// One of several words.
    pub(super) fn word(&mut self, key: &'static str, allowed: &[&str]) -> String {
        let Some(said) = self.table.text(key, self.notes) else {
            self.missing(key, &format!("\"{}\"", allowed[0]));
            return String::new();
        };
        if !allowed.contains(&said.value.as_str()) {
            let why = format!("is {}; allowed: {}", quoted(&said.value), allowed.join(", "));
            self.tell(key, &said.span, &why);
        }
        said.value
    }

    /// A length above 0, mm.
    pub(super) fn mm(&mut self, key: &'static str) -> f64 {
        self.maybe_mm(key).unwrap_or_else(|| self.stand_in(key, "\"10 mm\""))
    }

    /// A length above 0, mm, that may be missing.
    pub(super) fn maybe_mm(&mut self, key: &'static str) -> Option<f64> {
        let said = self.table.length(key, self.notes)?;
        Some(self.above_zero(key, said))
    }

    /// A length of 0 or more, mm.
    pub(super) fn mm_or_zero(&mut self, key: &'static str) -> f64 {
        match self.table.length(key, self.notes) {
            Some(said) if said.value == 0.0 => 0.0,
            Some(said) => self.above_zero(key, said),
            None => self.stand_in(key, "\"10 mm\""),
        }
    }

    /// A number above 0.
    pub(super) fn number(&mut self, key: &'static str) -> f64 {
        self.maybe_number(key).unwrap_or_else(|| self.stand_in(key, "1.5"))
    }

    /// A number above 0 that may be missing.
    pub(super) fn maybe_number(&mut self, key: &'static str) -> Option<f64> {
        let said = self.table.number(key, self.notes)?;
        Some(self.above_zero(key, said))
    }

    /// A number within bounds.
    pub(super) fn number_in(&mut self, key: &'static str, low: f64, high: f64) -> f64 {
        let Some(said) = self.table.number(key, self.notes) else {
            self.stand_in(key, &format!("{low}"));
            return low;
        };
        if !(low..=high).contains(&said.value) {
            self.tell(key, &said.span, &format!("is {}, not {low} to {high}", said.value));
        }
        said.value
    }

    /// A whole number from 1 on.
    pub(super) fn count(&mut self, key: &'static str) -> usize {
        let number = self.number_in(key, 1.0, 10_000.0);
        if number.fract() != 0.0 {
            let span = self.table.span.clone();
            self.tell(key, &span, "is not a whole number");
        }
        number as usize
    }

    /// A yes or no; missing is no.
    pub(super) fn flag(&mut self, key: &'static str) -> bool {
        self.table.flag(key, self.notes).is_some_and(|said| said.value)
    }

    /// An angle above 0, degrees.
    pub(super) fn angle(&mut self, key: &'static str) -> f64 {
        match self.table.angle(key, self.notes) {
            Some(said) => self.above_zero(key, said),
            None => self.stand_in(key, "\"90 deg\""),
        }
    }

    /// An angle from 0 to `most`, degrees.
    pub(super) fn angle_up_to(&mut self, key: &'static str, most: f64) -> f64 {
        match self.table.angle(key, self.notes) {
            Some(said) => self.up_to(key, said, most),
            None => self.stand_in(key, "\"0.5 deg\""),
        }
    }

    /// A length from 0 to `most`, mm, that may be missing.
    pub(super) fn limit(&mut self, key: &'static str, most: f64) -> Option<f64> {
        let said = self.table.length(key, self.notes)?;
        Some(self.up_to(key, said, most))
    }

    fn up_to(&mut self, key: &'static str, said: Said<f64>, most: f64) -> f64 {
        if !(0.0..=most).contains(&said.value) {
            self.tell(key, &said.span, &format!("is {}, not 0 to {most}", said.value));
        }
        said.value
    }

    /// Exactly `N` lengths of 0 or more, mm.
    pub(super) fn mms<const N: usize>(&mut self, key: &'static str) -> [f64; N] {
        let example = format!("[{}]", ["10"; N].join(", "));
        let span = self.table.span.clone();
        let Some(said) = self.table.lengths(key, self.notes) else {
            if !self.table.has(key) {
                self.missing(key, &example);
            }
            return [1.0; N];
        };
        let values: Vec<f64> = said.iter().map(|s| s.value).collect();
        if values.iter().any(|v| *v < 0.0) {
            self.tell(key, &span, "holds a length below 0");
        }
        <[f64; N]>::try_from(values).unwrap_or_else(|values| {
            let place = said.first().map_or(span, |s| s.span.clone());
            self.tell(key, &place, &format!("has {} lengths, not {N}", values.len()));
            [1.0; N]
        })
    }

    /// A list of lengths above 0, mm, that may be missing.
    pub(super) fn mm_list(&mut self, key: &'static str) -> Vec<f64> {
        let said = self.table.lengths(key, self.notes).unwrap_or_default();
        said.into_iter().map(|said| self.above_zero(key, said)).collect()
    }

    /// Three points [x, y] or more, mm.
    pub(super) fn points(&mut self, key: &'static str) -> Vec<[f64; 2]> {
        let Some(said) = self.table.raw(key, self.notes) else {
            self.missing(key, "[[0, 0], [10, 20], [-10, 20]]");
            return Vec::new();
        };
        let point = |item: &Said<Raw>| {
            let Raw::List(pair) = &item.value else { return None };
            match pair.as_slice() {
                [x, y] => match (&x.value, &y.value) {
                    (Raw::Number(x), Raw::Number(y)) => Some([*x, *y]),
                    _ => None,
                },
                _ => None,
            }
        };
        let points: Option<Vec<_>> = match &said.value {
            Raw::List(items) => items.iter().map(point).collect(),
            _ => None,
        };
        match points {
            Some(points) if 3 <= points.len() => points,
            _ => {
                self.tell(key, &said.span, "is not a list of three points [x, y] or more");
                Vec::new()
            }
        }
    }

    /// A list of texts that may be missing.
    pub(super) fn texts(&mut self, key: &'static str) -> Vec<String> {
        let said = self.table.texts(key, self.notes).unwrap_or_default();
        said.into_iter().map(|said| said.value).collect()
    }

    /// Ends the reading: keys that nobody asked for are told.
    pub(super) fn end(self) {
        self.table.finish(self.notes);
    }

    /// Tells a fault of a key's value.
    pub(super) fn tell(&mut self, key: &str, span: &Range<usize>, why: &str) {
        let path = self.table.path_of(key);
        let finding = Finding::error("shelf.value", format!("`{path}` {why}")).about(path);
        self.table.tell(span, finding, self.notes);
    }

    fn above_zero(&mut self, key: &str, said: Said<f64>) -> f64 {
        if said.value <= 0.0 {
            self.tell(key, &said.span, &format!("is {}; it must be above 0", said.value));
        }
        said.value
    }

    /// Tells a missing key unless its value was there and told already.
    fn missing(&mut self, key: &'static str, example: &str) {
        if !self.quiet && !self.table.has(key) {
            self.table.missing(key, example, self.notes);
        }
    }

    pub(super) fn stand_in(&mut self, key: &'static str, example: &str) -> f64 {
        self.missing(key, example);
        1.0
    }
}
