//! What was found on this kit, and every check with its limit and source.

use crate::check::{RULES, Rule};
use crate::draw::{Block, Column, column, figures, sentences};
use crate::note::{Finding, Severity};

/// The findings, then the checks. `findings` are those of the whole kit.
pub(super) fn blocks(findings: &[Finding]) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !findings.is_empty() {
        let rows = findings.iter().map(finding_row).collect();
        blocks.push(Block::Table("Findings", finding_columns(), rows));
    }
    let rules = RULES.iter().map(|rule| rule_row(rule, findings)).collect();
    blocks.push(Block::Table("Checks", rule_columns(), rules));
    blocks
}

fn rule_columns() -> Vec<Column> {
    vec![
        column("Check", 26.0),
        sentences("Asks that", 126.0),
        sentences("Limit", 84.0),
        sentences("Source of the limit", 92.0),
        sentences("Found", 48.0),
    ]
}

fn rule_row(rule: &Rule, findings: &[Finding]) -> Vec<String> {
    let Rule { id, asks, limit, source, .. } = *rule;
    let own: Vec<&Finding> = findings.iter().filter(|finding| finding.check == id).collect();
    [id, asks, limit, source].map(String::from).into_iter().chain([found(&own)]).collect()
}

/// `nothing`, or how many of each severity: `1 warning, accepted; 2 notes`.
fn found(findings: &[&Finding]) -> String {
    let counted = [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
        let own: Vec<&&Finding> = findings.iter().filter(|f| f.severity == severity).collect();
        let accepted = own.iter().filter(|f| f.accepted.is_some()).count();
        let plural = if own.len() == 1 { "" } else { "s" };
        let words = match (own.len(), accepted) {
            (0, _) => return None,
            (_, 0) => String::new(),
            (all, some) if all == some => ", accepted".to_string(),
            (_, some) => format!(", {some} accepted"),
        };
        Some(format!("{} {}{plural}{words}", own.len(), severity.word()))
    });
    let told: Vec<String> = counted.into_iter().flatten().collect();
    if told.is_empty() { "nothing".to_string() } else { told.join("; ") }
}

fn finding_columns() -> Vec<Column> {
    vec![
        column("Gravity", 18.0),
        column("Check", 26.0),
        column("About", 34.0),
        sentences("Finding", 134.0),
        figures("Found", 24.0),
        figures("Limit", 24.0),
        sentences("Accepted because, or what to do", 116.0),
    ]
}

fn finding_row(finding: &Finding) -> Vec<String> {
    let measured = |value: fn(&crate::note::Measure) -> f64| {
        finding.measure.as_ref().map_or(String::new(), |measure| {
            format!("{:.2} {}", value(measure), measure.unit).trim_end().to_string()
        })
    };
    vec![
        finding.severity.word().to_string(),
        finding.check.to_string(),
        finding.subject.clone(),
        finding.message.clone(),
        measured(|measure| measure.found),
        measured(|measure| measure.limit),
        finding.accepted.as_ref().map_or(finding.help.clone(), |why| format!("Accepted: {why}")),
    ]
}
