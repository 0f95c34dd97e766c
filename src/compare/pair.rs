//! One part in two revisions.

use super::align;
use super::likeness::Pair;
use super::model::{Named, Overlay, PartChange, State};
use super::opening::{same, same_path};
use super::piece::Piece;
use super::region::{Difference, Patch, difference};
use super::shelf::{self, Laid};
use super::words::{Words, spoken};
use super::{SAME, bends, faces, holes, made, stroke};
use crate::reading::{BendRow, EtchRow, KitRow, PartRow};

/// Most patches told of one face.
const MOST_PATCHES: usize = 4;

/// What became of a part.
pub(super) fn part((old, new): (&KitRow, &KitRow), pair: Pair<'_>, words: Words) -> PartChange {
    let named = |part: Option<&PartRow>| part.map(Named::of);
    let alone = |state| PartChange {
        state,
        old: named(pair.0),
        new: named(pair.1),
        changes: Vec::new(),
        shelf: None,
        overlay: None,
    };
    match pair {
        (Some(a), Some(b)) => {
            let pieces = (Piece::of(a, old), Piece::of(b, new));
            both(&pieces.0, &pieces.1, words, alone(State::Changed))
        }
        (Some(_), None) => alone(State::Gone),
        (None, _) => alone(State::Added),
    }
}

fn both(old: &Piece<'_>, new: &Piece<'_>, words: Words, blank: PartChange) -> PartChange {
    let laid = Laid::of(old, new);
    let same = laid.same(words);
    let amended = made::amended(old, new);
    // Of a part that is made as before, the joints that its holes serve may have other names.
    let mut changes =
        if same { holes::sentences(&laid.holes, words) } else { sentences(&laid, words) };
    changes.splice(0..0, amended);
    if !same && changes.is_empty() {
        let words = "the blank differs by less than a shop can measure";
        changes.push(words.to_owned());
    }
    changes.extend(around(old.row, new.row));
    changes.extend(stroke::sentences(&laid, words));
    PartChange {
        state: if same { State::Unchanged } else { State::Changed },
        changes,
        shelf: Some(shelf::judge(&laid, words)),
        overlay: laid.drawn_otherwise().then(|| overlay(&laid)),
        ..blank
    }
}

/// What changed about the part itself.
fn sentences(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let (old, new) = (laid.old, laid.new);
    let (a, b) = (old.row, new.row);
    let mut all = made::sentences(old, new, words);
    if laid.mirrored {
        let words = "mirrored: every edge, hole and bend is that of the other hand";
        all.push(words.to_owned());
        all.extend(etched(&a.etch, &b.etch, false));
        return all;
    }
    let sizes = [a, b].map(|row| [row.blank.width, row.blank.height]);
    if (0..2).any(|i| (sizes[0][i] - sizes[1][i]).abs() > SAME) {
        all.push(format!("blank {} to {}", words.two(sizes[0]), words.two(sizes[1])));
    }
    all.extend(faces::sentences(old, new, words));
    all.extend(bends::sentences(old, new, &laid.onto, words));
    all.extend(holes::sentences(&laid.holes, words));
    all.extend(cut(laid, words));
    all.extend(etched(&a.etch, &b.etch, all.is_empty()));
    all
}

/// What was cut from the edge of a face whose size stayed, or grew on it.
fn cut(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let mut all = Vec::new();
    for face in &laid.new.row.faces {
        if !faces::same_size(laid.old, laid.new, &face.name) {
            continue;
        }
        let onto = align::face(laid.old, laid.new, &face.name, &laid.onto);
        let by_face = difference(laid.old, laid.new, &onto);
        let Some(outline) = laid.new.face(&face.name) else { continue };
        let outline = crate::geom::Path::polygon(&outline);
        let bounds = outline.bounds();
        let within = |patch: &&Patch| {
            let middle = patch.bounds.centre();
            let inside = bounds.low.x - SAME <= middle.x
                && middle.x <= bounds.high.x + SAME
                && bounds.low.y - SAME <= middle.y
                && middle.y <= bounds.high.y + SAME;
            inside && !laid.at_hole(patch, &onto)
        };
        for (patches, what) in [(&by_face.removed, "cut away"), (&by_face.added, "added")] {
            let told = patches.iter().filter(within).take(MOST_PATCHES).map(|patch| {
                let (size, face) = (words.two(patch.size()), spoken(&face.name));
                format!("{size} {what} at the edge of {face}, {}", words.place(patch.bounds.low))
            });
            all.extend(told);
        }
    }
    all
}

/// Etched texts that differ; where they stand is told only where nothing else changed.
fn etched(old: &[EtchRow], new: &[EtchRow], alone: bool) -> Vec<String> {
    let only = |a: &[EtchRow], b: &[EtchRow]| -> Vec<String> {
        let lone = a.iter().filter(|it| !b.iter().any(|other| other.text == it.text));
        lone.map(|it| it.text.clone()).collect()
    };
    let (gone, added) = (only(old, new), only(new, old));
    match (gone.is_empty(), added.is_empty()) {
        (true, true) => {
            let moved = alone && old.len() == new.len() && !same_etch(old, new);
            moved.then(|| "etched text stands elsewhere".to_owned()).into_iter().collect()
        }
        (false, true) => vec![format!("no longer etched: {}", gone.join(", "))],
        (true, false) => vec![format!("etched: {}", added.join(", "))],
        (false, false) => vec![format!("etched {}, was {}", added.join(", "), gone.join(", "))],
    }
}

/// Whether the same texts are etched in the same places.
pub(super) fn same_etch(old: &[EtchRow], new: &[EtchRow]) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    let same = |a: &EtchRow, b: &EtchRow| {
        a.text == b.text
            && (0..2).all(|i| near(a.at[i], b.at[i]))
            && near(a.direction, b.direction)
            && near(a.height, b.height)
    };
    old.len() == new.len() && old.iter().zip(new).all(|(a, b)| same(a, b))
}

/// What changed around a part: it is made as before.
fn around(old: &PartRow, new: &PartRow) -> Vec<String> {
    let renumbered = (old.number != new.number).then(|| format!("was {}", old.number));
    let quantity = (old.quantity != new.quantity)
        .then(|| format!("{} now {} in a kit", old.quantity, new.quantity));
    renumbered.into_iter().chain(quantity).collect()
}

/// Whether two blanks are cut and folded alike, both in their own frame: the same laser file.
pub(super) fn same_blank(old: &Piece<'_>, new: &Piece<'_>) -> bool {
    old.inner.len() == new.inner.len()
        && same_path(&old.outer, &new.outer)
        && old.inner.iter().all(|a| new.inner.iter().any(|b| same(a, b)))
}

/// Whether the bends are the same, ends too.
pub(super) fn same_bends(old: &PartRow, new: &PartRow) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    let same = |a: &BendRow, b: &BendRow| {
        near(a.angle, b.angle)
            && a.direction == b.direction
            && near(a.inside_radius, b.inside_radius)
            && near(a.allowance, b.allowance)
            && a.ends().iter().zip(b.ends()).all(|(p, q)| p.distance(q) <= SAME)
    };
    old.bends.len() == new.bends.len() && old.bends.iter().zip(&new.bends).all(|(a, b)| same(a, b))
}

fn overlay(laid: &Laid<'_, '_>) -> Overlay {
    let rings = |patches: &[Patch]| patches.iter().flat_map(|p| p.contours.clone()).collect();
    let Difference { removed, added } = &laid.difference;
    Overlay {
        old: laid.old.drawn(),
        new: laid.new.drawn(),
        onto: laid.onto,
        removed: rings(removed),
        added: rings(added),
    }
}
