//! One file with several kits for one box: what stands at its top holds for all of them, and each
//! `[[kits]]` says what differs.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::parse::parse_table;
use super::{SPEC, Spec, read_toml};
use crate::note::{Finding, Notes, Place};

/// The key of the kits.
const KITS: &str = "kits";

/// Reads every kit of a file: the one it is about, or those of its `[[kits]]`, in order. Every
/// fault is told at once; what cannot be read is left out.
pub fn parse_all(file: &str, text: &str, notes: &mut Notes) -> Vec<Spec> {
    let file: Arc<str> = Arc::from(file);
    let Some(toml) = read_toml(&file, text, &SPEC, notes) else { return Vec::new() };
    let Some(kits) = toml.get_ref().get(KITS) else {
        return parse_table(&file, &toml, notes).into_iter().collect();
    };
    let place = |span| Some(Place { file: Arc::clone(&file), span });
    let entries: Vec<&Spanned<DeValue>> = match kits.get_ref() {
        DeValue::Array(items) if !items.is_empty() => items.iter().collect(),
        _ => {
            let finding = Finding::error("spec.kits", "`kits` is no list of tables");
            let help = "write every kit under `[[kits]]`, with `kit` and `template`";
            notes.add(finding.about(KITS).at(place(kits.span())).help(help));
            return Vec::new();
        }
    };
    let mut specs: Vec<Spec> = Vec::new();
    for entry in entries {
        let DeValue::Table(own) = entry.get_ref() else {
            let finding = Finding::error("spec.kits", "an entry of `kits` is no table");
            notes.add(finding.about(KITS).at(place(entry.span())).help("write `[[kits]]`"));
            continue;
        };
        let table = Spanned::new(entry.span(), over(toml.get_ref(), own));
        let Some(spec) = parse_table(&file, &table, notes) else { continue };
        if specs.iter().any(|other| other.kit.value == spec.kit.value) {
            let message = format!("two kits of this file are called {}", spec.kit.value);
            let finding = Finding::error("spec.kits", message).about(spec.kit.value.clone());
            notes.add(finding.at(spec.place(&spec.kit.span)).help("give each its own number"));
        }
        specs.push(spec);
    }
    specs
}

/// The top of the file with what one kit says over it: its tables are added to the top's, its other
/// values replace them.
pub(super) fn over<'t>(top: &DeTable<'t>, own: &DeTable<'t>) -> DeTable<'t> {
    let mut whole = top.clone();
    whole.remove(KITS);
    for (key, value) in own.iter() {
        let merged =
            match (whole.get(key.get_ref().as_ref()).map(Spanned::get_ref), value.get_ref()) {
                (Some(DeValue::Table(common)), DeValue::Table(special)) => {
                    Spanned::new(value.span(), DeValue::Table(over(common, special)))
                }
                _ => value.clone(),
            };
        whole.remove(key.get_ref().as_ref());
        whole.insert(key.clone(), merged);
    }
    whole
}
