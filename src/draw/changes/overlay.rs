//! Two blanks laid upon each other: the old one in narrow long-dashed double-dotted lines, the new
//! one in wide continuous lines, sheet that is gone in a light tint, sheet that is new in a dark
//! one.

use super::super::canvas::{At, Canvas, Room, level, strong, text_room};
use super::super::scale::{Plot, Scale};
use super::super::text::text_width;
use super::super::{Align, Fill, Pen, Text};
use super::detail::Mark;
use super::window::Place;
use crate::compare::{Drawn, Overlay};
use crate::flat::Contour;
use crate::geom::{BlankFrame, Bounds, Map2, Path, Point, Vertex};

/// Height of the legend.
pub(super) const LEGEND: f64 = 6.0;
/// Sheet that only the older blank has.
pub(super) const GONE: Fill = Fill::Tint(18);
/// Sheet that only the newer blank has.
pub(super) const NEW: Fill = Fill::Tint(55);
/// Paper kept around the blanks for the letters of details.
const AROUND: f64 = 6.0;
/// Height of the scale's name below them.
const CAPTION: f64 = 5.0;
/// Least size of the frame around a place, mm.
const FRAME: f64 = 3.0;
/// Height of a letter.
const LETTER: f64 = 3.5;

/// Both blanks' bounding box in the newer one's frame.
pub(super) fn bounds(overlay: &Overlay) -> Bounds<BlankFrame> {
    let mut bounds = overlay.new.outer.bounds();
    let old = overlay.old.outer.mapped(&overlay.onto).bounds();
    bounds.add(old.low);
    bounds.add(old.high);
    bounds
}

/// The scale at which both fill a room.
pub(super) fn scale(overlay: &Overlay, room: &Room) -> Scale {
    let bounds = bounds(overlay);
    let paper = (room.width() - 2.0 * AROUND, room.height() - 2.0 * AROUND);
    Scale::fitting(bounds.width(), bounds.height(), paper)
}

/// Of a room the upper part that both take in it, with the scale's name below them.
pub(super) fn needed(overlay: &Overlay, room: &Room) -> Room {
    let height = scale(overlay, room).factor() * bounds(overlay).height() + 2.0 * AROUND + CAPTION;
    let low = Point::new(room.low.x, room.high.y - height.min(room.height()));
    Room { low, high: room.high }
}

/// Draws both in the room, with a letter at every place that is drawn larger; gives these marks.
pub(super) fn draw(
    canvas: &mut Canvas,
    overlay: &Overlay,
    room: &Room,
    places: &[Place],
) -> Vec<Mark> {
    let bounds = bounds(overlay);
    let scale = scale(overlay, room);
    let plot = Plot::new(&bounds, scale.factor(), room.centre());
    for (rings, fill) in [(&overlay.removed, GONE), (&overlay.added, NEW)] {
        let paths: Vec<_> = rings.iter().map(|ring| plot.path(&Path::polygon(ring))).collect();
        if !paths.is_empty() {
            canvas.tint(paths, fill);
        }
    }
    for line in lines(overlay) {
        let path = plot.path(&line.path);
        match line.closed {
            true => canvas.closed(vec![path], Some(line.pen), Fill::Empty),
            false => canvas.run(path.vertices.iter().map(|v| v.at).collect(), line.pen),
        }
    }
    let at = Point::new(room.low.x, room.low.y + 0.5);
    super::caption(canvas, at, &format!("Scale {}", scale.name()));
    letters(canvas, &plot, scale, places)
}

/// A line of either blank in the newer one's frame.
pub(super) struct Line {
    pub(super) path: Path<BlankFrame>,
    pub(super) closed: bool,
    pub(super) pen: Pen,
}

/// All lines, the older blank's first.
pub(super) fn lines(overlay: &Overlay) -> Vec<Line> {
    let mut all = Vec::new();
    for (drawn, onto, pens) in [
        (&overlay.old, overlay.onto, [Pen::Adjacent, Pen::Adjacent]),
        (&overlay.new, Map2::identity(), [Pen::Outline, Pen::Narrow]),
    ] {
        all.extend(of_blank(drawn, &onto, pens));
    }
    all
}

fn of_blank(
    drawn: &Drawn,
    onto: &Map2<BlankFrame, BlankFrame>,
    [outline, bend]: [Pen; 2],
) -> Vec<Line> {
    let ring = |contour: &Contour| match contour {
        Contour::Circle(centre, d) => circle(*centre, *d),
        Contour::Loop(path) => path.clone(),
    };
    let closed = std::iter::once(drawn.outer.clone()).chain(drawn.inner.iter().map(ring));
    let closed = closed.map(|path| Line { path: path.mapped(onto), closed: true, pen: outline });
    let bends = drawn.bends.iter().map(|ends| Line {
        path: Path::polygon(ends).mapped(onto),
        closed: false,
        pen: bend,
    });
    closed.chain(bends).collect()
}

fn circle(centre: Point<BlankFrame>, diameter: f64) -> Path<BlankFrame> {
    let out = Point::new(diameter / 2.0, 0.0);
    let half = |at| Vertex { at, bulge: 1.0 };
    Path { vertices: vec![half(centre + out), half(centre - out)] }
}

/// A frame around every place that a larger picture shows, and its letter beside the frame, where
/// it hides no other one.
fn letters(
    canvas: &mut Canvas,
    plot: &Plot<BlankFrame>,
    scale: Scale,
    places: &[Place],
) -> Vec<Mark> {
    let frames: Vec<Room> = places.iter().map(|place| frame(&plot.bounds(&place.window))).collect();
    frames.iter().for_each(|frame| canvas.rectangle(frame, Pen::Narrow));
    let mut marks = Vec::new();
    for ((place, frame), letter) in places.iter().zip(&frames).zip('A'..='Z') {
        let text = beside(canvas, frame, letter);
        canvas.text(text);
        marks.push(Mark { place: place.clone(), letter, shown: scale });
    }
    marks
}

/// A frame that is large enough to be seen.
fn frame(around: &Room) -> Room {
    let reach = Point::new(around.width().max(FRAME) / 2.0, around.height().max(FRAME) / 2.0);
    let centre = around.centre();
    Room { low: centre - reach, high: centre + reach }
}

/// The letter of a frame at the nearest place beside it that is free, preferably of all ink.
fn beside(canvas: &Canvas, frame: &Room, letter: char) -> Text {
    let width = text_width(&letter.to_string(), LETTER, true);
    let (left, right) = (frame.low.x - 0.8 - width, frame.high.x + 0.8);
    let (above, below) = (frame.high.y + 0.8, frame.low.y - 0.8 - LETTER);
    let spots = (0..8).flat_map(|step| {
        let away = f64::from(step) * (LETTER + 1.0);
        [
            (right, above + away),
            (left, above + away),
            (right, below - away),
            (left, below - away),
            (right + away, frame.low.y),
            (left - away, frame.low.y),
        ]
    });
    let mut texts =
        spots.map(|(x, y)| strong(Point::new(x, y), LETTER, Align::Left, letter.to_string()));
    let first = texts.clone().find(|text| canvas.ink.is_free(&text_room(text)));
    let second = || texts.find(|text| canvas.words.is_free(&text_room(text)));
    let last = || strong(Point::new(right, above), LETTER, Align::Left, letter.to_string());
    first.or_else(second).unwrap_or_else(last)
}

/// What the lines and tints mean.
pub(super) fn legend(canvas: &mut Canvas, at: At, [old, new]: [&str; 2]) {
    let mut x = at.x;
    let middle = at.y + 1.2;
    let lines =
        [(Pen::Outline, format!("revision {new}")), (Pen::Adjacent, format!("revision {old}"))];
    for (pen, words) in lines {
        canvas.line(Point::new(x, middle), Point::new(x + 16.0, middle), pen);
        canvas.text(level(Point::new(x + 18.0, at.y), 2.5, Align::Left, words));
        x += 48.0;
    }
    let fills =
        [(GONE, format!("sheet taken away in {new}")), (NEW, format!("sheet added in {new}"))];
    for (fill, words) in fills {
        let patch = Room { low: Point::new(x, at.y - 0.6), high: Point::new(x + 8.0, at.y + 3.0) };
        canvas.tint(vec![super::super::canvas::rectangle(&patch)], fill);
        canvas.rectangle(&patch, Pen::Fine);
        canvas.text(level(Point::new(x + 10.0, at.y), 2.5, Align::Left, words));
        x += 56.0;
    }
}
