//! Amendments carried out: notches before the faces are built, holes after the joints have made
//! theirs, so that folding, checks, drawings and proof see the part as it will be.

mod holes;
mod notch;
mod words;

use super::{Draft, Part};
use crate::geom::{FaceFrame, Point};
use crate::note::{Finding, Notes};
use crate::resolve::Resolved;
use crate::spec::{Amendment, Amendments};
use crate::template::Template;

pub use holes::amend_holes;
pub(super) use notch::cut_notches;

/// What an amendment did to one part.
#[derive(Debug, Clone, PartialEq)]
pub struct Amended {
    /// Its place in the spec, counted from 0.
    pub order: usize,
    /// Index of the part.
    pub part: usize,
    /// Index of the face.
    pub face: usize,
    /// Middle of what was changed, in the face's frame.
    pub at: Point<FaceFrame>,
    /// From there to its border, mm: where a leader may end.
    pub reach: f64,
    /// What was done, in words.
    pub text: String,
    /// Why.
    pub reason: String,
    /// The revision that introduced it.
    pub revision: String,
}

impl Amended {
    /// What was done and why, for a revision table.
    pub fn sentence(&self) -> String {
        format!("{} ({})", self.text, self.reason)
    }
}

/// One amendment with its place in the spec.
pub(super) type Numbered<'a> = (usize, &'a Amendment);

/// The notches among the amendments of the part with that name.
pub(super) fn notches_of<'a>(amendments: &'a Amendments, name: &str) -> Vec<Numbered<'a>> {
    let all = amendments.list.iter().enumerate();
    all.filter(|(_, it)| it.is_notch() && it.names(name)).collect()
}

/// Tells amendments of parts that are not there, and of revisions that nobody knows.
pub(super) fn look_over(
    resolved: &Resolved,
    template: &Template,
    draft: &Draft,
    notes: &mut Notes,
) {
    let amendments = &resolved.amendments;
    let mut known: Vec<&str> = template.parts.iter().map(|it| it.name.get_ref().as_str()).collect();
    let in_template = known.len();
    known.extend(draft.parts.iter().map(|part| part.name.as_str()));
    for it in &amendments.list {
        let said = it.part.value.as_str();
        if !draft.parts.iter().any(|part| it.names(&part.name)) && !said.is_empty() {
            let finding = if known[..in_template].iter().any(|name| it.names(name)) {
                Finding::error("amend.part", format!("this kit has no `{said}`"))
                    .about(said)
                    .help("the family makes it under other values: leave the amendment out")
            } else {
                let mut names = known.clone();
                names.sort_unstable();
                names.dedup();
                Amendment::unknown("amend.part", "part", said, &names)
            };
            notes.add(finding.at(amendments.place(&it.part.span)));
        }
        let revision = it.revision.value.as_str();
        if !amendments.revisions.iter().any(|known| known == revision) && !revision.is_empty() {
            let names: Vec<&str> = amendments.revisions.iter().map(String::as_str).collect();
            let finding = Amendment::unknown("amend.revision", "revision", revision, &names);
            notes.add(finding.at(amendments.place(&it.revision.span)));
        }
    }
}

/// Index of a face of a part, or a finding with the nearest name.
fn face_of(
    part: &Part,
    said: &crate::spec::Said<String>,
    amendments: &Amendments,
    notes: &mut Notes,
) -> Option<usize> {
    let found = part.faces.iter().position(|face| face.name == said.value);
    if found.is_none() {
        let names: Vec<&str> = part.faces.iter().map(|face| face.name.as_str()).collect();
        let what = format!("face of {} called", part.name);
        let finding = Amendment::unknown("amend.face", &what, &said.value, &names);
        notes.add(finding.at(amendments.place(&said.span)));
    }
    found
}
