//! Bend lines with their callouts, and the bend table.

use super::super::block::{Block, column, figures as figure_column};
use super::super::canvas::{At, Canvas, Room, grown, level, text_room};
use super::super::dimension::{Callout, FIGURE, callout};
use super::super::figure::{Figures, degrees, fixed};
use super::super::scale::Plot;
use super::super::text::text_width;
use super::super::{Align, Pen, Text};
use crate::flat::{Blank, BlankBend};
use crate::geom::{BlankFrame, Point};
use crate::kit::{Bend, Part};
use crate::units;

/// What stands at a bend line: `B1 UP 90° R2`.
pub(super) fn call(index: usize, bend: &Bend, figures: Figures) -> String {
    let sense = bend.sense.word().to_uppercase();
    let radius = figures.small(bend.radius);
    format!("B{} {sense} {} R{radius}", index + 1, degrees(bend.angle))
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
    for (i, bend) in part.bends.iter().enumerate() {
        let text = call(i, bend, figures);
        match on_line(canvas, &lines, i, &text) {
            Some(words) => {
                canvas.blot(&grown(&text_room(&words), 0.2));
                canvas.text(words);
            }
            None => homeless.push((i, text)),
        }
    }
    for [a, b] in &lines {
        canvas.ink.mark_line(*a, *b);
    }
    for (i, text) in homeless {
        let [a, b] = lines[i];
        let places = [0.5, 0.25, 0.75, 0.1, 0.9];
        places.into_iter().any(|share| {
            let target = a.toward(b, share);
            callout(canvas, &Callout { text: text.clone(), target, radius: 0.0, within: *within })
        });
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

/// The bend table; none for a flat part.
pub(super) fn table(part: &Part, blank: &Blank, figures: Figures) -> Option<Block> {
    let columns = vec![
        column("Bend", 11.0),
        column("Between faces", 38.0),
        column("Direction", 17.0),
        figure_column("Angle", 13.0),
        figure_column("R inside", 15.0),
        figure_column("Allowance", 18.0),
        figure_column("K", 14.0),
        column("K from", 24.0),
        column("Line at", 22.0),
        column("Order", 11.0),
    ];
    let bends = part.bends.iter().zip(&blank.bends).enumerate();
    let rows: Vec<_> =
        bends.map(|(i, (bend, drawn))| cells(part, (i, bend), drawn, figures)).collect();
    (!rows.is_empty()).then_some(Block::Table("Bends", columns, rows))
}

fn cells(part: &Part, bend: (usize, &Bend), drawn: &BlankBend, figures: Figures) -> Vec<String> {
    let (i, bend) = bend;
    let face = |index: usize| part.faces[index].name.as_str();
    vec![
        format!("B{}", i + 1),
        format!("{} – {}", face(bend.parent), face(bend.child)),
        bend.sense.word().to_uppercase(),
        degrees(bend.angle),
        figures.small(bend.radius),
        figures.fine(drawn.allowance),
        fixed(bend.k, 3),
        bend.k_source.clone(),
        line_at(drawn, figures),
        "–".to_owned(),
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
