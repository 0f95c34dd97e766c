//! Joins visible stretches end to end into runs, so that corners are drawn as corners.

use std::collections::BTreeMap;

use super::model::Spot;
use super::ring::Dot;
use crate::draw::{Pen, Picture};

/// Ends nearer than this are one, mm.
const JOIN: f64 = 1e-3;

/// A corner of the picture, as whole multiples of `JOIN`.
type Key = (i64, i64);

/// Adds lines to the picture: wide ones last, so that they lie on top.
pub(super) fn draw(lines: &[([Spot; 2], Pen)], picture: &mut Picture) {
    for pen in [Pen::Fine, Pen::Narrow, Pen::Outline] {
        let chosen: Vec<[Dot; 2]> = lines
            .iter()
            .filter(|(_, with)| *with == pen)
            .map(|(line, _)| line.map(|p| Dot::new(p.x, p.y)))
            .filter(|line| line[0].distance(line[1]) > JOIN)
            .collect();
        for run in runs(&chosen) {
            picture.stroke(run, pen);
        }
    }
}

fn key(p: Dot) -> Key {
    ((p.x / JOIN).round() as i64, (p.y / JOIN).round() as i64)
}

/// Lines joined into runs, in the order of their first lines.
fn runs(lines: &[[Dot; 2]]) -> Vec<Vec<Dot>> {
    let mut at: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    for (i, line) in lines.iter().enumerate() {
        for end in line {
            at.entry(key(*end)).or_default().push(i);
        }
    }
    let mut used = vec![false; lines.len()];
    let mut runs = Vec::new();
    for i in 0..lines.len() {
        if used[i] {
            continue;
        }
        used[i] = true;
        let mut back = vec![lines[i][1], lines[i][0]];
        extend(&mut back, lines, &at, &mut used);
        back.reverse();
        extend(&mut back, lines, &at, &mut used);
        runs.push(straightened(&back));
    }
    runs
}

/// Goes on from the end of a run while exactly one unused line starts there; of several the first
/// that runs on straight.
fn extend(
    run: &mut Vec<Dot>,
    lines: &[[Dot; 2]],
    at: &BTreeMap<Key, Vec<usize>>,
    used: &mut [bool],
) {
    while let [.., before, end] = run[..] {
        let here = key(end);
        let free: Vec<usize> =
            at.get(&here).into_iter().flatten().copied().filter(|&i| !used[i]).collect();
        let far = |i: usize| if key(lines[i][0]) == here { lines[i][1] } else { lines[i][0] };
        let straight = |i: &&usize| {
            let (u, v) = ((end - before).unit(), (far(**i) - end).unit());
            u.dot(v) > 0.0 && u.cross(v).abs() < 1e-6
        };
        let next = if free.len() == 1 { free.first() } else { free.iter().find(straight) };
        let Some(&next) = next else { return };
        used[next] = true;
        run.push(far(next));
    }
}

/// A run without the points on its straight stretches.
fn straightened(run: &[Dot]) -> Vec<Dot> {
    let mut kept: Vec<Dot> = Vec::with_capacity(run.len());
    for &p in run {
        while let [.., a, b] = kept[..] {
            let (u, v) = (b - a, p - b);
            if u.cross(v).abs() > 1e-6 * u.length() * v.length() || u.dot(v) <= 0.0 {
                break;
            }
            kept.pop();
        }
        kept.push(p);
    }
    kept
}
