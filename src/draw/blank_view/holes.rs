//! The holes of a blank gathered by size and into rows, for callouts and for the hole table.

use super::super::block::{Block, column, figures as figure_column};
use super::super::figure::{Figures, degrees};
use crate::flat::{Blank, BlankHole, Contour};
use crate::geom::{BlankFrame, Point};
use crate::kit::{Hole, HoleShape, Part};

/// Coordinates nearer than this are one on a drawing, mm.
const SAME: f64 = 0.05;

/// A hole as drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawnHole {
    /// Its middle in the blank.
    pub(super) centre: Point<BlankFrame>,
    /// Half of its least extent: where a leader may end.
    pub(super) radius: f64,
    /// Size, and direction where it has one: `slot 6.6 × 15 along X`.
    pub(super) size: String,
    purpose: String,
}

/// Holes of one size.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    /// `A`, `C`, ...
    pub(super) letter: String,
    /// The holes, by y then x.
    pub(super) holes: Vec<DrawnHole>,
}

/// Holes of one group in an evenly spaced row, or one alone.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct HoleRow {
    /// `A1`, `A2`, ...
    pub(super) label: String,
    /// The hole that carries the label.
    pub(super) first: DrawnHole,
    count: usize,
    step: Point<BlankFrame>,
}

/// All holes by size, in order of their first appearance in the part.
pub(super) fn groups(part: &Part, blank: &Blank, figures: Figures) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for hole in &blank.inner {
        let drawn = drawn(part, blank, hole, figures);
        match groups.iter_mut().find(|g| g.holes[0].size == drawn.size) {
            Some(group) => group.holes.push(drawn),
            None => {
                let letter = letter(groups.len());
                groups.push(Group { letter, holes: vec![drawn] });
            }
        }
    }
    for group in &mut groups {
        group
            .holes
            .sort_by(|a, b| order(a).total_cmp(&order(b)).then(a.centre.x.total_cmp(&b.centre.x)));
    }
    groups
}

/// Rows of a group: along x first, then along y, at least three evenly spaced; the rest alone.
pub(super) fn rows(group: &Group) -> Vec<HoleRow> {
    let (along_x, rest) = runs(&group.holes, |p| (p.y, p.x));
    let (along_y, single) = runs(&rest, |p| (p.x, p.y));
    let single = single.into_iter().map(|hole| vec![hole]);
    let mut rows: Vec<Vec<DrawnHole>> = along_x.into_iter().chain(along_y).chain(single).collect();
    rows.sort_by(|a, b| {
        order(&a[0]).total_cmp(&order(&b[0])).then(a[0].centre.x.total_cmp(&b[0].centre.x))
    });
    let numbered = rows.into_iter().enumerate();
    numbered
        .map(|(i, holes)| {
            let step = holes.get(1).map_or(Point::new(0.0, 0.0), |h| h.centre - holes[0].centre);
            let label = format!("{}{}", group.letter, i + 1);
            HoleRow { label, first: holes[0].clone(), count: holes.len(), step }
        })
        .collect()
}

/// The hole table.
pub(super) fn table(groups: &[Group], figures: Figures) -> Block {
    let columns = vec![
        column("Hole", 11.0),
        figure_column("Qty", 11.0),
        column("Size", 43.0),
        column("For", 26.0),
        figure_column("X of first", 20.0),
        figure_column("Y of first", 20.0),
        column("Spacing", 45.0),
    ];
    let rows = groups.iter().flat_map(rows).map(|row| cells(&row, figures)).collect();
    Block::Table("Holes, from the datum at the blank's lower left", columns, rows)
}

fn cells(row: &HoleRow, figures: Figures) -> Vec<String> {
    let spacing = match row.count {
        1 => String::new(),
        n if row.step.x.abs() > SAME => {
            format!("{} × {} along X", n - 1, figures.place(row.step.x))
        }
        n => format!("{} × {} along Y", n - 1, figures.place(row.step.y)),
    };
    vec![
        row.label.clone(),
        row.count.to_string(),
        row.first.size.clone(),
        row.first.purpose.clone(),
        figures.place(row.first.centre.x),
        figures.place(row.first.centre.y),
        spacing,
    ]
}

fn drawn(part: &Part, blank: &Blank, hole: &BlankHole, figures: Figures) -> DrawnHole {
    let made: &Hole = &part.faces[hole.face].holes[hole.hole];
    let (centre, radius) = match &hole.contour {
        Contour::Circle(centre, diameter) => (*centre, diameter / 2.0),
        Contour::Loop(path) => {
            let bounds = path.bounds();
            (bounds.centre(), bounds.width().min(bounds.height()) / 2.0)
        }
    };
    let direction = match &made.shape {
        HoleShape::Slot(_, _, d) | HoleShape::Rectangle(_, _, d) => {
            along(blank.faces[hole.face].direction(*d))
        }
        HoleShape::Round(_) | HoleShape::Cutout(_) => String::new(),
    };
    let sunk = made.sunk.map_or_else(String::new, |sunk| {
        let side = if sunk.upper { "" } else { ", back" };
        format!(" sunk {} to ⌀{}{side}", degrees(sunk.angle), figures.small(sunk.diameter))
    });
    let size = format!("{}{direction}{sunk}", figures.hole(&made.shape));
    DrawnHole { centre, radius, size, purpose: made.purpose.clone() }
}

/// A direction of length in words.
fn along(direction: f64) -> String {
    let turn = direction.rem_euclid(180.0);
    if turn < 0.05 || turn > 179.95 {
        " along X".to_owned()
    } else if (turn - 90.0).abs() < 0.05 {
        " along Y".to_owned()
    } else {
        format!(" at {}", degrees(turn))
    }
}

/// Row order: y to the drawing's accuracy, so that holes of one row stay together.
fn order(hole: &DrawnHole) -> f64 {
    (hole.centre.y / SAME).round()
}

/// Evenly spaced runs of at least three along a line, and the holes that are in none. `key` gives
/// the coordinate that stays and the one that runs.
fn runs(
    holes: &[DrawnHole],
    key: impl Fn(Point<BlankFrame>) -> (f64, f64),
) -> (Vec<Vec<DrawnHole>>, Vec<DrawnHole>) {
    let mut sorted: Vec<&DrawnHole> = holes.iter().collect();
    let rounded = |h: &DrawnHole| ((key(h.centre).0 / SAME).round(), key(h.centre).1);
    sorted.sort_by(|a, b| {
        let (a, b) = (rounded(a), rounded(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let (mut found, mut rest) = (Vec::new(), Vec::new());
    let mut start = 0;
    while start < sorted.len() {
        let end = run_end(&sorted, start, &key);
        let run = sorted[start..end].iter().map(|h| (*h).clone());
        if end - start >= 3 {
            found.push(run.collect());
        } else {
            // The last hole of a short run may start the next one.
            rest.push(sorted[start].clone());
            start += 1;
            continue;
        }
        start = end;
    }
    (found, rest)
}

/// The end of the longest even run from `start`.
fn run_end(
    holes: &[&DrawnHole],
    start: usize,
    key: impl Fn(Point<BlankFrame>) -> (f64, f64),
) -> usize {
    let at = |i: usize| key(holes[i].centre);
    let Some(step) = (start + 1 < holes.len()).then(|| at(start + 1).1 - at(start).1) else {
        return start + 1;
    };
    let mut end = start + 1;
    while end < holes.len()
        && (at(end).0 - at(start).0).abs() < SAME
        && (at(end).1 - at(end - 1).1 - step).abs() < SAME
        && holes[end].purpose == holes[start].purpose
    {
        end += 1;
    }
    end
}

/// `A` to `Z`, then `AA`, `AC`, ...; B is kept for bends, I and O look like figures.
fn letter(index: usize) -> String {
    const LETTERS: &[u8] = b"ACDEFGHJKLMNPQRSTUVWXYZ";
    let place = |i: usize| char::from(LETTERS[i % LETTERS.len()]);
    match index / LETTERS.len() {
        0 => place(index).to_string(),
        n => format!("{}{}", place(n - 1), place(index)),
    }
}
