//! Pictures of the folded part on the paper: the isometric view, and the section with its sizes.

use super::canvas::{Canvas, Room, grown, level, strong, text_room};
use super::dimension::{Aligned, Callout, aligned, callout};
use super::figure::{Figures, degrees, spoken, trimmed};
use super::scale::{Plot, Scale};
use super::view::{LegSize, ProfileView};
use super::{Align, Pen, Picture};
use crate::geom::{Point, ViewFrame};
use crate::kit::Part;

/// Height of a caption above a view.
pub(super) const CAPTION: f64 = 9.0;
/// Paper kept around a section for its dimensions: little is tried first.
const AROUND: [f64; 4] = [11.0, 16.0, 24.0, 34.0];

/// The caption at the upper left of a room.
pub(super) fn caption(canvas: &mut Canvas, room: &Room, name: &str, words: &str) {
    let title = strong(Point::new(room.low.x, room.high.y - 3.5), 3.5, Align::Left, name);
    let end = text_room(&title).high.x;
    canvas.text(title);
    canvas.text(level(Point::new(end + 3.5, room.high.y - 3.5), 2.5, Align::Left, words));
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
/// every size finds its place.
pub(super) fn section(
    canvas: &mut Canvas,
    (view, part, figures): (&ProfileView, &Part, Figures),
    room: &Room,
) {
    let within = under_caption(room);
    let bounds = &view.picture.bounds;
    let mut drawn = None;
    for around in AROUND {
        let paper = (within.width() - 2.0 * around, within.height() - 2.0 * around);
        let scale = Scale::fitting(bounds.width(), bounds.height(), paper);
        let mut trial = canvas.clone();
        let plot = Plot::new(bounds, scale.factor(), within.centre());
        let complete = sized_section(&mut trial, (view, part, figures), &plot, &within);
        drawn = Some((trial, scale));
        if complete {
            break;
        }
    }
    let Some((trial, scale)) = drawn else { return };
    *canvas = trial;
    caption(canvas, room, "Section", &format!("{}   outside sizes", scale.name()));
}

/// The section at one scale; whether all its sizes found a place.
fn sized_section(
    canvas: &mut Canvas,
    (view, part, figures): (&ProfileView, &Part, Figures),
    plot: &Plot<ViewFrame>,
    within: &Room,
) -> bool {
    strokes(canvas, &view.picture, plot);
    let size = |canvas: &mut Canvas, leg: &LegSize| {
        let ends = [plot.point(leg.from), plot.point(leg.to)];
        let side = plot.vector(leg.side).unit();
        aligned(canvas, &Aligned { ends, side, text: figures.length(leg.size), within: *within })
    };
    let sized = view.legs.iter().filter(|leg| size(canvas, leg)).count();
    radii(canvas, (view, figures), plot, within);
    angles(canvas, view, plot, within);
    for leg in &view.legs {
        leg_name(canvas, leg, plot, &part.faces[leg.face].name);
    }
    sized == view.legs.len()
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
