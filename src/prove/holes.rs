//! Holes: the DXF file's inside contours against `kit.json`, one to one, and what hole each is.

use super::codes::{CONTOUR, FACE, HOLE};
use super::contour::{SAME_CONTOUR, difference, place};
use super::cut::Cut;
use super::desk::{Desk, beyond, mm};
use super::shape::{Plain, measure};
use crate::flat::Contour;
use crate::geom::{BlankFrame, FaceFrame, Map2, Point};
use crate::kit::{Hole, HoleShape, Sunk};
use crate::reading::{NAME, PartRow, SunkRow};

type P = Point<BlankFrame>;

/// Two centres nearer than this belong to one hole, mm.
const SAME_HOLE: f64 = 1e-3;

/// How far a hole may have moved and still be taken for that hole, for messages, mm.
const MOVED: f64 = 5.0;

/// For each wanted centre the found one that belongs to it: exact ones first, then for what is left
/// the nearest that may have moved.
fn pair_up(wanted: &[P], found: &[P]) -> Vec<Option<usize>> {
    let mut order: Vec<usize> = (0..found.len()).collect();
    order.sort_by(|a, b| found[*a].x.total_cmp(&found[*b].x));
    let mut used = vec![false; found.len()];
    let mut pairs = vec![None; wanted.len()];
    for reach in [SAME_HOLE, MOVED] {
        for (pair, at) in pairs.iter_mut().zip(wanted).filter(|(pair, _)| pair.is_none()) {
            let start = order.partition_point(|i| found[*i].x < at.x - reach);
            let near = order[start..].iter().take_while(|i| found[**i].x <= at.x + reach);
            let far = |i: &usize| found[*i].distance(*at);
            let free = near.copied().filter(|i| !used[*i] && far(i) <= reach);
            *pair = free.min_by(|a, b| far(a).total_cmp(&far(b)));
            pair.iter().for_each(|i| used[*i] = true);
        }
    }
    pairs
}

/// Compares the inside contours of the DXF file with those of `kit.json`.
pub(super) fn contours(part: &PartRow, found: &[(Contour, String)], desk: &mut Desk) {
    let meant: Vec<Contour> = part.blank.inner.iter().map(|row| row.contour()).collect();
    let wanted: Vec<P> = meant.iter().map(|contour| measure(contour).0).collect();
    let centres: Vec<P> = found.iter().map(|(contour, _)| measure(contour).0).collect();
    let pairs = pair_up(&wanted, &centres);
    for ((contour, at), pair) in meant.iter().zip(&wanted).zip(&pairs) {
        match pair {
            Some(index) => same((contour, *at), &found[*index], desk),
            None => {
                desk.tell(&CONTOUR, format!("cuts nothing at {}, where {NAME} does", place(*at)))
            }
        }
    }
    for (index, (_, call)) in found.iter().enumerate() {
        if pairs.contains(&Some(index)) {
            continue;
        }
        let twice = wanted.iter().any(|at| at.distance(centres[index]) <= SAME_HOLE);
        let what = if twice { "is cut a second time" } else { "is no contour of" };
        let what = if twice { what.to_owned() } else { format!("{what} {NAME}") };
        desk.tell(&CONTOUR, format!("{call} {what}"));
    }
}

fn same((meant, at): (&Contour, P), (found, call): &(Contour, String), desk: &mut Desk) {
    let (what, by) = match (meant, found) {
        (Contour::Circle(_, d), Contour::Circle(centre, found)) => {
            let (off, wide) = (centre.distance(at), (found - d).abs());
            if off.max(wide) <= SAME_CONTOUR {
                return;
            }
            let size = format!("its diameter is {}, {} is meant", mm(*found), mm(*d));
            let moved = format!("is {} mm off {}", mm(off), place(at));
            (if wide <= off { moved } else { size }, off.max(wide))
        }
        (Contour::Loop(meant), Contour::Loop(found)) => match difference(found, meant) {
            Some(difference) => (difference.words, difference.by),
            None => return,
        },
        _ => ("is of another shape than meant".to_owned(), f64::INFINITY),
    };
    desk.off(&CONTOUR, format!("{call}: {what}"), (by, SAME_CONTOUR), "mm");
}

/// A hole as it is cut: what `kit.json` calls it, and its contour's measures.
#[derive(Debug)]
pub(super) struct CutHole<'a> {
    /// Index of its face in `kit.json`.
    pub(super) face: usize,
    id: &'a str,
    purpose: &'a str,
    joint: Option<&'a str>,
    contour: &'a Contour,
    centre: P,
    shape: Plain,
    sunk: Option<Sunk>,
}

impl CutHole<'_> {
    /// The hole in its face's own frame.
    pub(super) fn hole(&self, to_face: &Map2<BlankFrame, FaceFrame>) -> Hole {
        let shape = match (self.shape, self.contour) {
            (Plain::Round(d), _) => HoleShape::Round(d),
            (Plain::Slot(w, l, angle), _) => HoleShape::Slot(w, l, to_face.direction(angle)),
            (Plain::Rectangle(w, l, angle), _) => {
                HoleShape::Rectangle(w, l, to_face.direction(angle))
            }
            (Plain::Free, Contour::Loop(path)) => HoleShape::Cutout(path.mapped(to_face)),
            (Plain::Free, Contour::Circle(_, d)) => HoleShape::Round(*d),
        };
        Hole {
            id: self.id.to_owned(),
            centre: to_face.point(self.centre),
            shape,
            purpose: self.purpose.to_owned(),
            joint: self.joint.map(str::to_owned),
            sunk: self.sunk,
        }
    }
}

/// Gives each hole of `kit.json` the contour that is cut for it.
pub(super) fn assign<'a>(
    part: &'a PartRow,
    inner: &'a [(Contour, String)],
    desk: &mut Desk,
) -> Vec<CutHole<'a>> {
    let measures: Vec<(P, Plain)> = inner.iter().map(|(contour, _)| measure(contour)).collect();
    let centres: Vec<P> = measures.iter().map(|(at, _)| *at).collect();
    let wanted: Vec<P> =
        part.holes.iter().map(|row| Point::new(row.centre[0], row.centre[1])).collect();
    let pairs = pair_up(&wanted, &centres);
    let mut holes = Vec::with_capacity(inner.len());
    for ((row, pair), at) in part.holes.iter().zip(&pairs).zip(&wanted) {
        let face = part.face(&row.face);
        let (Some(index), Some(face)) = (*pair, face) else {
            desk.tell(
                &HOLE,
                format!("hole {} at {} on {} is not cut", row.id, place(*at), row.face),
            );
            continue;
        };
        let (centre, shape) = measures[index];
        let (off, wide) = (centre.distance(*at), shape.apart(&row.shape, &row.size, row.direction));
        if beyond(off.max(wide), SAME_CONTOUR) {
            let by = if off.max(wide).is_finite() { mm(off.max(wide)) } else { "more".to_owned() };
            let words =
                format!("hole {}: {} differs by {by} mm from {NAME}", row.id, inner[index].1);
            desk.off(&HOLE, words, (off.max(wide), SAME_CONTOUR), "mm");
        }
        let shape = shape.toward(row.direction);
        let (id, purpose, joint) = (&row.id, &row.purpose, row.joint.as_deref());
        let (contour, sunk) = (&inner[index].0, row.countersink.as_ref().map(sunk));
        holes.push(CutHole { face, id, purpose, joint, contour, centre, shape, sunk });
    }
    let rest = (0..inner.len()).filter(|index| !pairs.contains(&Some(*index)));
    holes.extend(cutouts(
        part,
        rest.map(|index| (&inner[index].0, measures[index])).collect(),
        desk,
    ));
    holes
}

fn sunk(row: &SunkRow) -> Sunk {
    Sunk { diameter: row.diameter, angle: row.angle, upper: row.side == "upper" }
}

/// What is left is cut out freely, in the order of the list.
fn cutouts<'a>(
    part: &'a PartRow,
    rest: Vec<(&'a Contour, (P, Plain))>,
    desk: &mut Desk,
) -> Vec<CutHole<'a>> {
    if rest.len() != part.cutouts.len() {
        let (cut, listed) = (rest.len(), part.cutouts.len());
        desk.tell(&HOLE, format!("{cut} contours are cut that are no holes, {listed} are listed"));
        return Vec::new();
    }
    let each = part.cutouts.iter().zip(rest).filter_map(|(row, (contour, (centre, _)))| {
        let face = part.face(&row.face)?;
        let (id, purpose) = (row.id.as_str(), row.purpose.as_str());
        Some(CutHole {
            face,
            id,
            purpose,
            joint: None,
            contour,
            centre,
            shape: Plain::Free,
            sunk: None,
        })
    });
    each.collect()
}

/// Tells of holes that do not lie on the face they are listed with. `faces` are the cut's faces in
/// the order of `kit.json`.
pub(super) fn on_faces(
    part: &PartRow,
    holes: &[CutHole],
    (cut, order): (&Cut, &[usize]),
    desk: &mut Desk,
) {
    for hole in holes {
        let at = match hole.contour {
            Contour::Loop(path) if hole.shape == Plain::Free => {
                path.vertices.first().map_or(hole.centre, |v| v.at)
            }
            _ => hole.centre,
        };
        if cut.faces[order[hole.face]].clearance(at) <= 0.0 {
            let face = &part.faces[hole.face].name;
            desk.tell(&FACE, format!("hole {} at {} does not lie on {face}", hole.id, place(at)));
        }
    }
}
