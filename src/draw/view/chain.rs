//! Joins visible stretches end to end into runs, so that corners are drawn as corners.

use super::model::Spot;
use super::ring::Dot;
use crate::draw::{Pen, Picture};

/// Ends nearer than this are one, mm.
const JOIN: f64 = 1e-3;

/// A corner of the picture: x and y as whole multiples of `JOIN`, side by side.
type Key = u64;

/// Adds lines to the picture: wide ones last, so that they lie on top.
pub(super) fn draw(lines: &[([Spot; 2], Pen)], picture: &mut Picture) {
    for pen in [Pen::Fine, Pen::Narrow, Pen::Outline] {
        let chosen: Vec<[Dot; 2]> = lines
            .iter()
            .filter(|(_, with)| *with == pen)
            .map(|(line, _)| line.map(|p| Dot::new(p.x, p.y)))
            .filter(|line| square(line[1] - line[0]) > JOIN * JOIN)
            .collect();
        for run in runs(&chosen) {
            picture.stroke(run, pen);
        }
    }
}

fn key(p: Dot) -> Key {
    let whole = |d: f64| (d / JOIN + 0.5_f64.copysign(d)) as i32 as u32;
    Key::from(whole(p.x)) << 32 | Key::from(whole(p.y))
}

fn square(p: Dot) -> f64 {
    p.dot(p)
}

/// Lines and the corners at which they meet.
struct Web<'a> {
    lines: &'a [[Dot; 2]],
    /// The corner at each end of each line.
    corners: Vec<[usize; 2]>,
    /// Where the lines of each corner begin in `met`, and where those of the last end.
    starts: Vec<usize>,
    /// The lines that end at each corner, in ascending order.
    met: Vec<usize>,
    used: Vec<bool>,
}

/// Lines joined into runs, in the order of their first lines.
fn runs(lines: &[[Dot; 2]]) -> Vec<Vec<Dot>> {
    let mut web = Web::new(lines);
    let mut runs = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        if web.used[i] {
            continue;
        }
        web.used[i] = true;
        let mut run = vec![line[1], line[0]];
        web.extend(&mut run, web.corners[i][0]);
        run.reverse();
        web.extend(&mut run, web.corners[i][1]);
        runs.push(straightened(&run));
    }
    runs
}

impl<'a> Web<'a> {
    fn new(lines: &'a [[Dot; 2]]) -> Self {
        let ends = lines.iter().flatten().enumerate();
        let mut ends: Vec<(Key, u32)> = ends.map(|(i, end)| (key(*end), i as u32)).collect();
        ends.sort_unstable();
        let mut corners = vec![[0; 2]; lines.len()];
        let mut starts = Vec::with_capacity(ends.len() + 1);
        for (place, &(here, end)) in ends.iter().enumerate() {
            if place == 0 || ends[place - 1].0 != here {
                starts.push(place);
            }
            corners[end as usize / 2][end as usize % 2] = starts.len() - 1;
        }
        starts.push(ends.len());
        let met = ends.into_iter().map(|(_, end)| end as usize / 2).collect();
        Self { lines, corners, starts, met, used: vec![false; lines.len()] }
    }

    /// Goes on from the end of a run, which is at corner `here`, while exactly one unused line
    /// starts there; of several the first that runs on straight.
    fn extend(&mut self, run: &mut Vec<Dot>, mut here: usize) {
        while let [.., before, end] = run[..] {
            let Some(next) = self.next(end - before, end, here) else { return };
            self.used[next] = true;
            let far = self.far(next, here);
            run.push(self.lines[next][far]);
            here = self.corners[next][far];
        }
    }

    /// Which end of a line is the other one, seen from a corner.
    fn far(&self, line: usize, here: usize) -> usize {
        usize::from(self.corners[line][0] == here)
    }

    fn next(&self, way: Dot, end: Dot, here: usize) -> Option<usize> {
        let met = &self.met[self.starts[here]..self.starts[here + 1]];
        let mut free = met.iter().copied().filter(|&i| !self.used[i]);
        let first = free.next()?;
        let Some(second) = free.next() else { return Some(first) };
        let straight = |i: &usize| {
            let on = self.lines[*i][self.far(*i, here)] - end;
            let cross = way.cross(on);
            way.dot(on) > 0.0 && cross * cross < 1e-12 * square(way) * square(on)
        };
        [first, second].into_iter().chain(free).find(straight)
    }
}

/// A run without the points on its straight stretches.
fn straightened(run: &[Dot]) -> Vec<Dot> {
    let mut kept: Vec<Dot> = Vec::with_capacity(run.len());
    for &p in run {
        while let [.., a, b] = kept[..] {
            let (u, v) = (b - a, p - b);
            let cross = u.cross(v);
            if cross * cross > 1e-12 * square(u) * square(v) || u.dot(v) <= 0.0 {
                break;
            }
            kept.pop();
        }
        kept.push(p);
    }
    kept
}
