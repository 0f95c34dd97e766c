//! The section of a profile, folded: whether its legs run into one another.

use super::Sense;
use super::build::{FacePlan, Hang, setback};
use crate::geom::{FaceFrame, Point, side_distance};

type P = Point<FaceFrame>;

/// One leg of a section and the bend to the next.
pub(super) struct SectionLeg {
    /// Length of the flat between the bend zones, mm.
    pub(super) flat: f64,
    /// Bend to the next leg: angle, positive towards the upper side; 0 at the last leg.
    pub(super) turn: f64,
    /// Its inside radius, mm.
    pub(super) radius: f64,
}

/// The legs of a profile by name, in order across the section, from the faces laid out for them.
pub(super) fn section_legs(plans: &[FacePlan], names: &[&str], thickness: f64) -> Vec<SectionLeg> {
    let plan = |i: usize| plans.iter().find(|plan| plan.name == names[i]);
    let hang = |i: usize| plan(i).and_then(|plan| plan.hang.as_ref());
    let root = (0..names.len()).find(|&i| hang(i).is_none()).unwrap_or(0);
    // The bend between two legs belongs to the one farther from the root.
    let bend_after = |i: usize| {
        if i + 1 == names.len() { None } else { hang(if i < root { i } else { i + 1 }) }
    };
    let inset = |bend: Option<&Hang>| bend.map_or(0.0, |b| setback(b.angle, b.radius, thickness));
    let leg = |i: usize| {
        let (before, after) = (i.checked_sub(1).and_then(bend_after), bend_after(i));
        let size = plan(i).map_or(0.0, |plan| plan.mould.width());
        SectionLeg {
            flat: size - inset(before) - inset(after),
            turn: after.map_or(0.0, |b| if b.sense == Sense::Up { b.angle } else { -b.angle }),
            radius: after.map_or(0.0, |b| b.radius),
        }
    };
    (0..names.len()).map(leg).collect()
}

/// Two legs that come nearer than the sheet is thick, by their middle lines; neighbours do not
/// count. Returns their indexes and the distance of the middle lines.
pub(super) fn crossing(legs: &[SectionLeg], thickness: f64) -> Option<(usize, usize, f64)> {
    let lines = middle_lines(legs, thickness);
    for i in 0..lines.len() {
        for j in i + 2..lines.len() {
            let apart = apart(lines[i], lines[j]);
            if apart < thickness - 1e-6 {
                return Some((i, j, apart));
            }
        }
    }
    None
}

/// The middle line of each leg's flat, walked from the first leg on.
fn middle_lines(legs: &[SectionLeg], thickness: f64) -> Vec<[P; 2]> {
    let mut at = P::new(0.0, 0.0);
    let mut direction = P::new(1.0, 0.0);
    let mut lines = Vec::new();
    for leg in legs {
        let end = at + direction * leg.flat;
        lines.push([at, end]);
        let middle = leg.radius + thickness / 2.0;
        let centre = end + direction.left() * middle * leg.turn.signum();
        at = centre + (end - centre).turned(leg.turn);
        direction = direction.turned(leg.turn);
    }
    lines
}

/// Least distance of two segments; 0 when they cross.
fn apart(a: [P; 2], b: [P; 2]) -> f64 {
    let side = |s: [P; 2], p: P| (s[1] - s[0]).cross(p - s[0]);
    let split = |s: [P; 2], t: [P; 2]| side(s, t[0]) * side(s, t[1]) < 0.0;
    if split(a, b) && split(b, a) {
        return 0.0;
    }
    let ends = [(a[0], b), (a[1], b), (b[0], a), (b[1], a)];
    let distances = ends.map(|(p, s)| side_distance(p, s[0], s[1], 0.0));
    distances.into_iter().fold(f64::INFINITY, f64::min)
}
