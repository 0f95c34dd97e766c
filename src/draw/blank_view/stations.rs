//! Which positions of a blank are dimensioned: corners of the outline, bend lines and holes.

use super::super::dimension::capacity;
use super::super::scale::Scale;
use super::PAST_END;
use super::holes::Group;
use crate::flat::Blank;
use crate::geom::{BlankFrame, Point};
use crate::kit::Part;

/// Positions nearer than this carry the same figures, mm.
const SAME: f64 = 0.06;

/// One coordinate to show, with the point where its extension line starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Position {
    /// The coordinate, mm from the datum.
    pub(super) value: f64,
    /// The point it belongs to.
    pub(super) of: Point<BlankFrame>,
}

/// The positions at the four borders, each list in ascending order and starting with the datum;
/// empty lists where nothing is to be shown.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Positions {
    /// Shown below: x.
    pub(super) below: Vec<Position>,
    /// Shown above: x of what lies nearer the upper border.
    pub(super) above: Vec<Position>,
    /// Shown at the left: y.
    pub(super) left: Vec<Position>,
    /// Shown at the right: y of what lies nearer the right border.
    pub(super) right: Vec<Position>,
}

impl Positions {
    /// The positions that find room at a scale: a border with more than that shows the bend lines
    /// alone, or nothing when even they are too many. Also whether anything was left out.
    pub(super) fn thinned(self, blank: &Blank, scale: Scale) -> (Self, bool) {
        let across = capacity(blank.width * scale.factor() + PAST_END) + 1;
        let up = capacity(blank.height * scale.factor() + PAST_END) + 1;
        let mut left_out = false;
        let mut thin = |all: Vec<Position>, bends: Vec<Position>, most: usize| {
            let shown = [all, bends, Vec::new()].into_iter().enumerate();
            let chosen = shown.into_iter().find(|(_, list)| list.len() <= most);
            left_out |= chosen.as_ref().is_some_and(|(i, _)| *i > 0);
            chosen.map(|(_, list)| list).unwrap_or_default()
        };
        let bends = gathered(blank, &[]);
        let positions = Self {
            below: thin(self.below, bends.below, across),
            above: thin(self.above, bends.above, across),
            left: thin(self.left, bends.left, up),
            right: thin(self.right, bends.right, up),
        };
        (positions, left_out)
    }
}

/// Collects the positions; holes only where they are dimensioned and not listed in a table.
pub(super) fn positions(part: &Part, blank: &Blank, holes: &[Group]) -> Positions {
    let mut points = corners(part, blank);
    let centres = holes.iter().flat_map(|group| &group.holes).map(|hole| hole.centre);
    points.extend(centres.map(|p| (p, true, true)));
    gathered(blank, &points)
}

/// Positions of points, each with whether its x and its y are shown, and of the bend lines. Where a
/// bend ends is shown as well, as a slanting flank beside it starts there; not with bends alone.
fn gathered(blank: &Blank, points: &[(Point<BlankFrame>, bool, bool)]) -> Positions {
    let place_x = |of: Point<BlankFrame>| Position { value: of.x, of };
    let place_y = |of: Point<BlankFrame>| Position { value: of.y, of };
    let mut x: Vec<Position> = points.iter().filter(|p| p.1).map(|p| place_x(p.0)).collect();
    let mut y: Vec<Position> = points.iter().filter(|p| p.2).map(|p| place_y(p.0)).collect();
    for bend in &blank.bends {
        let [a, b] = bend.line;
        if (a.x - b.x).abs() < SAME {
            x.push(place_x(if a.y < b.y { a } else { b }));
            y.extend([a, b].map(place_y).iter().filter(|_| !points.is_empty()));
        } else if (a.y - b.y).abs() < SAME {
            y.push(place_y(if a.x < b.x { a } else { b }));
            x.extend([a, b].map(place_x).iter().filter(|_| !points.is_empty()));
        }
    }
    let (below, above) = split(x, blank.width, |p| p.y, blank.height);
    let (left, right) = split(y, blank.height, |p| p.x, blank.width);
    Positions { below, above, left, right }
}

/// The outline's corners, each with whether its x and its y are shown. Corners of reliefs and of
/// bend zones are left out: the bend's own line and the relief's note say where they are.
fn corners(part: &Part, blank: &Blank) -> Vec<(Point<BlankFrame>, bool, bool)> {
    let corners = blank.outer.vertices.iter().map(|v| v.at);
    corners
        .map(|p| {
            let (mut x, mut y) = (true, true);
            for (bend, drawn) in part.bends.iter().zip(&blank.bends) {
                let (wide, deep) = bend
                    .reliefs
                    .iter()
                    .fold((0.0_f64, 0.0_f64), |m, r| (m.0.max(r.width), m.1.max(r.depth)));
                let [a, b] = drawn.line;
                let d = (b - a).unit();
                let (along, across) = ((p - a).dot(d), (p - a).dot(d.left()).abs());
                let beside = -wide - 0.3 <= along && along <= a.distance(b) + wide + 0.3;
                if !beside || across > drawn.allowance / 2.0 + deep + 0.3 {
                    continue;
                }
                let level = d.y.abs() < 1e-6;
                let upright = d.x.abs() < 1e-6;
                y &= !(level || upright && wide > 0.0);
                x &= !(upright || level && wide > 0.0);
            }
            (p, x, y)
        })
        .collect()
}

/// Splits positions by the half of the blank in which they lie, merges equal ones and puts the
/// datum first. The far end is the overall dimension's.
fn split(
    mut all: Vec<Position>,
    extent: f64,
    across: impl Fn(Point<BlankFrame>) -> f64,
    depth: f64,
) -> (Vec<Position>, Vec<Position>) {
    all.sort_by(|a, b| a.value.total_cmp(&b.value).then(across(a.of).total_cmp(&across(b.of))));
    let inside = |p: &Position| SAME < p.value && p.value < extent - SAME;
    let mut near: Vec<Position> = Vec::new();
    let mut far: Vec<Position> = Vec::new();
    let mut first = 0;
    while first < all.len() {
        let last = all[first..].partition_point(|p| p.value - all[first].value < SAME) + first;
        let same = &all[first..last];
        first = last;
        if !inside(&same[0]) {
            continue;
        }
        let by_depth = |a: &&Position, b: &&Position| across(a.of).total_cmp(&across(b.of));
        let (Some(low), Some(high)) = (same.iter().min_by(by_depth), same.iter().max_by(by_depth))
        else {
            continue;
        };
        if across(low.of) <= depth / 2.0 { near.push(*low) } else { far.push(*high) }
    }
    let at_datum = |p: &&Position| p.value.abs() < SAME;
    let origin = Position { value: 0.0, of: Point::new(0.0, 0.0) };
    let low = all.iter().find(at_datum).copied().unwrap_or(origin);
    let high = all.iter().rev().find(at_datum).copied().unwrap_or(origin);
    for (list, datum) in [(&mut near, low), (&mut far, high)] {
        if !list.is_empty() {
            list.insert(0, Position { value: 0.0, of: datum.of });
        }
    }
    (near, far)
}
