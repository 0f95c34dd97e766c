//! What a later revision takes over from an earlier one: numbers, and each part's own revisions.

use super::kit_file::{KitRow, RevisionRow};
use crate::kit::{Issue, Revision};

impl KitRow {
    /// The kit's number.
    pub fn number(&self) -> &str {
        &self.kit
    }

    /// Each part's name without its hand, and its number.
    pub fn part_numbers(&self) -> impl Iterator<Item = (&str, &str)> {
        self.parts.iter().map(|part| {
            let hand = part.hand.as_ref().and_then(|hand| {
                part.name.strip_suffix(hand.as_str()).and_then(|name| name.strip_suffix('-'))
            });
            (hand.unwrap_or(&part.name), part.number.as_str())
        })
    }

    /// The kit's revision table as it was issued.
    pub fn history(&self) -> Vec<Revision> {
        self.revisions.iter().map(revision).collect()
    }

    /// Under which revision a part was issued; the kit's where the part has none of its own.
    pub fn issue(&self, number: &str) -> Option<Issue> {
        let part = self.parts.iter().find(|part| part.number == number)?;
        if part.revision.is_empty() {
            return Some(Issue {
                revision: self.revision.clone(),
                date: self.date.clone(),
                rows: self.history(),
            });
        }
        Some(Issue {
            revision: part.revision.clone(),
            date: part.issued.clone(),
            rows: part.revisions.iter().map(revision).collect(),
        })
    }
}

fn revision(row: &RevisionRow) -> Revision {
    Revision { index: row.index.clone(), date: row.date.clone(), text: row.text.clone() }
}
