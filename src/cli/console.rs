//! Where the program speaks: results to one stream, findings and progress to the other.

use std::env;
use std::io::{self, IsTerminal, Write};

/// The two streams and what the second can show.
pub struct Console {
    /// Results.
    pub out: Box<dyn Write>,
    /// Findings and progress.
    pub err: Box<dyn Write>,
    /// Whether findings are coloured.
    pub colour: bool,
}

impl Console {
    /// The process's own streams; colours on a terminal that takes them, unless NO_COLOR is set.
    pub fn of_process() -> Self {
        let refused = env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let dumb = env::var_os("TERM").is_some_and(|value| value == "dumb");
        let colour = io::stderr().is_terminal() && !refused && !dumb;
        Self { out: Box::new(io::stdout()), err: Box::new(io::stderr()), colour }
    }

    /// Prints a result. A reader that has gone away is no trouble of ours.
    pub fn say(&mut self, text: &str) {
        let _ = self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush());
    }

    /// Prints a finding or a word on progress.
    pub fn tell(&mut self, text: &str) {
        let _ = self.err.write_all(text.as_bytes()).and_then(|()| self.err.flush());
    }
}
