//! Findings: what the program has to say about the user's input. Passes collect them; one module
//! of the shell shows them.

mod finding;
mod notes;

pub use finding::{Finding, Measure, Place, Severity};
pub use notes::Notes;
