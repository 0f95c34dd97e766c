//! A resolved or derived value.

/// A value as `kit.json` and the drawings show it.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number: mm, degrees or a plain count.
    Number(f64),
    /// A word or sentence.
    Text(String),
    /// Yes or no.
    Flag(bool),
}
