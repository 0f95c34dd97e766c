//! Findings for machines: what `--format json` prints.

use serde::Serialize;

use super::json::{self, Number, finite};
use crate::note::Finding;

/// A finding with its place as people count it.
#[derive(Debug, Clone, Copy)]
pub struct Placed<'a> {
    /// What was found.
    pub finding: &'a Finding,
    /// The file it is about.
    pub file: &'a str,
    /// Line and column in characters, from 1; none when it is about no line.
    pub at: Option<(usize, usize)>,
}

#[derive(Serialize)]
struct Row<'a> {
    check: &'a str,
    severity: &'static str,
    file: &'a str,
    line: Option<usize>,
    column: Option<usize>,
    subject: &'a str,
    found: Option<Number>,
    limit: Option<Number>,
    unit: &'static str,
    source: &'a str,
    message: &'a str,
    help: &'a str,
    accepted: Option<&'a str>,
}

/// The findings as one JSON array.
pub fn findings_json(findings: &[Placed]) -> Vec<u8> {
    json::to_bytes(&findings.iter().map(row).collect::<Vec<_>>())
}

fn row<'a>(placed: &Placed<'a>) -> Row<'a> {
    let finding = placed.finding;
    Row {
        check: finding.check,
        severity: finding.severity.word(),
        file: placed.file,
        line: placed.at.map(|(line, _)| line),
        column: placed.at.map(|(_, column)| column),
        subject: &finding.subject,
        found: finding.measure.and_then(|m| finite(m.found)),
        limit: finding.measure.and_then(|m| finite(m.limit)),
        unit: finding.measure.map_or("", |m| m.unit),
        source: &finding.source,
        message: &finding.message,
        help: &finding.help,
        accepted: finding.accepted.as_deref(),
    }
}
