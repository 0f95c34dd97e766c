//! Kits to prove: the samples as they are written, kept as bytes that a test may change.

#![allow(clippy::disallowed_methods, reason = "the samples are files")]

use std::collections::BTreeMap;
use std::fs;
use std::sync::LazyLock;

use blankwright::pipeline::{FileKind, Only, Source, Want, build};
use blankwright::prove::{Found, Proof, Scope, prove};
use serde_json::Value;

use crate::law_stock::{STOCK, beside};
use crate::prove_edit::Pairs;

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

/// Two laser files in each other's place: each is told once, with whose blank it holds.
#[test]
fn swapped_laser_files_are_told_as_swapped() {
    let mut files = SAMPLES.iter().find(|files| files.json()["kit"] == "OSK-0101").unwrap().clone();
    let [left, right] = ["01L", "01R"].map(|hand| format!("parts/OSK-0101-{hand}.dxf"));
    let (was_left, was_right) = (files.0[&left].clone(), files.0[&right].clone());
    files.0.insert(left.clone(), was_right);
    files.0.insert(right.clone(), was_left);
    let proof = files.prove();
    let told: Vec<&str> = proof.notes.all().iter().map(|f| f.message.as_str()).collect();
    assert!(!proof.holds());
    let says = |file: &str, other: &str| {
        format!("{file}: holds the blank of OSK-0101-{other}: files were swapped")
    };
    assert_eq!(told, [says(&left, "01R"), says(&right, "01L")]);
}

/// One kind of fault in one file is told a few times, then counted.
#[test]
fn many_faults_of_one_kind_are_counted() {
    let mut files = SAMPLES.iter().find(|files| files.json()["kit"] == "OSK-0101").unwrap().clone();
    let path = "parts/OSK-0101-01L.dxf".to_owned();
    let mut pairs = Pairs::of(&files.0[&path]);
    let holes = pairs.entities("CUT_INSIDE");
    let round: Vec<_> = holes.into_iter().filter(|span| pairs.kind(span) == "CIRCLE").collect();
    for circle in &round {
        let at = pairs.groups(circle, 40)[0];
        pairs.add(at, 0.2);
    }
    files.0.insert(path.clone(), pairs.bytes());
    let proof = files.prove();
    let own = proof.notes.all().iter().filter(|f| f.check == "proof.contour" && f.subject == path);
    let own: Vec<&str> = own.map(|f| f.message.as_str()).collect();
    assert_eq!(own.len(), 9, "{own:#?}");
    assert!(
        own[8].ends_with(&format!("and {} more of proof.contour", round.len() - 8)),
        "{}",
        own[8]
    );
}

/// What another program that opened and saved the file leaves in its header cuts nothing.
#[test]
fn a_headers_extents_cut_nothing() {
    let sample = &SAMPLES[0];
    let path = sample.dxfs()[0].clone();
    for (value, notes) in [("1e20", 0), ("1234.5", 1)] {
        let mut files = sample.clone();
        let text = String::from_utf8(files.0[&path].clone()).unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        let at = lines.iter().position(|line| line.trim() == "$EXTMIN").unwrap();
        lines[at + 2] = value;
        files.0.insert(path.clone(), (lines.join("\n") + "\n").into_bytes());
        let proof = files.prove();
        assert!(proof.holds(), "{:#?}", proof.notes);
        assert_eq!(proof.notes.len(), notes);
    }
}
