//! What pieces of the older revision are good for. A shop takes sheet away: it drills, opens a
//! hole to a larger one that covers it, trims an edge. It never fills a hole, adds sheet or moves
//! a bend.

use super::align::{self, Onto};
use super::bends;
use super::holes::{self, HoleChange};
use super::model::{Judgement, OnShelf, Verdict};
use super::opening::Opening;
use super::pair::{same_bends, same_blank, same_etch};
use super::piece::Piece;
use super::region::{Difference, Patch, difference};
use super::words::{Words, counted, spoken};

/// Most reasons given in full.
const MOST: usize = 4;

/// Two revisions of a part laid upon each other.
pub(super) struct Laid<'p, 'a> {
    pub(super) old: &'p Piece<'a>,
    pub(super) new: &'p Piece<'a>,
    pub(super) onto: Onto,
    pub(super) difference: Difference,
    pub(super) holes: Vec<HoleChange<'p, 'a>>,
}

impl<'p, 'a> Laid<'p, 'a> {
    pub(super) fn of(old: &'p Piece<'a>, new: &'p Piece<'a>) -> Self {
        let alike = same_blank(old, new);
        let onto = if alike { Onto::identity() } else { align::blanks(old, new) };
        Self {
            difference: difference(old, new, &onto),
            holes: holes::changes(old, new, &onto),
            old,
            new,
            onto,
        }
    }

    /// Whether the part is made as before, to the last etched text.
    pub(super) fn same(&self) -> bool {
        let (a, b) = (self.old.row, self.new.row);
        same_sheet(self)
            && same_blank(self.old, self.new)
            && same_bends(a, b)
            && same_etch(&a.etch, &b.etch)
    }

    /// Whether a patch lies at an opening of either blank, the older one laid on by `onto`.
    pub(super) fn at_hole(&self, patch: &Patch, onto: &Onto) -> bool {
        let middle = patch.bounds.centre();
        let near = |it: &Opening<'_>, at| it.reach() >= middle.distance(at);
        self.new.openings.iter().any(|it| near(it, it.centre))
            || self.old.openings.iter().any(|it| near(it, onto.point(it.centre)))
    }
}

fn same_sheet(laid: &Laid<'_, '_>) -> bool {
    let (a, b) = (laid.old.row, laid.new.row);
    a.material_id == b.material_id && a.thickness == b.thickness && a.gauge == b.gauge
}

/// What the pieces on the shelf are good for.
pub(super) fn judge(laid: &Laid<'_, '_>, words: Words) -> OnShelf {
    let flat = flat(laid, words);
    let folded = if laid.old.row.bends.is_empty() && laid.new.row.bends.is_empty() {
        flat.clone()
    } else {
        folded(laid, &flat)
    };
    OnShelf { flat, folded }
}

fn verdict(verdict: Verdict, mut reasons: Vec<String>) -> Judgement {
    let rest = reasons.len().saturating_sub(MOST);
    reasons.truncate(MOST);
    if rest > 0 {
        reasons.push(format!("and {rest} more"));
    }
    Judgement { verdict, reasons }
}

/// A blank that is cut and still flat.
fn flat(laid: &Laid<'_, '_>, words: Words) -> Judgement {
    let (a, b) = (laid.old.row, laid.new.row);
    if !same_sheet(laid) {
        let sheet = format!("another sheet: {} to {}", stock(laid.old), stock(laid.new));
        return verdict(Verdict::Scrap, vec![sheet]);
    }
    let lacking = lacking(laid, words);
    if !lacking.is_empty() {
        return verdict(Verdict::Scrap, lacking);
    }
    let mut work = work(laid, words);
    if work.is_empty() && !same_blank(laid.old, laid.new) {
        work.push("measure: it differs by less than 0.0001 mm".to_owned());
    }
    if !same_bends(a, b) {
        work.push("fold by the new drawing".to_owned());
    }
    work.extend(marking(laid));
    if !work.is_empty() {
        return verdict(Verdict::Rework, work);
    }
    let elsewhere = !same_etch(&a.etch, &b.etch);
    let elsewhere = elsewhere.then(|| "its etched text stands elsewhere".to_owned());
    verdict(Verdict::Good, elsewhere.into_iter().collect())
}

/// A folded part: as the blank, but its bends cannot be changed, and no cut can pass through one.
fn folded(laid: &Laid<'_, '_>, flat: &Judgement) -> Judgement {
    let mut faults = bends::faults(laid.old, laid.new, &laid.onto);
    if flat.verdict == Verdict::Scrap {
        faults.extend(flat.reasons.iter().cloned());
    }
    if !faults.is_empty() {
        return verdict(Verdict::Scrap, faults);
    }
    let through = |bend: &crate::reading::BendRow| {
        let line = bend.ends().map(|end| laid.onto.point(end));
        laid.difference.removed.iter().any(|patch| patch.meets(line, bend.allowance))
    };
    let cut = laid.old.row.bends.iter().filter(|bend| through(bend));
    let cut: Vec<String> =
        cut.map(|bend| format!("a cut would pass through bend {}", spoken(&bend.name))).collect();
    if !cut.is_empty() {
        return verdict(Verdict::Scrap, cut);
    }
    flat.clone()
}

fn stock(piece: &Piece<'_>) -> String {
    let row = piece.row;
    let gauge = if row.gauge.is_empty() { String::new() } else { format!(" ({})", row.gauge) };
    format!("{} {} mm{gauge}", row.material, crate::units::number(row.thickness, 3))
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
    merged(all)
}

/// What is to be taken away.
fn work(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let mut all = Vec::new();
    for change in &laid.holes {
        all.extend(match (change.old, change.new) {
            (Some(a), Some(b)) if a.shape != b.shape => {
                Some(format!("open {} to {}", words.shape(&a.shape), words.shape(&b.shape)))
            }
            (None, Some(b)) => Some(format!(
                "{} {} ({})",
                if matches!(b.shape, super::opening::Shape::Round(_)) { "drill" } else { "cut" },
                words.shape(&b.shape),
                spoken(b.serves())
            )),
            _ => None,
        });
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
