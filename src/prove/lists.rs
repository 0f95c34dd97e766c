//! The lists for stores and purchasing against `kit.json`.

use std::collections::BTreeMap;

use super::Found;
use super::agree::Bench;
use super::codes::{LIST, READ};
use super::desk::{Desk, beyond};
use crate::note::Notes;
use crate::reading::{FastenerRow, PartRow};

/// Half of the last decimal that the lists show, with room for rounding.
const SHOWN: f64 = 5.1e-4;

/// A row of a list by the names of its columns.
type Row = BTreeMap<String, String>;

/// Compares both lists, where they are there.
pub(super) fn compare(bench: &Bench, notes: &mut Notes) {
    let parts: Vec<Meant> = bench.kit.parts.iter().map(part).collect();
    hold((bench.file("parts.csv"), "parts.csv"), ("number", &parts), notes);
    let fasteners: Vec<Meant> =
        bench.kit.fasteners.iter().map(|row| fastener(bench, row)).collect();
    hold((bench.file("fasteners.csv"), "fasteners.csv"), ("id", &fasteners), notes);
}

/// What a row is meant to say.
pub(super) struct Meant {
    /// What stands in the column that names rows.
    pub(super) name: String,
    /// Other columns with their texts.
    pub(super) texts: Vec<(&'static str, String)>,
    /// Columns with their numbers.
    pub(super) numbers: Vec<(&'static str, f64)>,
}

fn part(row: &PartRow) -> Meant {
    let count = |n: usize| n as f64;
    Meant {
        name: row.number.clone(),
        texts: vec![
            ("revision", row.revision.clone()),
            ("title", row.title.clone()),
            ("material", row.material.clone()),
            ("gauge", row.gauge.clone()),
            ("file", row.dxf()),
        ],
        numbers: vec![
            ("quantity", count(row.quantity)),
            ("thickness_mm", row.thickness),
            ("blank_width_mm", row.blank.width),
            ("blank_height_mm", row.blank.height),
            ("mass_kg", row.mass_kg),
            ("bends", count(row.bends.len())),
            ("holes", count(row.blank.inner.len())),
            ("cut_length_mm", row.blank.cut_length_mm),
            ("pierces", count(row.blank.pierces)),
        ],
    }
}

fn fastener(bench: &Bench, row: &FastenerRow) -> Meant {
    let joints = bench.kit.joints.iter().filter(|joint| joint.fastener == row.id);
    let mut used: Vec<String> = joints.map(|j| format!("{} {}", j.id, j.name)).collect();
    let mut others: Vec<&str> = bench
        .kit
        .ordered()
        .filter(|(_, bolt)| bolt.fastener == row.id)
        .map(|(kit, _)| kit)
        .collect();
    others.dedup();
    used.extend(others.iter().map(|kit| format!("this kit to {kit}")));
    Meant {
        name: row.id.clone(),
        texts: vec![("title", row.title.clone()), ("used_in", used.join("; "))],
        numbers: vec![
            ("count", row.count as f64),
            ("spare", row.spare as f64),
            ("total", (row.count + row.spare) as f64),
            ("hole_mm", row.hole),
            ("grip_from_mm", row.grip[0]),
            ("grip_to_mm", row.grip[1]),
        ],
    }
}

/// Compares one list row by row.
pub(super) fn hold(
    (found, file): (Option<&Found>, &str),
    (key, meant): (&str, &[Meant]),
    notes: &mut Notes,
) {
    let Some(found) = found else { return };
    let mut desk = Desk::new(notes, file);
    let rows = match rows(found.bytes) {
        Ok(rows) => rows,
        Err(why) => return desk.tell(&READ, why),
    };
    let name = |row: &Row| row.get(key).cloned().unwrap_or_default();
    if rows.len() != meant.len() {
        let words = format!("has {} rows, {} are meant", rows.len(), meant.len());
        desk.off(&LIST, words, (rows.len() as f64, meant.len() as f64), "");
    }
    for (row, meant) in rows.iter().zip(meant) {
        if !same_text(&name(row), &meant.name) {
            desk.tell(&LIST, format!("lists `{}` where `{}` is meant", name(row), meant.name));
            continue;
        }
        for (column, meant_text) in &meant.texts {
            let found = row.get(*column).map_or("", String::as_str);
            if !same_text(found, meant_text) {
                let words =
                    format!("{}: {column} is `{found}`, `{meant_text}` is meant", meant.name);
                desk.tell(&LIST, words);
            }
        }
        for (column, expected) in &meant.numbers {
            let found = row.get(*column).and_then(|text| text.parse().ok()).unwrap_or(f64::NAN);
            if beyond((found - expected).abs(), SHOWN) {
                let words = format!("{}: {column} is not that of the kit", meant.name);
                desk.off(&LIST, words, (found, *expected), "");
            }
        }
    }
}

fn rows(bytes: &[u8]) -> Result<Vec<Row>, String> {
    let mut reader = csv::Reader::from_reader(bytes);
    let told = |error: csv::Error| format!("does not read: {error}");
    let head = reader.headers().map_err(told)?.clone();
    let row = |record: Result<csv::StringRecord, csv::Error>| {
        let record = record.map_err(told)?;
        Ok(head.iter().zip(&record).map(|(k, v)| (k.to_owned(), v.to_owned())).collect())
    };
    reader.records().map(row).collect()
}

/// Whether a cell says a text: one that looks like a formula has an apostrophe before it, and
/// control characters are spaces there.
fn same_text(cell: &str, meant: &str) -> bool {
    let plain: String = meant.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    cell == plain || cell.strip_prefix('\'') == Some(plain.as_str())
}
