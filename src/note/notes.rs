//! The collection every pass writes its findings into.

use super::{Finding, Severity};

/// Findings of one kit in the order in which the passes made them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Notes {
    findings: Vec<Finding>,
}

impl Notes {
    /// Adds one finding; what is told already is not told again.
    pub fn add(&mut self, finding: Finding) {
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }

    /// Whether anything forbids going on.
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Error)
    }

    /// How many findings there are.
    pub fn len(&self) -> usize {
        self.findings.len()
    }

    /// Whether there is nothing to say.
    pub fn is_empty(&self) -> bool {
        self.findings.is_empty()
    }

    /// All findings in the order they were made.
    pub fn all(&self) -> &[Finding] {
        &self.findings
    }

    /// All findings, to mark accepted ones.
    pub fn all_mut(&mut self) -> &mut [Finding] {
        &mut self.findings
    }

    /// Findings sorted for showing: by file and place, then errors first.
    pub fn sorted(&self) -> Vec<&Finding> {
        let mut sorted: Vec<&Finding> = self.findings.iter().collect();
        sorted.sort_by(|a, b| key(a).cmp(&key(b)));
        sorted
    }
}

/// Findings with a place come first, in the order of the text.
fn key(finding: &Finding) -> (bool, &str, usize, Severity) {
    match &finding.place {
        Some(place) => (false, &place.file, place.span.start, finding.severity),
        None => (true, "", 0, finding.severity),
    }
}
