//! The header's schema and the reader must know the same keys; and reading must bear any text.

use std::collections::BTreeSet;

use blankwright::note::Notes;
use blankwright::spec;
use proptest::prelude::*;
use serde_json::Value;

const WHOLE: &str = include_str!("../cases/spec/whole.toml");

/// The keys the reader names as known where `stray` stands in a spec.
fn known(stray: &str) -> BTreeSet<String> {
    let text =
        format!("{WHOLE}\n{stray}\n").replace("units = \"mm\"", "units = \"mm\"\nzzzzzz = 1");
    let mut notes = Notes::default();
    spec::parse("stray.toml", &text, &mut notes);
    let help = notes.all().iter().map(|f| f.help.clone()).find(|help| help.starts_with("known"));
    let help = help.unwrap();
    help.split_once(": ").unwrap().1.split(", ").map(str::to_owned).collect()
}

fn keys(value: &Value) -> BTreeSet<String> {
    value.as_object().unwrap().keys().cloned().collect()
}

#[test]
fn schema_and_reader_know_the_same_keys() {
    let schema = spec::schema();
    assert_eq!(keys(&schema["properties"]), known(""));
    let mut notes = Notes::default();
    let text = "kit = \"A\"\ntemplate = \"a\"\nrevision = \"A\"\ndate = \"2025-03-14\"\n\
                [container]\ntype = \"20ft\"\nzzzzzz = 1\n[container.survey]\nzzzzzz = 1\n\
                [sheet]\nzzzzzz = 1\n[sheet.parts.sill]\nzzzzzz = 1\n[[accept]]\nzzzzzz = 1\n\
                [[revisions]]\nzzzzzz = 1\n";
    spec::parse("stray.toml", text, &mut notes);
    let properties = &schema["properties"];
    let container = &properties["container"]["properties"];
    let sheet = &properties["sheet"]["properties"];
    for (path, object) in [
        ("container", container),
        ("container.survey", &container["survey"]["properties"]),
        ("sheet", sheet),
        ("sheet.parts.sill", &sheet["parts"]["additionalProperties"]["properties"]),
        ("accept", &properties["accept"]["items"]["properties"]),
        ("revisions", &properties["revisions"]["items"]["properties"]),
    ] {
        let subject = format!("{path}.zzzzzz");
        let finding = notes.all().iter().find(|f| f.subject == subject).expect(path);
        let known = finding.help.split_once(": ").unwrap().1.split(", ");
        assert_eq!(keys(object), known.map(str::to_owned).collect(), "{path}");
    }
}

#[test]
fn every_reference_of_the_schema_leads_somewhere() {
    fn walk(value: &Value, found: &mut Vec<String>) {
        match value {
            Value::Object(map) => {
                found.extend(map.get("$ref").and_then(Value::as_str).map(str::to_owned));
                map.values().for_each(|value| walk(value, found));
            }
            Value::Array(items) => items.iter().for_each(|item| walk(item, found)),
            _ => {}
        }
    }
    let schema = spec::schema();
    let mut found = Vec::new();
    walk(&schema, &mut found);
    assert!(found.len() > 5);
    for reference in found {
        let name = reference.strip_prefix("#/$defs/").unwrap();
        assert!(schema["$defs"].get(name).is_some(), "{reference}");
    }
}

/// Whatever is told has a place on letter boundaries of the text.
fn bears(text: &str) {
    let mut notes = Notes::default();
    let spec = spec::parse("any.toml", text, &mut notes);
    assert!(spec.is_some() || notes.has_errors());
    for finding in notes.all() {
        let span = finding.place.clone().unwrap().span;
        assert!(text.get(span).is_some(), "{finding:?}");
    }
}

proptest! {
    #[test]
    fn any_text_is_borne(text in "\\PC{0,80}") {
        bears(&text);
    }

    #[test]
    fn a_whole_spec_with_a_slip_is_borne(at in 0usize..1200, slip in "[\"\\[\\]{}=,.#a0\\n\u{e9}-]{0,3}", cut in 0usize..12) {
        let at = (0..=at.min(WHOLE.len())).rev().find(|at| WHOLE.is_char_boundary(*at)).unwrap();
        let end = (at + cut).min(WHOLE.len());
        let rest = WHOLE.get(end..).unwrap_or("");
        bears(&format!("{}{slip}{rest}", &WHOLE[..at]));
    }
}
