//! What pieces of the older revision are good for. A shop takes sheet away: it drills, opens a
//! hole to a larger one that covers it, trims an edge. It never fills a hole, adds sheet or moves
//! a bend.

use super::align::{self, Onto};
use super::bends;
use super::holes::{self, HoleChange};
use super::made;
use super::mirror;
use super::model::{Judgement, OnShelf, Verdict};
use super::opening::{Opening, Shape};
use super::pair::{same_bends, same_blank, same_etch};
use super::piece::Piece;
use super::region::{Difference, Patch, difference};
use super::sunk;
use super::words::{Words, counted, spoken};
use crate::reading::PartRow;

/// Two revisions of a part laid upon each other.
pub(super) struct Laid<'p, 'a> {
    pub(super) old: &'p Piece<'a>,
    pub(super) new: &'p Piece<'a>,
    pub(super) onto: Onto,
    pub(super) difference: Difference,
    pub(super) holes: Vec<HoleChange<'p, 'a>>,
    /// Whether the newer blank is the older one's mirror image.
    pub(super) mirrored: bool,
}

impl<'p, 'a> Laid<'p, 'a> {
    pub(super) fn of(old: &'p Piece<'a>, new: &'p Piece<'a>) -> Self {
        let alike = same_blank(old, new);
        let onto = if alike { Onto::identity() } else { align::blanks(old, new) };
        Self {
            difference: difference(old, new, &onto),
            holes: holes::changes(old, new, &onto),
            mirrored: !alike && mirror::mirrored(old, new),
            old,
            new,
            onto,
        }
    }

    /// Whether the part is made as before, to the last word of its drawing.
    pub(super) fn same(&self, words: Words) -> bool {
        let (a, b) = (self.old.row, self.new.row);
        !self.drawn_otherwise()
            && made::sentences(self.old, self.new, words).is_empty()
            && bends::same_figures(a, b)
            && !self.holes.iter().any(HoleChange::concerns_part)
            && same_etch(&a.etch, &b.etch)
    }

    /// Whether blank or bends are others.
    pub(super) fn drawn_otherwise(&self) -> bool {
        !same_blank(self.old, self.new) || !same_bends(self.old.row, self.new.row)
    }

    /// Whether a patch lies at an opening of either blank, the older one laid on by `onto`.
    pub(super) fn at_hole(&self, patch: &Patch, onto: &Onto) -> bool {
        let middle = patch.bounds.centre();
        let near = |it: &Opening<'_>, at| it.reach() >= middle.distance(at);
        self.new.openings.iter().any(|it| near(it, it.centre))
            || self.old.openings.iter().any(|it| near(it, onto.point(it.centre)))
    }
}

/// What the pieces on the shelf are good for.
pub(super) fn judge(laid: &Laid<'_, '_>, words: Words) -> OnShelf {
    let (a, b) = (laid.old.row, laid.new.row);
    let cut = Cut::of(laid, words);
    let flat = cut.judged(folding(a, b));
    let folded =
        if a.bends.is_empty() && b.bends.is_empty() { flat.clone() } else { folded(laid, &cut) };
    OnShelf { flat, folded }
}

/// What is to be said of an old piece as it was cut, whether it is folded or not.
struct Cut {
    /// Why it cannot be used.
    faults: Vec<String>,
    /// What is to be done about it.
    work: Vec<String>,
    /// What is good to know.
    remarks: Vec<String>,
}

impl Cut {
    fn of(laid: &Laid<'_, '_>, words: Words) -> Self {
        let (a, b) = (laid.old.row, laid.new.row);
        let remarks = if a.gauge == b.gauge { None } else { Some("its gauge is named otherwise") };
        let elsewhere =
            (!same_etch(&a.etch, &b.etch)).then_some("its etched text stands elsewhere");
        let remarks = remarks.into_iter().chain(elsewhere).map(str::to_owned).collect();
        if let Some(sheet) = made::other_sheet(a, b) {
            return Self { faults: vec![sheet], work: Vec::new(), remarks };
        }
        if laid.mirrored {
            return Self::turned_over(laid, remarks);
        }
        let mut work = work(laid, words);
        if work.is_empty() && !same_blank(laid.old, laid.new) {
            work.push("measure: it differs by less than 0.0001 mm".to_owned());
        }
        work.extend(made::looked_up(laid.old, laid.new));
        work.extend(marking(laid));
        Self { faults: lacking(laid, words), work, remarks }
    }

    /// A blank of the other hand is this one face down, where the family lets it lie so.
    fn turned_over(laid: &Laid<'_, '_>, remarks: Vec<String>) -> Self {
        let sunk = |piece: &Piece<'_>| piece.openings.iter().any(|it| it.sunk.is_some());
        let stays = !laid.new.row.mirror || sunk(laid.old) || sunk(laid.new);
        let faults = stays.then(|| "it is of the other hand".to_owned());
        let mut work = vec!["turn it over and mark it anew".to_owned()];
        work.extend(made::looked_up(laid.old, laid.new));
        Self { faults: faults.into_iter().collect(), work, remarks }
    }

    /// The verdict, with work that comes after the cutting.
    fn judged(&self, more: Option<Folding>) -> Judgement {
        if !self.faults.is_empty() {
            return Judgement::of(Verdict::Scrap, self.faults.clone());
        }
        let (mut work, mut remarks) = (self.work.clone(), self.remarks.clone());
        match more {
            Some(Folding::Otherwise) => work.push("fold by the new drawing".to_owned()),
            Some(Folding::InOtherOrder) => remarks.push("fold in the new order".to_owned()),
            Some(Folding::EndingElsewhere) => remarks.push("its bends end elsewhere".to_owned()),
            None => {}
        }
        if work.is_empty() {
            Judgement::of(Verdict::Good, remarks)
        } else {
            Judgement::of(Verdict::Rework, work)
        }
    }
}

/// What is to be said of the bends.
enum Folding {
    /// A flat blank is folded otherwise than before.
    Otherwise,
    /// A flat blank is folded the same, in another order.
    InOtherOrder,
    /// A folded part has all its bends, though they run farther or less far.
    EndingElsewhere,
}

fn folding(a: &PartRow, b: &PartRow) -> Option<Folding> {
    if !same_bends(a, b) {
        return Some(Folding::Otherwise);
    }
    (!bends::same_order(a, b)).then_some(Folding::InOtherOrder)
}

/// A folded part: as the blank, but its bends cannot be changed, and no cut can pass through one.
fn folded(laid: &Laid<'_, '_>, blank: &Cut) -> Judgement {
    let mut faults = bends::faults(laid.old, laid.new, &laid.onto);
    faults.extend(blank.faults.iter().cloned());
    if laid.mirrored {
        faults = vec!["it is folded to the other hand".to_owned()];
    }
    if !faults.is_empty() {
        return Judgement::of(Verdict::Scrap, faults);
    }
    let through = |bend: &crate::reading::BendRow| {
        let line = bend.ends().map(|end| laid.onto.point(end));
        laid.difference.removed.iter().any(|patch| patch.meets(line, bend.allowance))
    };
    let cut = laid.old.row.bends.iter().filter(|bend| through(bend));
    let cut: Vec<String> =
        cut.map(|bend| format!("a cut would pass through bend {}", spoken(&bend.name))).collect();
    if !cut.is_empty() {
        return Judgement::of(Verdict::Scrap, cut);
    }
    let ends = (!same_bends(laid.old.row, laid.new.row)).then_some(Folding::EndingElsewhere);
    blank.judged(ends)
}

/// Sheet that the newer blank has and the older one has not: what keeps it from being used.
fn lacking(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let mut all = Vec::new();
    for patch in &laid.difference.added {
        let middle = patch.bounds.centre();
        let hole = laid
            .old
            .openings
            .iter()
            .find(|it| it.reach() >= laid.onto.point(it.centre).distance(middle));
        all.push(match hole {
            Some(hole) => {
                format!("{} ({}) cannot be filled", words.shape(&hole.shape), spoken(hole.serves()))
            }
            None => format!("{} of sheet is not there", words.two(patch.size())),
        });
    }
    let thickness = laid.new.row.thickness;
    for (a, b) in laid.holes.iter().filter_map(|it| it.old.zip(it.new)) {
        if let Some(sunk) = a.sunk.filter(|_| !sunk::covers(a, b, thickness)) {
            let sunk = sunk::named(sunk, words);
            all.push(format!("{sunk} ({}) cannot be filled", spoken(a.serves())));
        }
    }
    merged(all)
}

/// What is to be taken away.
fn work(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let mut all = Vec::new();
    for change in &laid.holes {
        if let Some((a, b)) = change.reshaped() {
            all.push(format!("open {} to {}", words.shape(&a.shape), words.shape(&b.shape)));
        }
        let Some(b) = change.new else { continue };
        if change.old.is_none() {
            let how = if matches!(b.shape, Shape::Round(_)) { "drill" } else { "cut" };
            all.push(format!("{how} {} ({})", words.shape(&b.shape), spoken(b.serves())));
        }
        let was = change.old.and_then(|a| a.sunk);
        if let Some(sunk) = b.sunk.filter(|_| !sunk::same(was, b.sunk)) {
            all.push(format!("{} ({})", sunk::named(sunk, words), spoken(b.serves())));
        }
    }
    let trims = laid.difference.removed.iter().filter(|patch| !laid.at_hole(patch, &laid.onto));
    all.extend(trims.map(|patch| format!("cut {} away at the edge", words.two(patch.size()))));
    if all.is_empty() && !laid.difference.removed.is_empty() {
        all.push(format!("cut away {}", counted(laid.difference.removed.len(), "patch")));
    }
    merged(all)
}

/// Texts that are etched otherwise.
fn marking(laid: &Laid<'_, '_>) -> Option<String> {
    let (a, b) = (&laid.old.row.etch, &laid.new.row.etch);
    let texts: Vec<&str> = b
        .iter()
        .filter(|it| !a.iter().any(|other| other.text == it.text))
        .map(|it| it.text.as_str())
        .collect();
    let lost = a.iter().any(|it| !b.iter().any(|other| other.text == it.text));
    match (texts.is_empty(), lost) {
        (false, _) => Some(format!("mark anew: {}", texts.join(", "))),
        (true, true) => Some("strike out what is no longer etched".to_owned()),
        (true, false) => None,
    }
}

/// Equal sentences once, with their count.
fn merged(all: Vec<String>) -> Vec<String> {
    let mut rows: Vec<(String, usize)> = Vec::new();
    for text in all {
        match rows.iter_mut().find(|row| row.0 == text) {
            Some(row) => row.1 += 1,
            None => rows.push((text, 1)),
        }
    }
    let told = |(text, count): (String, usize)| match count {
        1 => text,
        n => format!("{n} times: {text}"),
    };
    rows.into_iter().map(told).collect()
}
