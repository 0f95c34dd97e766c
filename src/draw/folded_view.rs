//! Pictures of the folded part on the paper: the isometric view, and the section with its sizes.

use super::canvas::{Canvas, Room, grown, level, strong, text_room};
use super::dimension::{Aligned, Callout, aligned, callout};
use super::figure::{Figures, degrees, spoken, trimmed};
use super::scale::{Plot, Scale};
use super::setting::fitted;
use super::view::{LegSize, ProfileView};
use super::{Align, Pen, Picture};
use crate::geom::{Point, ViewFrame};
use crate::kit::Part;

/// Height of a caption above a view.
pub(super) const CAPTION: f64 = 9.0;
/// Paper kept around a section for its dimensions, mm.
const AROUND: f64 = 10.0;
/// How many scales are tried.
const TRIES: usize = 2;

/// The caption at the upper left of a room.
pub(super) fn caption(canvas: &mut Canvas, room: &Room, name: &str, words: &str) {
    let title = strong(Point::new(room.low.x, room.high.y - 3.5), 3.5, Align::Left, name);
    let start = text_room(&title).high.x + 3.5;
    canvas.text(title);
    let (words, height) = fitted(words, 2.5, false, room.high.x - start);
    canvas.text(level(Point::new(start, room.high.y - 3.5), height, Align::Left, words));
}

/// What is left of a room under its caption.
pub(super) fn under_caption(room: &Room) -> Room {
    Room { low: room.low, high: room.high - Point::new(0.0, CAPTION) }
}

/// Draws a picture as large as the room allows, at most at full size; gives the plot, or none for
/// an empty picture.
pub(super) fn picture(
    canvas: &mut Canvas,
    picture: &Picture,
    room: &Room,
) -> Option<Plot<ViewFrame>> {
    let (width, height) = (picture.bounds.width(), picture.bounds.height());
    if picture.strokes.is_empty() || width.max(height) <= 0.0 {
        return None;
    }
    let across = if width > 0.0 { room.width() / width } else { f64::INFINITY };
    let up = if height > 0.0 { room.height() / height } else { f64::INFINITY };
    let plot = Plot::new(&picture.bounds, across.min(up).min(1.0), room.centre());
    strokes(canvas, picture, &plot);
    Some(plot)
}

fn strokes(canvas: &mut Canvas, picture: &Picture, plot: &Plot<ViewFrame>) {
    for area in &picture.areas {
        let paths = area.outlines.iter().map(|path| plot.path(path)).collect();
        canvas.tint(paths, area.fill);
    }
    // Wide lines would run together where a picture is much reduced.
    let small = plot.length(1.0) < 0.15;
    for stroke in &picture.strokes {
        let pen = match stroke.pen {
            Pen::Outline if small => Pen::Narrow,
            Pen::Narrow if small => Pen::Fine,
            pen => pen,
        };
        canvas.run(stroke.line.iter().map(|p| plot.point(*p)).collect(), pen);
    }
}

/// Draws the section with the sizes of its legs, radii and angles, at the largest scale at which
/// nearly every size finds its place as a dimension, else at the one with the most.
pub(super) fn section(canvas: &mut Canvas, subject: (&ProfileView, &Part, Figures), room: &Room) {
    let within = under_caption(room);
    let bounds = &subject.0.picture.bounds;
    let paper = (within.width() - 2.0 * AROUND, within.height() - 2.0 * AROUND);
    let mut best: Option<(usize, Canvas, Scale)> = None;
    for scale in Scale::fitting(bounds.width(), bounds.height(), paper).and_smaller().take(TRIES) {
        let mut trial = canvas.clone();
        let plot = Plot::new(bounds, scale.factor(), within.centre());
        let missing = sized_section(&mut trial, subject, &plot, &within);
        if best.as_ref().is_none_or(|(least, _, _)| missing < *least) {
            best = Some((missing, trial, scale));
        }
        if missing <= 1 {
            break;
        }
    }
    let Some((_, trial, scale)) = best else { return };
    *canvas = trial;
    caption(canvas, room, "Section", &format!("{}   outside sizes", scale.name()));
}

/// The section at one scale. Gives how many sizes found no place as a dimension; those are told
/// with a leader, and count threefold where even that has no room.
fn sized_section(
    canvas: &mut Canvas,
    (view, part, figures): (&ProfileView, &Part, Figures),
    plot: &Plot<ViewFrame>,
    within: &Room,
) -> usize {
    strokes(canvas, &view.picture, plot);
    let mut missing = Vec::new();
    for leg in &view.legs {
        let ends = [plot.point(leg.from), plot.point(leg.to)];
        let side = plot.vector(leg.side).unit();
        let text = figures.length(leg.size);
        if !aligned(canvas, &Aligned { ends, side, text, within: *within }) {
            missing.push(leg);
        }
    }
    let mut untold = 0;
    for leg in &missing {
        let name = spoken(&part.faces[leg.face].name);
        let text = format!("{name} {}", figures.length(leg.size));
        let target = plot.point(leg.from.toward(leg.to, 0.5));
        let wish = Callout { text, target, radius: 0.0, within: *within };
        untold += usize::from(!callout(canvas, &wish));
    }
    radii(canvas, (view, figures), plot, within);
    angles(canvas, view, plot, within);
    for leg in &view.legs {
        leg_name(canvas, leg, plot, &part.faces[leg.face].name);
    }
    missing.len() + 2 * untold
}

/// One callout for each inside radius.
fn radii(
    canvas: &mut Canvas,
    (view, figures): (&ProfileView, Figures),
    plot: &Plot<ViewFrame>,
    within: &Room,
) {
    let mut sizes: Vec<(String, Vec<Point<ViewFrame>>)> = Vec::new();
    for bend in &view.bends {
        let text = format!("R{} inside", figures.small(bend.radius));
        match sizes.iter_mut().find(|(known, _)| *known == text) {
            Some((_, places)) => places.push(bend.inside),
            None => sizes.push((text, vec![bend.inside])),
        }
    }
    for (text, places) in sizes {
        let text = if places.len() > 1 { format!("{} × {text}", places.len()) } else { text };
        places.into_iter().any(|place| {
            let target = plot.point(place);
            let text = text.clone();
            callout(canvas, &Callout { text, target, radius: 0.05, within: *within })
        });
    }
}

/// The angle between the legs where it is not a right one.
fn angles(canvas: &mut Canvas, view: &ProfileView, plot: &Plot<ViewFrame>, within: &Room) {
    for bend in view.bends.iter().filter(|bend| (bend.between - 90.0).abs() > 0.01) {
        let text = format!("{} between legs", degrees(bend.between));
        let target = plot.point(bend.outside);
        callout(canvas, &Callout { text, target, radius: 0.05, within: *within });
    }
}

/// The leg's name beside it, on the side away from its dimension, where it is free.
fn leg_name(canvas: &mut Canvas, leg: &LegSize, plot: &Plot<ViewFrame>, name: &str) {
    let middle = plot.point(leg.from.toward(leg.to, 0.5));
    let side = plot.vector(leg.side).unit();
    let upright = side.x.abs() > 0.7;
    for (distance, share) in [(3.0, 0.0), (4.5, 0.0), (3.0, 0.25), (3.0, -0.25), (6.0, 0.0)] {
        let along = (plot.point(leg.to) - plot.point(leg.from)) * share;
        let at = middle - side * distance + along;
        let align = match (upright, side.x > 0.0) {
            (true, true) => Align::Right,
            (true, false) => Align::Left,
            (false, _) => Align::Middle,
        };
        let text = level(at - Point::new(0.0, 0.9), 1.8, align, spoken(name));
        if canvas.ink.is_free(&grown(&text_room(&text), 0.2)) {
            canvas.text(text);
            return;
        }
    }
}

/// The thickness as ordered: `2 mm`, `14 ga (1.99 mm)`.
pub(super) fn thickness(part: &Part, figures: Figures) -> String {
    let size = if figures.inches {
        format!("{} in", figures.small(part.thickness))
    } else {
        format!("{} mm", trimmed(part.thickness, 3))
    };
    if part.gauge.is_empty() { size } else { format!("{} ({size})", part.gauge) }
}
