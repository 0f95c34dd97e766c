//! Under which revision each part is drawn, and the lines of its revision table.

use super::{Amended, Kit, Revision};

/// A part's own revision: it stays behind the kit's where the part did not change.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Issue {
    /// Letter or number; empty for the kit's.
    pub revision: String,
    /// Date of issue, ISO 8601; empty for the kit's.
    pub date: String,
    /// The revisions so far, oldest first.
    pub rows: Vec<Revision>,
}

impl Kit {
    /// Gives every part the kit's revision and its lines, and to those that were amended a line for
    /// each amendment; the kit's own table gets one for each amendment with the parts it is about.
    pub fn issue(&mut self) {
        for (index, part) in self.parts.iter_mut().enumerate() {
            let mut rows = self.revisions.clone();
            let own = self.amended.iter().filter(|it| it.part == index);
            for it in first_of_each(own) {
                let row = (it.revision.clone(), it.sentence());
                add(&mut rows, row, (&self.revision, &self.date));
            }
            let (revision, date) = (self.revision.clone(), self.date.clone());
            part.issue = Issue { revision, date, rows };
        }
        for first in first_of_each(self.amended.iter()) {
            let of = self.amended.iter().filter(|it| it.order == first.order);
            let mut numbers: Vec<&str> =
                of.map(|it| self.short(&self.parts[it.part].number)).collect();
            numbers.dedup();
            let text = format!("{}: {}", numbers.join(", "), first.sentence());
            let row = (first.revision.clone(), text);
            add(&mut self.revisions, row, (&self.revision, &self.date));
        }
    }
}

/// The first of what each amendment did.
fn first_of_each<'a>(amended: impl Iterator<Item = &'a Amended>) -> Vec<&'a Amended> {
    let mut firsts: Vec<&Amended> = Vec::new();
    for it in amended {
        if firsts.iter().all(|other| other.order != it.order) {
            firsts.push(it);
        }
    }
    firsts
}

/// Adds a line behind those of its revision, or at the end; its date is theirs.
fn add(rows: &mut Vec<Revision>, (index, text): (String, String), (newest, today): (&str, &str)) {
    let last = rows.iter().rposition(|row| row.index == index);
    let date = match last {
        Some(last) => rows[last].date.clone(),
        None if index == newest => today.to_owned(),
        None => String::new(),
    };
    let at = last.map_or(rows.len(), |last| last + 1);
    rows.insert(at, Revision { index, date, text });
}
