//! Parts too small for their number: neighbours of one kind are joined by a fine line, and one
//! balloon serves them all.

use super::super::Pen;
use super::super::canvas::Canvas;
use super::super::scale::Plot;
use crate::geom::{Bounds, Point, ViewFrame};

/// Parts nearer than this are neighbours, mm of paper.
const NEAR: f64 = 1.6;
/// Radius of the dot on each part that is joined to others, mm of paper.
const DOT: f64 = 0.2;

/// A small part on the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Little {
    /// Index of the part in the request.
    pub(super) wanted: usize,
    /// The place in it farthest from its edges.
    pub(super) tip: Point<ViewFrame>,
    /// The box around it.
    pub(super) bounds: Bounds<ViewFrame>,
}

/// Joins neighbours of one kind by the shortest lines there are, and gives one of each group for
/// the balloon.
pub(super) fn joined(canvas: &mut Canvas, parts: &[Little], plot: &Plot<ViewFrame>) -> Vec<Little> {
    let mut left: Vec<usize> = (0..parts.len()).collect();
    let mut firsts = Vec::new();
    while !left.is_empty() {
        let start = left.remove(0);
        let (group, lines) = group(parts, start, &mut left, plot);
        for line in &lines {
            let [a, b] = line.map(|at| plot.point(parts[at].tip));
            canvas.line(a, b, Pen::Fine);
            canvas.dot(a, DOT);
            canvas.dot(b, DOT);
        }
        firsts.push(parts[outermost(parts, &group)]);
    }
    firsts
}

/// The group of a part, taken from those left, and the lines that join it: each of them the
/// shortest from a part found to one not yet found.
fn group(
    parts: &[Little],
    start: usize,
    left: &mut Vec<usize>,
    plot: &Plot<ViewFrame>,
) -> (Vec<usize>, Vec<[usize; 2]>) {
    let (mut group, mut lines) = (vec![start], Vec::new());
    // For each part left, the nearest neighbour found and how far it is.
    let mut near: Vec<Option<(f64, usize)>> = vec![None; parts.len()];
    let mut newest = start;
    loop {
        for at in left.iter().filter(|at| neighbours(&parts[newest], &parts[**at], plot)) {
            let far = parts[*at].tip.distance(parts[newest].tip);
            if near[*at].is_none_or(|(least, _)| far < least) {
                near[*at] = Some((far, newest));
            }
        }
        let found = left.iter().enumerate().filter_map(|(i, at)| Some((near[*at]?, i)));
        let Some(((_, from), i)) = found.min_by(|a, b| a.0.0.total_cmp(&b.0.0)) else {
            return (group, lines);
        };
        newest = left.remove(i);
        group.push(newest);
        lines.push([from, newest]);
    }
}

/// Whether two parts are of one kind and lie side by side.
fn neighbours(a: &Little, b: &Little, plot: &Plot<ViewFrame>) -> bool {
    let gap = |low: f64, high: f64| (low - high).max(0.0);
    let x = gap(b.bounds.low.x, a.bounds.high.x).max(gap(a.bounds.low.x, b.bounds.high.x));
    let y = gap(b.bounds.low.y, a.bounds.high.y).max(gap(a.bounds.low.y, b.bounds.high.y));
    a.wanted == b.wanted && plot.length(Point::<ViewFrame>::new(x, y).length()) <= NEAR
}

/// The part farthest from the middle of its group: a leader from outside crosses few others.
fn outermost(parts: &[Little], group: &[usize]) -> usize {
    let mut all = Bounds::empty();
    group.iter().for_each(|at| all.add(parts[*at].tip));
    let far = |at: usize| parts[at].tip.distance(all.centre());
    group.iter().copied().fold(group[0], |best, at| if far(best) < far(at) { at } else { best })
}
