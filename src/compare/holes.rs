//! Which hole became which, and what changed about it.

use super::SAME;
use super::align::{self, Onto};
use super::opening::{Opening, Shape, mapped, same};
use super::piece::{P, Piece};
use super::sunk;
use super::words::{Words, counted, spoken};

/// A hole that moved farther than this is another hole, mm: the usual pitch of rows is wider.
const REACH: f64 = 60.0;

/// Holes of different purpose are one only where they stand nearly in one place, mm.
const SAME_SPOT: f64 = 5.0;

/// What became of a hole.
#[derive(Debug)]
pub(super) struct HoleChange<'p, 'a> {
    pub(super) old: Option<&'p Opening<'a>>,
    pub(super) new: Option<&'p Opening<'a>>,
    /// By how much it moved against its face, along the newer blank's axes.
    moved: P,
}

/// Every hole of both that is not the same in both, face by face.
pub(super) fn changes<'p, 'a>(
    old: &'p Piece<'a>,
    new: &'p Piece<'a>,
    onto: &Onto,
) -> Vec<HoleChange<'p, 'a>> {
    let mut faces: Vec<&str> = Vec::new();
    for opening in new.openings.iter().chain(&old.openings) {
        if !faces.contains(&opening.face) {
            faces.push(opening.face);
        }
    }
    let each = faces.into_iter().flat_map(|name| {
        let onto = align::face(old, new, name, onto);
        let on = |piece: &'p Piece<'a>| -> Vec<&'p Opening<'a>> {
            piece.openings.iter().filter(|it| it.face == name).collect()
        };
        matched(on(old), on(new), &onto)
    });
    each.collect()
}

fn matched<'p, 'a>(
    mut old: Vec<&'p Opening<'a>>,
    mut new: Vec<&'p Opening<'a>>,
    onto: &Onto,
) -> Vec<HoleChange<'p, 'a>> {
    old.retain(|a| {
        let there = mapped(&a.contour, onto);
        let twin = new.iter().position(|b| same(&there, &b.contour) && made_alike(a, b));
        twin.map(|index| new.remove(index)).is_none()
    });
    let mut pairs = Vec::new();
    let alike: [fn(&Opening<'_>, &Opening<'_>) -> bool; 3] = [
        |a, b| a.joint == b.joint && a.purpose == b.purpose,
        |a, b| a.purpose == b.purpose,
        |_, _| true,
    ];
    for (alike, reach) in alike.into_iter().zip([REACH, REACH, SAME_SPOT]) {
        while let Some((i, j)) = nearest(&old, &new, onto, (alike, reach)) {
            let (a, b) = (old.remove(i), new.remove(j));
            pairs.push(HoleChange {
                old: Some(a),
                new: Some(b),
                moved: b.centre - onto.point(a.centre),
            });
        }
    }
    let nowhere = P::new(0.0, 0.0);
    pairs.extend(old.into_iter().map(|a| HoleChange { old: Some(a), new: None, moved: nowhere }));
    pairs.extend(new.into_iter().map(|b| HoleChange { old: None, new: Some(b), moved: nowhere }));
    pairs
}

/// Whether two openings of the same contour are one in every other way.
fn made_alike(a: &Opening<'_>, b: &Opening<'_>) -> bool {
    a.joint == b.joint
        && a.purpose == b.purpose
        && same_size(&a.shape, &b.shape)
        && turned(&a.shape, &b.shape).is_none()
        && sunk::same(a.sunk, b.sunk)
}

/// The nearest two that are alike and within reach.
fn nearest(
    old: &[&Opening<'_>],
    new: &[&Opening<'_>],
    onto: &Onto,
    (alike, reach): (fn(&Opening<'_>, &Opening<'_>) -> bool, f64),
) -> Option<(usize, usize)> {
    let mut best: Option<(f64, usize, usize)> = None;
    for (i, a) in old.iter().enumerate() {
        let at = onto.point(a.centre);
        for (j, b) in new.iter().enumerate().filter(|(_, b)| alike(a, b)) {
            let far = at.distance(b.centre);
            if far <= reach && best.is_none_or(|(least, _, _)| far < least) {
                best = Some((far, i, j));
            }
        }
    }
    best.map(|(_, i, j)| (i, j))
}

impl HoleChange<'_, '_> {
    fn kind(&self, words: Words) -> Option<String> {
        let (Some(a), Some(b)) = (self.old, self.new) else {
            let gone = self.new.is_none();
            let it = self.new.or(self.old)?;
            let sunk = it.sunk.map(|sunk| format!(", {}", sunk::named(sunk, words)));
            let what = words.shape(&it.shape) + &sunk.unwrap_or_default();
            return Some(format!("{what} {}", if gone { "gone" } else { "added" }));
        };
        let resized = (!same_size(&a.shape, &b.shape))
            .then(|| format!("{} now {}", words.shape(&a.shape), words.shape(&b.shape)));
        let served = (a.serves() != b.serves()).then(|| format!("now for {}", spoken(b.serves())));
        let purpose = (a.purpose != b.purpose && served.is_none())
            .then(|| format!("for {}, now for {}", spoken(a.purpose), spoken(b.purpose)));
        let sunk = sunk::change(a, b, words);
        let turned = turned(&a.shape, &b.shape).map(|by| format!("turned by {by}°"));
        let moved = (self.moved.length() > SAME).then(|| "moved".to_owned());
        let all = [resized, turned, sunk, served, purpose, moved];
        let all: Vec<String> = all.into_iter().flatten().collect();
        (!all.is_empty()).then(|| all.join(", "))
    }

    /// Whether the opening itself is made otherwise, or is told otherwise on the part's drawing:
    /// the name of its joint is not.
    pub(super) fn concerns_part(&self) -> bool {
        let joint_alone = self.old.zip(self.new).is_some_and(|(a, b)| {
            self.moved.length() <= SAME && made_alike(&Opening { joint: b.joint, ..a.clone() }, b)
        });
        !joint_alone
    }

    /// Whether both are there and the size or the direction of its contour is another.
    pub(super) fn reshaped(&self) -> Option<(&Opening<'_>, &Opening<'_>)> {
        let (a, b) = self.old.zip(self.new)?;
        let other = !same_size(&a.shape, &b.shape) || turned(&a.shape, &b.shape).is_some();
        other.then_some((a, b))
    }
}

fn same_size(a: &Shape, b: &Shape) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    match (a, b) {
        (Shape::Round(a), Shape::Round(b)) => near(*a, *b),
        (Shape::Slot(w, l, _), Shape::Slot(v, m, _))
        | (Shape::Rectangle(w, l, _), Shape::Rectangle(v, m, _))
        | (Shape::Free(w, l), Shape::Free(v, m)) => near(*w, *v) && near(*l, *m),
        _ => false,
    }
}

/// By how many degrees a length was turned; a length points both ways.
fn turned(a: &Shape, b: &Shape) -> Option<String> {
    let (from, to) = match (a, b) {
        (Shape::Slot(_, _, from), Shape::Slot(_, _, to))
        | (Shape::Rectangle(_, _, from), Shape::Rectangle(_, _, to)) => (from, to),
        _ => return None,
    };
    let by = (to - from).rem_euclid(180.0);
    let by = if by > 90.0 { by - 180.0 } else { by };
    (by.abs() > SAME).then(|| crate::units::number(by, 2))
}

/// What changed, one sentence for all holes of one face that changed alike.
pub(super) fn sentences(changes: &[HoleChange<'_, '_>], words: Words) -> Vec<String> {
    let mut groups: Vec<(String, Vec<&HoleChange<'_, '_>>)> = Vec::new();
    for change in changes {
        let Some(it) = change.new.or(change.old) else { continue };
        let Some(kind) = change.kind(words) else { continue };
        let key = format!("{}: {kind}", heading(it));
        match groups.iter_mut().find(|group| group.0 == key) {
            Some(group) => group.1.push(change),
            None => groups.push((key, vec![change])),
        }
    }
    groups.into_iter().map(|(key, group)| sentence(&key, &group, words)).collect()
}

/// ` in web (header to side frame)`.
fn heading(it: &Opening<'_>) -> String {
    let serves = it.serves();
    let serves = if serves.is_empty() { String::new() } else { format!(" ({})", spoken(serves)) };
    format!(" in {}{serves}", spoken(it.face))
}

fn sentence(key: &str, group: &[&HoleChange<'_, '_>], words: Words) -> String {
    let holes = counted(group.len(), "hole");
    let Some(key) = key.strip_suffix("moved") else { return format!("{holes}{key}") };
    let lengths: Vec<f64> = group.iter().map(|change| change.moved.length()).collect();
    let first = group[0].moved;
    let together = group.iter().all(|change| (change.moved - first).length() <= SAME);
    let way = words.shift(first);
    let way = if together && !way.is_empty() { format!(" ({way})") } else { String::new() };
    format!("{holes}{key}moved {}{way}", words.range(&lengths))
}
