//! Bend lines: those of the DXF file against the bends of `kit.json`, and the bends against the
//! shop's data.

use super::codes::{BEND, STOCK};
use super::contour::{SAME_CONTOUR, place};
use super::cut::Zone;
use super::desk::{Desk, beyond, exact, mm};
use super::lasered::Lasered;
use crate::flat::allowance;
use crate::geom::{BlankFrame, Point};
use crate::kit::Sense;
use crate::note::Notes;
use crate::reading::{BendRow, NAME, PartRow};
use crate::shelf::{BendLines, Shelf};

type Line = [Point<BlankFrame>; 2];

/// How far a bend line may have moved and still be taken for that bend's, for messages, mm.
const MOVED: f64 = 20.0;

/// A bend as the blank shows it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bent {
    /// Its strip.
    pub(super) zone: Zone,
    /// Which way it goes: by its layer, where the DXF file shows it.
    pub(super) sense: Sense,
}

/// The direction by its word.
pub(super) fn sense(word: &str) -> Option<Sense> {
    [Sense::Up, Sense::Down].into_iter().find(|sense| sense.word() == word)
}

/// Compares the DXF file's bend lines with the part's bends, one to one. What is returned follows
/// the DXF file where it shows a bend.
pub(super) fn compare(
    part: &PartRow,
    lasered: Option<&Lasered>,
    style: BendLines,
    desk: &mut Desk,
) -> Vec<Bent> {
    let mut used = lasered.map_or(Vec::new(), |lasered| vec![false; lasered.bends.len()]);
    let shown = lasered.filter(|_| style != BendLines::Off);
    let bents = part.bends.iter().map(|row| match shown {
        Some(lasered) => bent(row, style, (lasered, &mut used), desk),
        None => listed(row),
    });
    let bents = bents.collect();
    for (index, (_, _, call)) in lasered.iter().flat_map(|l| l.bends.iter().enumerate()) {
        if !used[index] {
            desk.tell(&BEND, format!("{call} is the line of no bend in {NAME}"));
        }
    }
    bents
}

/// A bend as `kit.json` lists it.
fn listed(row: &BendRow) -> Bent {
    let sense = sense(&row.direction).unwrap_or(Sense::Up);
    Bent { zone: Zone::about(row.ends(), row.allowance), sense }
}

/// A bend as the DXF file shows it.
fn bent(
    row: &BendRow,
    style: BendLines,
    (lasered, used): (&Lasered, &mut [bool]),
    desk: &mut Desk,
) -> Bent {
    let mut bent = listed(row);
    for piece in pieces(row.ends(), style) {
        let Some((sense, line)) = meet(row, piece, (lasered, &mut *used), desk) else { continue };
        bent.sense = sense;
        if piece == row.ends() {
            bent.zone = Zone::about(line, row.allowance);
        }
    }
    bent
}

/// The lines by which the shop shows a bend.
pub(super) fn pieces([start, end]: Line, style: BendLines) -> Vec<Line> {
    let length = start.distance(end);
    match style {
        BendLines::Off => Vec::new(),
        BendLines::Ticks(tick) if 0.0 < tick && 2.0 * tick < length => {
            let share = tick / length;
            vec![[start, start.toward(end, share)], [end.toward(start, share), end]]
        }
        _ => vec![[start, end]],
    }
}

/// How far two lines lie apart at their ends, and the second in the direction of the first.
fn apart(a: Line, b: Line) -> (f64, Line) {
    let off = |b: Line| a[0].distance(b[0]).max(a[1].distance(b[1]));
    let turned = [b[1], b[0]];
    if off(b) <= off(turned) { (off(b), b) } else { (off(turned), turned) }
}

/// Finds the line of a bend; tells when it lies elsewhere, on the other layer, or nowhere.
fn meet(
    row: &BendRow,
    piece: Line,
    (lasered, used): (&Lasered, &mut [bool]),
    desk: &mut Desk,
) -> Option<(Sense, Line)> {
    let free = lasered.bends.iter().enumerate().filter(|(index, _)| !used[*index]);
    let measured = free.map(|(index, (sense, line, call))| {
        let (off, line) = apart(piece, *line);
        (off, index, *sense, line, call)
    });
    let nearest = measured.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|found| found.0 <= MOVED);
    let Some((off, index, found, line, call)) = nearest else {
        let at = place(piece[0].toward(piece[1], 0.5));
        desk.tell(&BEND, format!("shows no line for bend {} at {at}", row.name));
        return None;
    };
    used[index] = true;
    if SAME_CONTOUR < off {
        let words = format!("{call} is {} mm off the line of bend {}", mm(off), row.name);
        desk.off(&BEND, words, (off, 0.0), "mm");
    }
    if found.word() != row.direction {
        let words = format!("{call} says {}, {NAME} says {}", found.word(), row.direction);
        desk.tell(&BEND, format!("bend {}: {words}", row.name));
    }
    Some((found, line))
}

/// The brake's order counts every bend once, or none.
fn in_order(part: &PartRow, desk: &mut Desk) {
    let mut orders: Vec<usize> = part.bends.iter().filter_map(|bend| bend.order).collect();
    orders.sort_unstable();
    if !orders.is_empty() && !orders.iter().copied().eq(1..=part.bends.len()) {
        desk.tell(&BEND, format!("{}: its bends are not numbered from 1 on", part.number));
    }
}

/// Holds the numbers of a part's bends against each other and against the shop's data.
pub(super) fn numbers(part: &PartRow, shelf: &Shelf, notes: &mut Notes) {
    let mut desk = Desk::new(notes, NAME);
    in_order(part, &mut desk);
    let material = shelf.material(&part.material_id);
    for row in &part.bends {
        let what = format!("{}, bend {}", part.number, row.name);
        if !(0.0 < row.angle && row.angle <= 180.0 && 0.0 <= row.inside_radius) {
            desk.tell(&BEND, format!("{what}: no bend has angle {}", exact(row.angle)));
        }
        if sense(&row.direction).is_none() {
            desk.tell(&BEND, format!("{what}: `{}` is no direction", row.direction));
        }
        let worked = allowance(row.angle, row.inside_radius, part.thickness, row.k);
        if beyond((worked - row.allowance).abs(), 1e-6) {
            let [told, worked_text] = [row.allowance, worked].map(exact);
            let words = format!("{what}: allowance {told}, by angle, radius and k {worked_text}");
            desk.off(&BEND, words, (row.allowance, worked), "mm");
        }
        let Some(material) = material else { continue };
        let rule = shelf.shop.bend_to(material, (part.thickness, row.angle), row.inside_radius);
        if beyond((rule.k - row.k).abs(), 1e-9) || rule.k_source != row.k_source {
            let words = format!("k {} by {}", exact(row.k), row.k_source);
            let meant = format!("the shop's is {} by {}", exact(rule.k), rule.k_source);
            desk.off(&STOCK, format!("{what}: {words}; {meant}"), (row.k, rule.k), "");
        }
    }
}
