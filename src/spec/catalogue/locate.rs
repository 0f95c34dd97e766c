//! Places in a variant, told by the keys that lead there: they stay when the file is changed
//! elsewhere.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::Variant;

/// A place in what a variant was typed as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Locus {
    /// The keys that lead there: `opening.clear_width`, `revisions[0].text`.
    pub path: String,
    /// Whether the last key itself is meant, not its value.
    pub key: bool,
    /// First and last byte of what is meant, counted from the beginning of the key or the value;
    /// none where all of it is.
    pub part: Option<[usize; 2]>,
}

/// Something that has a place of its own.
struct Item {
    path: String,
    key: bool,
    span: Range<usize>,
}

impl Variant<'_> {
    /// How a place in the catalogue's file is told; none for one that is outside of the variant.
    pub fn locus(&self, span: &Range<usize>) -> Option<Locus> {
        let items = self.items();
        let whole = items.iter().find(|item| item.span == *span && !span.is_empty());
        if let Some(item) = whole {
            return Some(Locus { path: item.path.clone(), key: item.key, part: None });
        }
        let around =
            |item: &&Item| !item.key && item.span.start <= span.start && span.end <= item.span.end;
        let item = items.iter().filter(around).min_by_key(|item| item.span.len())?;
        let part = [span.start - item.span.start, span.end - item.span.start];
        Some(Locus { path: item.path.clone(), key: item.key, part: Some(part) })
    }

    /// Where a place is now; none where nothing leads there any more.
    pub fn span(&self, locus: &Locus) -> Option<Range<usize>> {
        let items = self.items();
        let named = |item: &&Item| item.path == locus.path && item.key == locus.key;
        let all = items.iter().find(named)?.span.clone();
        Some(match locus.part {
            Some([from, to]) if all.start + to <= all.end => all.start + from..all.start + to,
            _ => all,
        })
    }

    fn items(&self) -> Vec<Item> {
        let mut items = Vec::new();
        collect(self.table.get_ref(), "", &mut items);
        items.push(Item { path: String::new(), key: false, span: self.table.span() });
        items
    }
}

/// Everything in a table with its place, sorted by path.
fn collect(table: &DeTable<'_>, above: &str, items: &mut Vec<Item>) {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by(|a, b| a.0.get_ref().cmp(b.0.get_ref()));
    for (key, value) in entries {
        let name = key.get_ref();
        let path = if above.is_empty() { name.to_string() } else { format!("{above}.{name}") };
        items.push(Item { path: path.clone(), key: true, span: key.span() });
        enter(value, path, items);
    }
}

fn enter(value: &Spanned<DeValue<'_>>, path: String, items: &mut Vec<Item>) {
    items.push(Item { path: path.clone(), key: false, span: value.span() });
    match value.get_ref() {
        DeValue::Table(below) => collect(below, &path, items),
        DeValue::Array(below) => {
            for (at, value) in below.iter().enumerate() {
                enter(value, format!("{path}[{at}]"), items);
            }
        }
        _ => {}
    }
}
