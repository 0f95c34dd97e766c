//! Which number each part of the template has.

use std::collections::BTreeMap;

/// The numbers of an earlier revision's parts: what was there keeps its number, what is new takes
/// the next free one. Without an earlier revision parts are counted in the order of the template.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Numbers {
    known: BTreeMap<String, usize>,
    last: usize,
}

impl Numbers {
    /// The numbers after those of an earlier revision; one that was used is never used again.
    pub fn after(known: BTreeMap<String, usize>) -> Self {
        let last = known.values().copied().max().unwrap_or(0);
        Self { known, last }
    }

    /// The number of the next part of that name in the template.
    pub fn next(&mut self, name: &str) -> usize {
        if let Some(number) = self.known.get(name) {
            return *number;
        }
        self.last += 1;
        self.last
    }
}
