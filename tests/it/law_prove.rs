//! Law: whatever part is drawn, its files prove it; in whatever way the shop wants its bend lines
//! shown and its layers named.

use std::sync::OnceLock;

use blankwright::note::Notes;
use blankwright::pipeline::{FileKind, Only, Source, Stock, Want, build};
use blankwright::prove::{Found, Proof, Scope, prove};
use blankwright::shelf::BendLines;
use blankwright::template;
use proptest::prelude::*;

use crate::law_parts::part;
use crate::law_stock::{SPEC, STOCK, config};

/// A stock with one family, and another way to show bend lines.
fn stock(family: &str, bend_lines: BendLines) -> Stock {
    let mut notes = Notes::default();
    let family = template::parse("trial.toml", family, &mut notes).expect("a family");
    let mut shelf = STOCK.shelf.clone();
    shelf.shop.layers.bend_lines = bend_lines;
    shelf.shop.layers.cut_outside.name = "Outline 1".to_owned();
    Stock { families: vec![family], shelf, laser: OnceLock::new() }
}

/// The proof of a family's kit; none where the kit is refused.
fn proof(stock: &Stock) -> Option<Proof> {
    let kinds = vec![FileKind::Json, FileKind::Dxf, FileKind::Csv];
    let want = Want::Unproved(Only { kinds, parts: Vec::new() });
    let source = Source { name: "spec.toml".into(), bytes: SPEC.into() };
    let files = build(&source, stock, &want).files?;
    let found: Vec<Found> =
        files.iter().map(|file| Found { path: &file.path, bytes: &file.bytes }).collect();
    Some(prove(&found, &stock.shelf, Scope::Folder))
}

proptest! {
    #![proptest_config(config(96))]

    #[test]
    fn every_part_is_proved(
        trial in part(),
        bend_lines in prop_oneof![
            Just(BendLines::Whole), Just(BendLines::Ticks(10.0)), Just(BendLines::Off)
        ],
    ) {
        let family = trial.family();
        if let Some(proof) = proof(&stock(&family, bend_lines)) {
            prop_assert!(proof.holds() && proof.notes.is_empty(), "{family}\n{:#?}", proof.notes);
        }
    }
}
