//! Kits to prove: the samples as they are written, kept as bytes that a test may change.

#![allow(clippy::disallowed_methods, reason = "the samples are files")]

use std::collections::BTreeMap;
use std::fs;
use std::sync::LazyLock;

use blankwright::pipeline::{FileKind, Only, Source, Want, build};
use blankwright::prove::{Found, Proof, Scope, prove};
use serde_json::Value;

use crate::law_stock::{STOCK, beside};

/// A kit's files by their paths.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Files(pub(crate) BTreeMap<String, Vec<u8>>);

/// The sample kits, written without their pictures.
pub(crate) static SAMPLES: LazyLock<Vec<Files>> = LazyLock::new(|| {
    let mut paths: Vec<_> =
        fs::read_dir(beside("sample-specs")).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    let kinds = vec![FileKind::Json, FileKind::Dxf, FileKind::Csv];
    let want = Want::Unproved(Only { kinds, parts: Vec::new() });
    let files = paths.iter().map(|path| {
        let name = path.display().to_string();
        let built = build(&Source { name, bytes: fs::read(path).unwrap() }, &STOCK, &want);
        let files = built.files.unwrap_or_else(|| panic!("{:#?}", built.notes));
        Files(files.into_iter().map(|file| (file.path, file.bytes)).collect())
    });
    files.collect()
});

impl Files {
    /// What the proof says of them as a kit's folder.
    pub(crate) fn prove(&self) -> Proof {
        self.prove_as(Scope::Folder)
    }

    pub(crate) fn prove_as(&self, scope: Scope) -> Proof {
        let found: Vec<Found> = self.0.iter().map(|(path, bytes)| Found { path, bytes }).collect();
        prove(&found, &STOCK.shelf, scope)
    }

    /// `kit.json` as a tree.
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.0["kit.json"]).unwrap()
    }

    pub(crate) fn put_json(&mut self, json: &Value) {
        self.0.insert("kit.json".to_owned(), serde_json::to_vec_pretty(json).unwrap());
    }

    /// Paths of the DXF files.
    pub(crate) fn dxfs(&self) -> Vec<String> {
        self.0.keys().filter(|path| path.ends_with(".dxf")).cloned().collect()
    }
}

#[test]
fn the_samples_are_proved_without_a_word() {
    for files in &*SAMPLES {
        for scope in [Scope::Folder, Scope::Written] {
            let proof = files.prove_as(scope);
            assert!(proof.holds() && proof.notes.is_empty(), "{:#?}", proof.notes);
        }
    }
}

#[test]
fn what_is_read_back_is_the_kit() {
    for files in &*SAMPLES {
        let (json, read) = (files.json(), files.prove().read.expect("a kit"));
        assert_eq!(json["kit"], read.kit.number);
        let parts = json["parts"].as_array().unwrap();
        assert_eq!(parts.len(), read.kit.parts.len());
        for ((row, part), blank) in parts.iter().zip(&read.kit.parts).zip(&read.blanks) {
            let count = |key: &str| row[key].as_array().unwrap().len();
            assert_eq!(count("faces"), part.faces.len());
            assert_eq!(count("bends"), part.bends.len());
            let holes: usize = part.faces.iter().map(|face| face.holes.len()).sum();
            assert_eq!(count("holes") + count("cutouts"), holes);
            let area = row["blank"]["area_mm2"].as_f64().unwrap();
            assert!((blank.area - area).abs() < 1e-3, "{}", part.number);
        }
    }
}

/// A part of a folder is not a kit: what could not be proved is named.
#[test]
fn a_folder_without_laser_files_is_not_proved() {
    let mut files = SAMPLES[0].clone();
    let mut json = files.json();
    let first = files.dxfs()[0].clone();
    json["files"].as_array_mut().unwrap().retain(|file| *file != first);
    files.put_json(&json);
    files.0.remove(&first);
    let proof = files.prove();
    let told: Vec<_> = proof.notes.all().iter().map(|f| (f.check, f.message.as_str())).collect();
    assert_eq!(told.len(), 1, "{told:#?}");
    assert_eq!(told[0].0, "proof.unproved");
    assert!(told[0].1.contains(first.trim_start_matches("parts/").trim_end_matches(".dxf")));
    // A run that was asked for fewer files proves those.
    assert!(files.prove_as(Scope::Written).notes.is_empty());
}

/// Whatever is cut off or put in, there are findings, never a panic.
#[test]
fn broken_files_are_told() {
    let sample = &SAMPLES[SAMPLES.len() - 1];
    let dxf = sample.dxfs()[0].clone();
    for path in ["kit.json", "parts.csv", dxf.as_str()] {
        let whole = &sample.0[path];
        for share in [0, 1, 13, 57, 99] {
            let mut files = sample.clone();
            let cut = whole.len() * share / 100;
            files.0.insert(path.to_owned(), whole[..cut].to_vec());
            assert!(!files.prove().holds(), "{path} cut at {share} percent");
        }
    }
}
