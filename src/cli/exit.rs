//! How the program ends, and troubles with the world outside.

use std::process::ExitCode;

use crate::note::{Finding, Notes, Severity};

/// The exit status; the greater is the worse, and the worst of several kits counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// 0: all is done.
    Done,
    /// 1: a kit has errors of the checks, and nothing of it is released.
    Refused,
    /// 2: something the user gave cannot be used.
    Unusable,
    /// 3: something could not be read or written.
    World,
}

impl Exit {
    /// The number handed to the system.
    pub fn code(self) -> ExitCode {
        ExitCode::from(self as u8)
    }

    /// What findings amount to: an error with a place in a text is about what was typed there; one
    /// without is about the kit that came of it.
    pub fn of(notes: &Notes) -> Self {
        let errors = notes.all().iter().filter(|f| f.severity == Severity::Error);
        let exits = errors.map(|f| if f.place.is_some() { Exit::Unusable } else { Exit::Refused });
        exits.max().unwrap_or(Exit::Done)
    }
}

/// Something that went wrong outside the user's texts: with a file, a folder, or an argument.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Trouble {
    /// What it does to the exit status.
    pub exit: Exit,
    /// What is said about it; the subject is the path.
    pub finding: Box<Finding>,
}

impl Trouble {
    /// A path that cannot be read or written.
    pub(crate) fn world(check: &'static str, message: impl Into<String>) -> Self {
        Self { exit: Exit::World, finding: Box::new(Finding::error(check, message)) }
    }

    /// A path or an argument that cannot be used.
    pub(crate) fn unusable(check: &'static str, message: impl Into<String>) -> Self {
        Self { exit: Exit::Unusable, finding: Box::new(Finding::error(check, message)) }
    }

    /// Something that is not done although it could be.
    pub(crate) fn refused(check: &'static str, message: impl Into<String>) -> Self {
        Self { exit: Exit::Refused, finding: Box::new(Finding::error(check, message)) }
    }

    /// The same trouble with a way out.
    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.finding.help = help.into();
        self
    }
}
