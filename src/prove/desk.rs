//! Where the faults of one file are told.

use super::codes::ProofCheck;
use crate::note::{Finding, Notes};
use crate::units;

/// The findings, and the file that is looked at.
pub(super) struct Desk<'a> {
    /// Where findings go.
    pub(super) notes: &'a mut Notes,
    /// Path of the file inside the kit's folder.
    pub(super) file: String,
}

impl<'a> Desk<'a> {
    /// A desk for one file.
    pub(super) fn new(notes: &'a mut Notes, file: impl Into<String>) -> Self {
        Self { notes, file: file.into() }
    }

    /// Tells a fault in words.
    pub(super) fn tell(&mut self, check: &ProofCheck, message: impl AsRef<str>) {
        let finding = self.finding(check, message.as_ref());
        self.notes.add(finding);
    }

    /// Tells a fault with the value found and the one expected.
    pub(super) fn off(
        &mut self,
        check: &ProofCheck,
        message: impl AsRef<str>,
        (found, expected): (f64, f64),
        unit: &'static str,
    ) {
        let finding = self.finding(check, message.as_ref()).measured(found, expected, unit);
        self.notes.add(finding);
    }

    /// Tells a fault when a value differs from the one expected by more than the tolerance.
    pub(super) fn hold(
        &mut self,
        check: &ProofCheck,
        what: &str,
        (found, expected): (f64, f64),
        tolerance: f64,
    ) {
        if beyond((found - expected).abs(), tolerance) {
            let [found_text, expected_text] = [found, expected].map(exact);
            let message = format!("{what} is {found_text}, from the cut it is {expected_text}");
            self.off(check, message, (found, expected), "");
        }
    }

    fn finding(&self, check: &ProofCheck, message: &str) -> Finding {
        Finding::error(check.id, format!("{}: {message}", self.file))
            .about(self.file.clone())
            .source("the kit's own files")
            .help(check.remedy)
    }
}

/// Whether a value is over a limit; what is no number is over every limit.
pub(super) fn beyond(value: f64, limit: f64) -> bool {
    value.is_nan() || limit < value
}

/// A number for a message, fine enough to show a difference.
pub(super) fn exact(value: f64) -> String {
    units::number(value, 6)
}

/// A length for a message.
pub(super) fn mm(value: f64) -> String {
    units::number(value, 4)
}
