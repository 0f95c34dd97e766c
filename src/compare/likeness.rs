//! Which part became which: by name, then by likeness where a part was named anew.

use super::opening::same_path;
use crate::reading::{PartRow, path};

/// A part of either revision, or of both.
pub(super) type Pair<'a> = (Option<&'a PartRow>, Option<&'a PartRow>);

/// Sizes of two blanks that may be one part differ by no more than this share.
const ALIKE: f64 = 0.2;

/// The newer parts in their order with what they were, then the older ones that are gone.
pub(super) fn pairs<'a>(old: &'a [PartRow], new: &'a [PartRow]) -> Vec<Pair<'a>> {
    let mut left: Vec<&PartRow> = old.iter().collect();
    let mut was: Vec<Option<&PartRow>> = vec![None; new.len()];
    let rules: [fn(&PartRow, &PartRow) -> bool; 4] =
        [|a, b| a.name == b.name, same_blank, |a, b| a.hand == b.hand && a.title == b.title, alike];
    for rule in rules {
        for (was, part) in was.iter_mut().zip(new).filter(|(was, _)| was.is_none()) {
            *was = left.iter().position(|other| rule(other, part)).map(|index| left.remove(index));
        }
    }
    let there = was.into_iter().zip(new).map(|(was, part)| (was, Some(part)));
    there.chain(left.into_iter().map(|part| (Some(part), None))).collect()
}

fn same_blank(a: &PartRow, b: &PartRow) -> bool {
    a.hand == b.hand
        && a.material_id == b.material_id
        && a.thickness == b.thickness
        && a.bends.len() == b.bends.len()
        && same_path(&path(&a.blank.outer), &path(&b.blank.outer))
}

/// Of the same hand and sheet, with faces of the same names, and blanks of about one size.
fn alike(a: &PartRow, b: &PartRow) -> bool {
    let faces = a.faces.len() == b.faces.len()
        && a.faces.iter().all(|face| b.faces.iter().any(|other| other.name == face.name));
    let near = |a: f64, b: f64| (a - b).abs() <= ALIKE * a.max(b);
    a.hand == b.hand
        && a.material_id == b.material_id
        && a.thickness == b.thickness
        && faces
        && near(a.blank.width, b.blank.width)
        && near(a.blank.height, b.blank.height)
}
