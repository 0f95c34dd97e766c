//! A blank whose outline crosses itself cannot be cut: two faces would need the same sheet.

use super::{Rule, Subject};
use crate::geom::{BlankFrame, Path, Point, tolerance};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.outline",
    asks: "no blank's outline crosses or touches itself",
    limit: "no crossing, no touching",
    source: "geometry",
    remedy: "shorten or set back one of the faces that meet there",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for (part, blank) in subject.kit.parts.iter().zip(subject.blanks) {
        let Some(at) = crossing(&blank.outer) else { continue };
        notes.add(
            Finding::error(
                RULE.id,
                format!(
                    "{} ({}): the blank overlaps itself near x {:.1}, y {:.1} mm",
                    part.number, part.name, at.x, at.y
                ),
            )
            .about(part.number.clone())
            .source(RULE.source)
            .help(RULE.remedy),
        );
    }
}

/// A point where two sides that are not neighbours meet; arcs as chords of the contract's sag. The
/// sides are swept from left to right, so that only those that overlap in x are compared.
fn crossing(outline: &Path<BlankFrame>) -> Option<Point<BlankFrame>> {
    let points = outline.points(tolerance::SAG);
    let n = points.len();
    let side = |i: usize| (points[i], points[(i + 1) % n]);
    let mut order: Vec<usize> = (0..n).collect();
    let left = |i: usize| side(i).0.x.min(side(i).1.x);
    order.sort_by(|a, b| left(*a).total_cmp(&left(*b)));
    let mut open: Vec<usize> = Vec::new();
    for i in order {
        let from = left(i);
        open.retain(|&j| side(j).0.x.max(side(j).1.x) >= from - tolerance::SAME_POINT);
        for &j in &open {
            let apart = i.abs_diff(j);
            if apart > 1 && apart < n - 1 && meet(side(i), side(j)) {
                return Some(side(i).0.toward(side(i).1, 0.5));
            }
        }
        open.push(i);
    }
    None
}

type Side = (Point<BlankFrame>, Point<BlankFrame>);

/// Whether two sides cross, touch, or lie on one another.
fn meet(s: Side, t: Side) -> bool {
    let side = |p: Point<BlankFrame>, q: Point<BlankFrame>, r: Point<BlankFrame>| {
        let turn = (q - p).cross(r - p);
        if turn.abs() <= tolerance::SAME_POINT { 0.0 } else { turn.signum() }
    };
    let apart_in_y = s.0.y.max(s.1.y) < t.0.y.min(t.1.y) || t.0.y.max(t.1.y) < s.0.y.min(s.1.y);
    if apart_in_y {
        return false;
    }
    let of_t = [side(s.0, s.1, t.0), side(s.0, s.1, t.1)];
    if of_t == [0.0, 0.0] {
        let along = (s.1 - s.0).unit();
        let [a, b] = [t.0, t.1].map(|p| (p - s.0).dot(along));
        return a.max(b) > tolerance::SAME_POINT
            && a.min(b) < s.0.distance(s.1) - tolerance::SAME_POINT;
    }
    of_t[0] * of_t[1] <= 0.0 && side(t.0, t.1, s.0) * side(t.0, t.1, s.1) <= 0.0
}
