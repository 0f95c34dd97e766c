//! Joints, fasteners and their counts, as `kit.json` lists them.

use std::collections::{BTreeMap, BTreeSet};

use super::agree::Bench;
use super::codes::{JOINT, STOCK};
use super::desk::{Desk, beyond, exact};
use crate::note::Notes;
use crate::reading::{FastenerRow, HoleRow, JointRow, MemberRow, NAME, PartRow};
use crate::shelf::Fastener;

/// A hole of a part, by number and id.
type Key<'a> = (&'a str, &'a str);

/// Looks over joints and fasteners.
pub(super) fn look_over(bench: &Bench, notes: &mut Notes) {
    let mut desk = Desk::new(notes, NAME);
    let parts: BTreeMap<&str, &PartRow> =
        bench.kit.parts.iter().map(|part| (part.number.as_str(), part)).collect();
    let mut joined: BTreeSet<(&str, Key)> = BTreeSet::new();
    let holes = holes(bench, &mut desk);
    for joint in &bench.kit.joints {
        let sheet = Sheet { bench, joint, parts: &parts, holes: &holes };
        sheet.look_over(&mut joined, &mut desk);
    }
    for ((number, id), hole) in &holes {
        let Some(joint) = &hole.joint else { continue };
        if !joined.contains(&(joint.as_str(), (*number, *id))) {
            desk.tell(
                &JOINT,
                format!("{number}, hole {id}: no fastener of joint {joint} goes there"),
            );
        }
    }
    fasteners(bench, &mut desk);
}

/// All holes of plain shape; an id that is given twice is told.
fn holes<'a>(bench: &Bench<'a>, desk: &mut Desk) -> BTreeMap<Key<'a>, &'a HoleRow> {
    let mut holes = BTreeMap::new();
    for part in &bench.kit.parts {
        for hole in &part.holes {
            if holes.insert((part.number.as_str(), hole.id.as_str()), hole).is_some() {
                desk.tell(&JOINT, format!("{} lists hole {} twice", part.number, hole.id));
            }
        }
    }
    holes
}

/// One joint with all it may name.
struct Sheet<'a, 'b> {
    bench: &'b Bench<'a>,
    joint: &'a JointRow,
    parts: &'b BTreeMap<&'a str, &'a PartRow>,
    holes: &'b BTreeMap<Key<'a>, &'a HoleRow>,
}

impl<'a> Sheet<'a, '_> {
    fn look_over(&self, joined: &mut BTreeSet<(&'a str, Key<'a>)>, desk: &mut Desk) {
        let joint = self.joint;
        let call = format!("joint {} ({})", joint.id, joint.name);
        let fastener = self.bench.shelf.fastener(&joint.fastener);
        if fastener.is_none() {
            desk.tell(&STOCK, format!("{call}: the shop has no fastener `{}`", joint.fastener));
        }
        let mut taken = BTreeSet::new();
        for pair in &joint.pairs {
            self.pair((&call, pair), &mut taken, joined, desk);
        }
        for key in taken.iter().map(|(number, _, id)| (*number, *id)).collect::<BTreeSet<Key>>() {
            self.hole(&call, (key, fastener), desk);
        }
        let Some(first) = joint.pairs.first() else {
            desk.tell(&JOINT, format!("{call} has no fastener"));
            return;
        };
        if joint.pairs.iter().any(|pair| kinds(pair) != kinds(first)) {
            desk.tell(
                &JOINT,
                format!("{call}: its fasteners go through different counts of parts"),
            );
        }
        let sheets: Vec<f64> =
            first.iter().filter_map(|m| self.part(m)).map(|p| p.thickness).collect();
        let grip = sheets.iter().sum::<f64>() + joint.gap * (sheets.len().max(1) - 1) as f64;
        if beyond((grip - joint.grip).abs(), 1e-6) {
            let words =
                format!("{call}: grip {}, by its sheets {}", exact(joint.grip), exact(grip));
            desk.off(&JOINT, words, (joint.grip, grip), "mm");
        }
    }

    fn part(&self, member: &MemberRow) -> Option<&'a PartRow> {
        match member {
            MemberRow::Hole { part, .. } => self.parts.get(part.as_str()).copied(),
            MemberRow::Into { .. } => None,
        }
    }

    /// Looks over the members of one fastener: each is there, and no two fasteners share a hole.
    fn pair(
        &self,
        (call, pair): (&str, &'a [MemberRow]),
        taken: &mut BTreeSet<(&'a str, usize, &'a str)>,
        joined: &mut BTreeSet<(&'a str, Key<'a>)>,
        desk: &mut Desk,
    ) {
        if pair.len() < 2 {
            desk.tell(&JOINT, format!("{call}: a fastener holds nothing together"));
        }
        for member in pair {
            let MemberRow::Hole { part: number, place, hole: id } = member else { continue };
            let there = self.holes.contains_key(&(number.as_str(), id.as_str()))
                && self.part(member).is_some_and(|part| *place < part.places.len());
            if !there {
                desk.tell(&JOINT, format!("{call}: {number}, place {place}, has no hole {id}"));
            }
            if !taken.insert((number, *place, id)) {
                desk.tell(&JOINT, format!("{call}: {number}, hole {id}, takes two fasteners"));
            }
            joined.insert((&self.joint.id, (number, id)));
        }
    }

    /// Holds one hole against the fastener.
    fn hole(&self, call: &str, (key, fastener): (Key<'a>, Option<&Fastener>), desk: &mut Desk) {
        let (Some(hole), Some(fastener)) = (self.holes.get(&key), fastener) else { return };
        let called = format!("{call}: {}, hole {}", key.0, key.1);
        let shares = hole.joint.as_deref() != Some(self.joint.id.as_str());
        if !shares && hole.purpose != fastener.id {
            desk.tell(&JOINT, format!("{called} is for {}, not {}", hole.purpose, fastener.id));
        }
        if let Some(sunk) = &hole.countersink {
            let [diameter, angle] = fastener.countersink.unwrap_or_default();
            let off = (sunk.diameter - diameter).abs().max((sunk.angle - angle).abs());
            if beyond(off, 1e-6) {
                let words = format!("{called}: its countersink is not that of {}", fastener.id);
                desk.off(&STOCK, words, (off, 0.0), "");
            }
        }
        let holes = &fastener.holes;
        let least = holes.pilot.unwrap_or(holes.close).min(holes.close).min(holes.normal);
        let width = hole.size.iter().copied().fold(f64::INFINITY, f64::min);
        if beyond(least, width + 1e-4) {
            let words = format!("{called} is {} mm wide, too narrow", exact(width));
            desk.off(&JOINT, words, (width, least), "mm");
        }
    }
}

/// How many holes a fastener goes through, and into what.
fn kinds(pair: &[MemberRow]) -> (usize, Vec<&str>) {
    let into = pair.iter().filter_map(|member| match member {
        MemberRow::Into { into, .. } => Some(into.as_str()),
        MemberRow::Hole { .. } => None,
    });
    let into: Vec<&str> = into.collect();
    (pair.len() - into.len(), into)
}

/// Holds the list of fasteners against the joints and the shop's data.
fn fasteners(bench: &Bench, desk: &mut Desk) {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for joint in &bench.kit.joints {
        *counts.entry(&joint.fastener).or_default() += joint.pairs.len();
    }
    for (kit, bolt) in bench.kit.ordered() {
        *counts.entry(&bolt.fastener).or_default() += bolt.count;
        let open = open_holes(bench, &bolt.fastener);
        if open < bolt.count {
            let words = format!(
                "{} of {} join it to {kit}, for which {open} holes are free",
                bolt.count, bolt.fastener
            );
            desk.off(&JOINT, words, (bolt.count as f64, open as f64), "");
        }
    }
    for row in &bench.kit.fasteners {
        let count = counts.remove(row.id.as_str()).unwrap_or(0);
        if count != row.count {
            let words = format!(
                "{} of {} are counted, joints and neighbours take {count}",
                row.count, row.id
            );
            desk.off(&JOINT, words, (row.count as f64, count as f64), "");
        }
        let spare = (row.count as f64 * bench.shelf.shop.drawing.spare_percent / 100.0).ceil();
        if row.spare as f64 != spare {
            let words = format!("{} spare of {}, by the shop's share {spare}", row.spare, row.id);
            desk.off(&JOINT, words, (row.spare as f64, spare), "");
        }
        if !bench.shelf.fastener(&row.id).is_some_and(|own| same(own, row)) {
            desk.tell(&STOCK, format!("{}: its sizes are not those of the shop's data", row.id));
        }
    }
    for (id, count) in counts {
        desk.tell(&JOINT, format!("{count} of {id} are taken by joints and not listed"));
    }
}

/// How many holes for a fastener belong to no joint, over all places.
fn open_holes(bench: &Bench, fastener: &str) -> usize {
    let free = |part: &PartRow| {
        let holes = part.holes.iter();
        holes.filter(|hole| hole.joint.is_none() && hole.purpose == fastener).count()
    };
    bench.kit.parts.iter().map(|part| free(part) * part.places.len()).sum()
}

fn same(own: &Fastener, row: &FastenerRow) -> bool {
    own.holes.normal == row.hole
        && own.diameter == row.diameter
        && own.edge == row.edge
        && own.grip() == row.grip
}
