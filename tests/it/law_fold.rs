//! Law: what is unfolded folds back. Every corner of every face, taken from the blank and folded by
//! the tests' own matrices, comes to where the engine put it.

use blankwright::flat::{Blank, BlankBend};
use blankwright::fold::FoldedPart;
use blankwright::geom::{BlankFrame, Point};
use blankwright::kit::{Bend, Part, Sense};
use proptest::prelude::*;

use crate::law_parts::part;
use crate::law_stock::{config, made};
use crate::law_turn::{Fold, Motion, Vector, length, minus};

/// How far a corner may be off, mm.
const NEAR: f64 = 1e-6;

fn flat(p: Point<BlankFrame>) -> Vector {
    [p.x, p.y, 0.0]
}

/// A bend as the convention declares it.
pub(crate) fn declared(part: &Part, bend: &Bend) -> Fold {
    Fold {
        angle: bend.angle,
        up: bend.sense == Sense::Up,
        radius: bend.radius,
        k: bend.k,
        thickness: part.thickness,
    }
}

/// Whether the face's outline in the blank has this side, run either way.
fn has_side(part: &Part, blank: &Blank, face: usize, ends: [Vector; 2]) -> bool {
    let map = &blank.faces[face];
    let corners: Vec<Vector> =
        part.faces[face].outline.vertices.iter().map(|v| flat(map.point(v.at))).collect();
    let near = |a: Vector, b: Vector| length(minus(a, b)) < NEAR;
    (0..corners.len()).any(|i| {
        let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
        (near(a, ends[0]) && near(b, ends[1])) || (near(a, ends[1]) && near(b, ends[0]))
    })
}

/// The motion of what lies beyond a bend, found from the blank alone: the parent's side lies half
/// an allowance before the line, the child's as far behind it.
fn beyond(part: &Part, blank: &Blank, index: usize) -> Motion {
    let bend = &part.bends[index];
    let fold = declared(part, bend);
    let BlankBend { line, allowance } = &blank.bends[index];
    assert!((allowance - fold.allowance()).abs() < 1e-9, "{}: {allowance}", bend.name);
    let [a, b] = line.map(flat);
    let d = minus(b, a);
    let n = [d[1] / length(d), -d[0] / length(d), 0.0];
    let shifted = |by: f64| [a, b].map(|p| [p[0] + n[0] * by, p[1] + n[1] * by, 0.0]);
    let half = fold.allowance() / 2.0;
    let found: Vec<f64> = [1.0, -1.0]
        .into_iter()
        .filter(|sign| {
            has_side(part, blank, bend.parent, shifted(-sign * half))
                && has_side(part, blank, bend.child, shifted(sign * half))
        })
        .collect();
    assert_eq!(found.len(), 1, "{}: the zone's sides are not the faces' own", bend.name);
    fold.motion(shifted(-found[0] * half)[0], n.map(|x| x * found[0]))
}

/// Each face's way from the blank to the blank folded, with the root flat.
pub(crate) fn refolded(part: &Part, blank: &Blank) -> Vec<Motion> {
    let still = Motion { m: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], shift: [0.0; 3] };
    let mut faces = vec![still; part.faces.len()];
    for (index, bend) in part.bends.iter().enumerate() {
        faces[bend.child] = beyond(part, blank, index).then(&faces[bend.parent]);
    }
    faces
}

/// The way from the blank to the root face's own frame.
fn to_root(blank: &Blank) -> Motion {
    let map = &blank.faces[0];
    let (x, y, s) = (map.x_axis, map.y_axis, map.shift);
    let turn = [[x.x, y.x, 0.0], [x.y, y.y, 0.0], [0.0, 0.0, 1.0]];
    let there = Motion { m: turn, shift: [s.x, s.y, 0.0] };
    assert!(there.unlike_a_turn() < 1e-9, "a face is turned over in its blank");
    there.back()
}

fn folds_back(part: &Part, folded: &FoldedPart, blank: &Blank) {
    let root = to_root(blank);
    let mine: Vec<Motion> = refolded(part, blank).iter().map(|m| m.then(&root)).collect();
    for ((face, pose), (map, motion)) in
        part.faces.iter().zip(&folded.faces).zip(blank.faces.iter().zip(&mine))
    {
        for vertex in &face.outline.vertices {
            for z in [0.0, part.thickness] {
                let theirs = pose.lifted(vertex.at, z);
                let theirs = [theirs.x, theirs.y, theirs.z];
                let at = map.point(vertex.at);
                let ours = motion.point([at.x, at.y, z]);
                let apart = length(minus(ours, theirs));
                assert!(apart < NEAR, "{}: {ours:?} {theirs:?}", face.name);
            }
        }
    }
}

proptest! {
    #![proptest_config(config(192))]

    #[test]
    fn every_corner_folds_back_to_its_place(trial in part()) {
        let made = made(&trial)?;
        assert_eq!(made.kit.parts.len(), 2);
        for (part, folded, blank) in made.parts() {
            folds_back(part, folded, blank);
        }
    }
}
