//! Findings to be kept and findings that were kept: what is said of a variant is said in every run,
//! also where nothing is worked out again.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use super::run::Job;
use crate::note::{Finding, Measure, Notes, Place, Severity};
use crate::release::{Said, SaidPlace};
use crate::spec::{Locus, Variant};

/// The errors and warnings among findings, in their order; notes stand in `kit.json` alone.
pub(super) fn said(job: &Job, variant: &Variant, notes: &Notes) -> Vec<Said> {
    let meant = notes.all().iter().filter(|finding| finding.severity != Severity::Note);
    let row = |finding: &Finding| Said {
        severity: finding.severity.word().to_owned(),
        check: finding.check.to_owned(),
        subject: finding.subject.clone(),
        message: finding.message.clone(),
        measure: finding.measure.map(|measure| {
            [measure.found.to_string(), measure.limit.to_string(), measure.unit.to_owned()]
        }),
        source: finding.source.clone(),
        help: finding.help.clone(),
        accepted: finding.accepted.clone(),
        place: finding.place.as_ref().map(|place| kept_place(job, variant, place)),
    };
    meant.map(row).collect()
}

/// Findings as they were kept, with the places that they have now.
pub(super) fn recalled(job: &Job, variant: &Variant, said: &[Said]) -> Notes {
    let mut notes = Notes::default();
    for row in said {
        let severity = if row.severity == "error" { Severity::Error } else { Severity::Warning };
        notes.add(Finding {
            check: lasting(&row.check),
            severity,
            message: row.message.clone(),
            subject: row.subject.clone(),
            place: row.place.as_ref().map(|place| place_now(job, variant, place)),
            measure: row.measure.as_ref().and_then(measure),
            source: row.source.clone(),
            help: row.help.clone(),
            accepted: row.accepted.clone(),
        });
    }
    notes
}

fn measure([found, limit, unit]: &[String; 3]) -> Option<Measure> {
    let (found, limit) = (found.parse().ok()?, limit.parse().ok()?);
    Some(Measure { found, limit, unit: lasting(unit) })
}

fn kept_place(job: &Job, variant: &Variant, place: &Place) -> SaidPlace {
    if *place.file != *job.source.name {
        let span = Some([place.span.start, place.span.end]);
        let file = bare(&place.file).to_owned();
        return SaidPlace { file, path: String::new(), key: false, span };
    }
    let locus = variant.locus(&place.span);
    let locus = locus.unwrap_or(Locus { path: String::new(), key: false, part: Some([0, 0]) });
    SaidPlace { file: String::new(), path: locus.path, key: locus.key, span: locus.part }
}

fn place_now(job: &Job, variant: &Variant, place: &SaidPlace) -> Place {
    if place.file.is_empty() {
        let locus = Locus { path: place.path.clone(), key: place.key, part: place.span };
        let span = variant.span(&locus).unwrap_or(0..0);
        return Place { file: Arc::from(job.source.name.as_str()), span };
    }
    let mut texts = job.data.texts();
    let text = texts.find(|text| bare(&text.name) == place.file);
    let file = text.map_or(place.file.as_str(), |text| text.name.as_str());
    let [start, end] = place.span.unwrap_or_default();
    Place { file: Arc::from(file), span: start..end }
}

/// A file's name without its folders.
fn bare(file: &str) -> &str {
    Path::new(file).file_name().and_then(|name| name.to_str()).unwrap_or(file)
}

/// The same text for as long as the program runs: names of checks and units are few, and each is
/// kept once.
fn lasting(text: &str) -> &'static str {
    static KNOWN: Mutex<BTreeSet<&'static str>> = Mutex::new(BTreeSet::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    known.get(text).copied().unwrap_or_else(|| {
        let kept: &'static str = Box::leak(text.to_owned().into_boxed_str());
        known.insert(kept);
        kept
    })
}
