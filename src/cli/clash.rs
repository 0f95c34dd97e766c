//! Two specs for one kit number: they would take turns in one folder, so neither is written.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::catalogue::numbers;
use crate::note::{Finding, Place};
use crate::pipeline::Source;

/// A finding for every source that names the same kit as another, with the source's index.
pub(crate) fn clashes(sources: &[(usize, &Source)]) -> BTreeMap<usize, Finding> {
    let mut by_kit: BTreeMap<String, Vec<Named>> = BTreeMap::new();
    for &(index, source) in sources {
        for (kit, span) in kit_numbers(source) {
            // Some file systems take large and small letters for the same. A number twice in one
            // file is told when the file is read.
            let named = Named { index, source, kit, span };
            let same = by_kit.entry(named.kit.to_lowercase()).or_default();
            if same.iter().all(|other| other.index != index) {
                same.push(named);
            }
        }
    }
    let contested = by_kit.values().filter(|named| 1 < named.len());
    contested
        .flat_map(|named| named.iter().map(move |one| (one.index, clash(one, named))))
        .collect()
}

/// A source and the kit number it gives.
struct Named<'a> {
    index: usize,
    source: &'a Source,
    kit: String,
    span: Range<usize>,
}

fn clash(one: &Named, all: &[Named]) -> Finding {
    let others = all.iter().filter(|other| other.index != one.index);
    let files: Vec<&str> = others.map(|other| other.source.name.as_str()).collect();
    let message = format!("kit number {} is also given by {}", one.kit, files.join(", "));
    let place = Place { file: Arc::from(one.source.name.as_str()), span: one.span.clone() };
    Finding::error("batch.same-kit", message)
        .at(Some(place))
        .help("give each kit a number of its own; none of these is written")
}

/// The mark some editors put before UTF-8 text.
const BYTE_ORDER_MARK: &str = "\u{feff}";

/// The numbers of a spec's kits and where their values stand; none when the text cannot be read
/// that far.
fn kit_numbers(source: &Source) -> Vec<(String, Range<usize>)> {
    let Ok(text) = std::str::from_utf8(&source.bytes) else { return Vec::new() };
    let bare = text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text);
    let shift = text.len() - bare.len();
    let Ok(table) = DeTable::parse(bare) else { return Vec::new() };
    let number = |table: &DeTable| {
        let kit = table.get("kit")?;
        let DeValue::String(number) = kit.get_ref() else { return None };
        Some((number.to_string(), kit.span().start + shift..kit.span().end + shift))
    };
    match table.get_ref().get("kits").map(|kits| kits.get_ref()) {
        Some(DeValue::Array(kits)) => {
            let tables = kits.iter().filter_map(|kit| match kit.get_ref() {
                DeValue::Table(own) => number(own),
                _ => None,
            });
            tables.collect()
        }
        _ => {
            let own = number(table.get_ref());
            let variants = numbers(source).unwrap_or_default().into_iter();
            let span = own.as_ref().map_or(0..0, |(_, span)| span.clone());
            own.into_iter().chain(variants.map(|number| (number, span.clone()))).collect()
        }
    }
}
