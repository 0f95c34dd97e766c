//! One remark about the user's input, as data.

use std::ops::Range;
use std::sync::Arc;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The kit is refused.
    Error,
    /// Released, and printed on the drawing set when accepted.
    Warning,
    /// Good to know.
    Note,
}

impl Severity {
    /// The word used in reports and in `kit.json`.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// Where in a text a finding stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// The file's name as the user gave it.
    pub file: Arc<str>,
    /// Bytes in that file.
    pub span: Range<usize>,
}

/// What was found against what is allowed, with the unit of both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// The value found.
    pub found: f64,
    /// The limit it is held against.
    pub limit: f64,
    /// "mm", "deg", "kg", "N" or "".
    pub unit: &'static str,
}

/// One remark: a stable code, the place or the subject, the numbers, and a way out.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Stable name of the check or of the reading rule; never reused or renamed.
    pub check: &'static str,
    /// How grave it is.
    pub severity: Severity,
    /// What is wrong, in one sentence with the numbers.
    pub message: String,
    /// The part, joint or key spoken of; empty when the place says it.
    pub subject: String,
    /// Where in the user's text it stands, when it does.
    pub place: Option<Place>,
    /// What was measured, for checks of geometry.
    pub measure: Option<Measure>,
    /// Where the limit comes from: a standard, a handbook, the shop file, common practice.
    pub source: String,
    /// The way out; empty when there is none to offer.
    pub help: String,
    /// The reason given in the spec for accepting this warning.
    pub accepted: Option<String>,
}

impl Finding {
    /// An error with a message; add the rest with the `with_` methods.
    pub fn error(check: &'static str, message: impl Into<String>) -> Self {
        Self::new(check, Severity::Error, message)
    }

    /// A warning with a message.
    pub fn warning(check: &'static str, message: impl Into<String>) -> Self {
        Self::new(check, Severity::Warning, message)
    }

    /// A note with a message.
    pub fn note(check: &'static str, message: impl Into<String>) -> Self {
        Self::new(check, Severity::Note, message)
    }

    fn new(check: &'static str, severity: Severity, message: impl Into<String>) -> Self {
        Self {
            check,
            severity,
            message: message.into(),
            subject: String::new(),
            place: None,
            measure: None,
            source: String::new(),
            help: String::new(),
            accepted: None,
        }
    }

    /// The same finding about a named part, joint or key.
    pub fn about(mut self, subject: impl Into<String>) -> Self {
        self.subject = subject.into();
        self
    }

    /// The same finding with its place in the user's text.
    pub fn at(mut self, place: Option<Place>) -> Self {
        self.place = place;
        self
    }

    /// The same finding with what was found and what is allowed.
    pub fn measured(mut self, found: f64, limit: f64, unit: &'static str) -> Self {
        self.measure = Some(Measure { found, limit, unit });
        self
    }

    /// The same finding with the source of its limit.
    pub fn source(mut self, source: impl Into<String>) -> Self {
        self.source = source.into();
        self
    }

    /// The same finding with a way out.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }
}
