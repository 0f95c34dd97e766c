//! Two specs for one kit number: they would take turns in one folder, so neither is written.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use crate::note::{Finding, Place};
use crate::pipeline::Source;

/// A finding for every source that names the same kit as another, with the source's index.
pub(crate) fn clashes(sources: &[(usize, &Source)]) -> BTreeMap<usize, Finding> {
    let mut by_kit: BTreeMap<String, Vec<Named>> = BTreeMap::new();
    for &(index, source) in sources {
        if let Some((kit, span)) = kit_number(&source.bytes) {
            // Some file systems take large and small letters for the same.
            let named = Named { index, source, kit, span };
            by_kit.entry(named.kit.to_lowercase()).or_default().push(named);
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

/// The kit's number and where its value stands, when the text can be read that far.
fn kit_number(bytes: &[u8]) -> Option<(String, Range<usize>)> {
    let text = std::str::from_utf8(bytes).ok()?;
    let bare = text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text);
    let shift = text.len() - bare.len();
    let table = DeTable::parse(bare).ok()?;
    let kit = table.get_ref().get("kit")?;
    let DeValue::String(number) = kit.get_ref() else { return None };
    Some((number.to_string(), kit.span().start + shift..kit.span().end + shift))
}
