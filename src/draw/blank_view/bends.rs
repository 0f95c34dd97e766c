//! Bend lines with their callouts, and the bend table.

use super::super::block::{Block, column, figures as figure_column};
use super::super::canvas::{At, Canvas, Room, grown, level, text_room};
use super::super::dimension::{Callout, FIGURE, callout};
use super::super::figure::{Figures, degrees, fixed, spoken};
use super::super::scale::Plot;
use super::super::text::text_width;
use super::super::{Align, Pen, Text};
use crate::brake::Plan;
use crate::flat::{Blank, BlankBend};
use crate::geom::{BlankFrame, Point};
use crate::kit::Part;
use crate::units;

/// Bends that are folded alike on one straight line, in the part's order.
#[derive(Debug, Clone, PartialEq)]
struct Alike {
    /// Indices of the bends.
    bends: Vec<usize>,
}

impl Alike {
    /// `B1`, or `B2–B10`.
    fn name(&self) -> String {
        match (self.bends.first(), self.bends.last()) {
            (Some(first), Some(last)) if first != last => format!("B{}–B{}", first + 1, last + 1),
            (Some(first), _) => format!("B{}", first + 1),
            _ => String::new(),
        }
    }

    /// What stands at the bend line: `B1 UP 90° R2`.
    fn call(&self, part: &Part, figures: Figures) -> String {
        let bend = &part.bends[self.bends[0]];
        let sense = bend.sense.word().to_uppercase();
        let radius = figures.small(bend.radius);
        format!("{} {sense} {} R{radius}", self.name(), degrees(bend.angle))
    }
}

/// The bends in groups; a row of teeth is one group, most bends stand alone.
fn alike(part: &Part, blank: &Blank) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for index in 0..part.bends.len() {
        match groups.last_mut() {
            Some(group) if joins(part, blank, group.bends[0], index) => group.bends.push(index),
            _ => groups.push(Alike { bends: vec![index] }),
        }
    }
    groups
}

/// Whether two bends are made alike, from one face, on one line.
fn joins(part: &Part, blank: &Blank, one: usize, other: usize) -> bool {
    let (a, b) = (&part.bends[one], &part.bends[other]);
    let ([p, q], [r, s]) = (blank.bends[one].line, blank.bends[other].line);
    let d = (q - p).unit();
    let on_line = |point: Point<BlankFrame>| d.cross(point - p).abs() < 0.01;
    let made = a.parent == b.parent && a.sense == b.sense && a.k_source == b.k_source;
    let size = a.angle == b.angle && a.radius == b.radius && a.k == b.k;
    made && size && on_line(r) && on_line(s)
}

/// The bend lines as thin lines; they take no room yet, so that their callouts can stand on them.
pub(super) fn lines(canvas: &mut Canvas, blank: &Blank, plot: &Plot<BlankFrame>) {
    for bend in &blank.bends {
        let ends = bend.line.map(|p| plot.point(p));
        canvas.unmarked(ends.to_vec(), Pen::Narrow);
    }
}

/// Sets each callout on its line where there is room, else beside it with a leader; then marks the
/// lines as taken.
pub(super) fn callouts(
    canvas: &mut Canvas,
    (part, blank, figures): (&Part, &Blank, Figures),
    plot: &Plot<BlankFrame>,
    within: &Room,
) {
    let lines: Vec<[At; 2]> = blank.bends.iter().map(|b| b.line.map(|p| plot.point(p))).collect();
    let mut homeless = Vec::new();
    for group in alike(part, blank) {
        let text = group.call(part, figures);
        let place = group.bends.iter().find_map(|&i| on_line(canvas, &lines, i, &text));
        match place {
            Some(words) => {
                canvas.blot(&grown(&text_room(&words), 0.2));
                canvas.text(words);
            }
            None => homeless.push((group, text)),
        }
    }
    for [a, b] in &lines {
        canvas.ink.mark_line(*a, *b);
    }
    for (group, text) in homeless {
        const SHARES: [f64; 5] = [0.5, 0.25, 0.75, 0.1, 0.9];
        let targets = group.bends.iter().flat_map(|&i| {
            let [a, b] = lines[i];
            SHARES.map(|share| a.toward(b, share))
        });
        for target in targets {
            let wish = Callout { text: text.clone(), target, radius: 0.0, within: *within };
            if callout(canvas, &wish) {
                break;
            }
        }
    }
}

/// The place on the line nearest its middle where the text meets nothing but its own line.
fn on_line(canvas: &Canvas, lines: &[[At; 2]], index: usize, text: &str) -> Option<Text> {
    let [a, b] = lines[index];
    let (length, width) = (a.distance(b), text_width(text, FIGURE, false));
    let d = (b - a).unit();
    let upright = d.x.abs() < 1e-6;
    if !upright && d.y.abs() > 1e-6 || width + 4.0 > length {
        return None;
    }
    let steps = ((length - width - 4.0) / 4.0).floor() as i32;
    let order = (0..=steps).map(|i| f64::from(if i % 2 == 0 { i / 2 } else { -(i / 2) - 1 }));
    let direction = if upright { 90.0 } else { 0.0 };
    let drop = Point::new(0.0, -FIGURE / 2.0).turned(direction);
    order
        .map(|step| a.toward(b, 0.5) + d * (4.0 * step) + drop)
        .map(|at| Text { direction, ..level(at, FIGURE, Align::Middle, text) })
        .find(|words| {
            let room = grown(&text_room(words), 0.3);
            let others = lines.iter().enumerate().filter(|(i, _)| *i != index);
            canvas.ink.is_free(&room) && others.into_iter().all(|(_, line)| !meets(&room, line))
        })
}

/// Whether a line meets a box; lines that pass a corner outside may count as meeting it.
fn meets(room: &Room, [a, b]: &[At; 2]) -> bool {
    let apart = a.x.max(b.x) < room.low.x
        || room.high.x < a.x.min(b.x)
        || a.y.max(b.y) < room.low.y
        || room.high.y < a.y.min(b.y);
    !apart
}

/// The bend table, with the number of the stroke where the order is known; none for a flat part.
pub(super) fn table(
    (part, plan): (&Part, Option<&Plan>),
    blank: &Blank,
    figures: Figures,
) -> Option<Block> {
    let mut columns = vec![
        column("Bend", 16.0),
        column("Between faces", 36.0),
        column("Direction", 17.0),
        figure_column("Angle", 13.0),
        figure_column("R inside", 15.0),
        figure_column("Allowance", 18.0),
        figure_column("K", 14.0),
        column("K from", 24.0),
        column("Line at", 21.0),
        figure_column("Leg", 15.0),
    ];
    let groups = alike(part, blank);
    let mut rows: Vec<_> = groups.iter().map(|group| cells(part, blank, group, figures)).collect();
    if let Some(plan) = plan {
        columns.insert(1, column("Order", 10.0));
        for (row, group) in rows.iter_mut().zip(&groups) {
            row.insert(1, strokes(plan, group));
        }
    }
    (!rows.is_empty()).then_some(Block::Table("Bends", columns, rows))
}

/// The numbers of the strokes that make a group: one for a row of teeth, as a rule.
fn strokes(plan: &Plan, group: &Alike) -> String {
    let mut numbers: Vec<usize> = group.bends.iter().filter_map(|b| plan.number_of(*b)).collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers.iter().map(usize::to_string).collect::<Vec<_>>().join(", ")
}

fn cells(part: &Part, blank: &Blank, group: &Alike, figures: Figures) -> Vec<String> {
    let first = group.bends[0];
    let (bend, drawn) = (&part.bends[first], &blank.bends[first]);
    let face = |index: usize| spoken(&part.faces[index].name);
    let children = match group.bends.last() {
        Some(&last) if last != first => {
            format!("{} … {}", face(bend.child), face(part.bends[last].child))
        }
        _ => face(bend.child),
    };
    vec![
        group.name(),
        format!("{} – {children}", face(bend.parent)),
        bend.sense.word().to_uppercase(),
        degrees(bend.angle),
        figures.small(bend.radius),
        figures.fine(drawn.allowance),
        fixed(bend.k, 3),
        bend.k_source.clone(),
        line_at(drawn, figures),
        figures.small(part.leg(bend)),
    ]
}

/// Where the bend line is: `Y 38.0`, `X 120.5`, or the direction of a slanting one.
fn line_at(bend: &BlankBend, figures: Figures) -> String {
    let [a, b] = bend.line;
    if (a.y - b.y).abs() < 0.01 {
        format!("Y {}", figures.place(a.y))
    } else if (a.x - b.x).abs() < 0.01 {
        format!("X {}", figures.place(a.x))
    } else {
        let direction = units::atan2_deg(b.y - a.y, b.x - a.x).rem_euclid(180.0);
        format!("at {}", degrees(direction))
    }
}
