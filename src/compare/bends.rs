//! What changed about the bends.

use super::SAME;
use super::align::Onto;
use super::piece::{P, Piece};
use super::words::{Words, spoken};
use crate::reading::{BendRow, PartRow};
use crate::units::number;

/// Whether a bend is made as another one, both in the same frame: angle, direction, radius,
/// allowance, and the line it lies on; its ends may differ where an edge was cut back.
fn made_alike(old: &BendRow, new: &BendRow, onto: &Onto) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    near(old.angle, new.angle)
        && old.direction == new.direction
        && near(old.inside_radius, new.inside_radius)
        && near(old.allowance, new.allowance)
        && aside(old, new, onto).is_some_and(|aside| aside <= SAME)
}

/// How far the line of a bend lies beside that of another; none where they are not parallel.
fn aside(old: &BendRow, new: &BendRow, onto: &Onto) -> Option<f64> {
    let [a, b] = old.ends().map(|end| onto.point(end));
    let [c, d] = new.ends();
    let across = (d - c).unit().left();
    let [from, to] = [a, b].map(|end: P| (end - c).dot(across));
    ((from - to).abs() <= SAME).then(|| from.abs().max(to.abs()))
}

/// What keeps a folded part of the older revision from being one of the newer; empty where all
/// bends are the same.
pub(super) fn faults(old: &Piece<'_>, new: &Piece<'_>, onto: &Onto) -> Vec<String> {
    let (before, after) = (&old.row.bends, &new.row.bends);
    let lost = before.iter().filter(|a| !after.iter().any(|b| made_alike(a, b, onto)));
    let lacking = after.iter().filter(|b| !before.iter().any(|a| made_alike(a, b, onto)));
    let mut names: Vec<&str> = lost.chain(lacking).map(|bend| bend.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    names.into_iter().map(|name| format!("bend {} is made otherwise", spoken(name))).collect()
}

/// What changed, bend by bend.
pub(super) fn sentences(
    old: &Piece<'_>,
    new: &Piece<'_>,
    onto: &Onto,
    words: Words,
) -> Vec<String> {
    let (before, after) = (&old.row.bends, &new.row.bends);
    let mut all = Vec::new();
    for bend in after {
        match before.iter().find(|other| other.name == bend.name) {
            Some(was) => all.extend(changed(was, bend, onto, words)),
            None => all.push(format!("bend {} added", spoken(&bend.name))),
        }
    }
    let gone = before.iter().filter(|was| !after.iter().any(|bend| bend.name == was.name));
    all.extend(gone.map(|was| format!("bend {} gone", spoken(&was.name))));
    all
}

/// What the drawing's table says of a bend that does not shape it.
fn figures(was: &BendRow, bend: &BendRow) -> Vec<String> {
    let mut all = Vec::new();
    if (was.k - bend.k).abs() > SAME {
        all.push(format!("K {} to {}", number(was.k, 4), number(bend.k, 4)));
    }
    if was.k_source != bend.k_source {
        all.push(format!("K from {}, now from {}", was.k_source, bend.k_source));
    }
    if was.order != bend.order {
        let [from, to] = [was, bend]
            .map(|it| it.order.map_or_else(|| "none".to_owned(), |order| order.to_string()));
        all.push(format!("order {from} to {to}"));
    }
    all
}

/// Whether the tables say the same of all bends, beside what shapes them.
pub(super) fn same_figures(old: &PartRow, new: &PartRow) -> bool {
    let paired = old.bends.iter().zip(&new.bends);
    old.bends.len() == new.bends.len() && paired.into_iter().all(|(a, b)| figures(a, b).is_empty())
}

/// Whether they are made in the same order, so far as both know one.
pub(super) fn same_order(old: &PartRow, new: &PartRow) -> bool {
    old.bends.iter().zip(&new.bends).all(|(a, b)| a.order == b.order)
}

fn changed(was: &BendRow, bend: &BendRow, onto: &Onto, words: Words) -> Option<String> {
    let differ = |a: f64, b: f64| (a - b).abs() > SAME;
    let mut all = Vec::new();
    if differ(was.angle, bend.angle) {
        all.push(format!("{}° to {}°", number(was.angle, 3), number(bend.angle, 3)));
    }
    if was.direction != bend.direction {
        all.push(format!("{} to {}", was.direction, bend.direction));
    }
    if differ(was.inside_radius, bend.inside_radius) {
        let radii = [was.inside_radius, bend.inside_radius].map(|r| words.size(r));
        all.push(format!("inside radius {} to {}", radii[0], radii[1]));
    }
    if differ(was.allowance, bend.allowance) {
        let [a, b] = [was.allowance, bend.allowance].map(|a| number(a, 3));
        all.push(format!("allowance {a} to {b} mm"));
    }
    all.extend(figures(was, bend));
    match aside(was, bend, onto) {
        Some(aside) if aside > SAME => all.push(format!("line moved {}", words.length(aside))),
        Some(_) => {}
        None => all.push("line turned".to_owned()),
    }
    let lengths = [was, bend].map(|it| it.ends()[0].distance(it.ends()[1]));
    if differ(lengths[0], lengths[1]) {
        all.push(format!("{} to {} long", words.size(lengths[0]), words.size(lengths[1])));
    }
    (!all.is_empty()).then(|| format!("bend {}: {}", spoken(&bend.name), all.join(", ")))
}
