//! A sheet in the making: everything drawn is noted in maps of what is taken.

use super::occupancy::Occupancy;
use super::text::text_width;
use super::{Align, Fill, Item, Pen, Shape, Sheet, Text};
use crate::geom::{Bounds, PaperFrame, Path, Point};

/// A point on the paper.
pub(super) type At = Point<PaperFrame>;

/// An upright rectangle on the paper.
pub(super) type Room = Bounds<PaperFrame>;

/// How far letters such as p and g reach below the base line, in heights of a capital.
const DESCENT: f64 = 0.32;

/// A sheet in the making.
#[derive(Debug, Clone)]
pub(super) struct Canvas {
    width: f64,
    height: f64,
    items: Vec<Item>,
    /// Lines, shapes and texts.
    pub(super) ink: Occupancy,
    /// Texts alone: leaders may cross lines, never texts.
    pub(super) words: Occupancy,
}

impl Canvas {
    /// An empty paper, mm.
    pub(super) fn new(width: f64, height: f64) -> Self {
        let empty = Occupancy::new(width, height);
        Self { width, height, items: Vec::new(), ink: empty.clone(), words: empty }
    }

    /// The finished sheet.
    pub(super) fn finish(self, title: String) -> Sheet {
        Sheet { width: self.width, height: self.height, title, items: self.items }
    }

    /// An open run of straight lines.
    pub(super) fn run(&mut self, points: Vec<At>, pen: Pen) {
        for pair in points.windows(2) {
            self.ink.mark_line(pair[0], pair[1]);
        }
        self.shape(Shape::Line(points), Some(pen), Fill::Empty);
    }

    /// One straight line.
    pub(super) fn line(&mut self, a: At, b: At, pen: Pen) {
        self.run(vec![a, b], pen);
    }

    /// An open run that takes no room yet: texts may be set on it.
    pub(super) fn unmarked(&mut self, points: Vec<At>, pen: Pen) {
        self.shape(Shape::Line(points), Some(pen), Fill::Empty);
    }

    /// A circle.
    pub(super) fn circle(&mut self, centre: At, radius: f64, pen: Pen) {
        let reach = Point::new(radius, radius);
        self.ink.mark_box(&Room { low: centre - reach, high: centre + reach });
        self.shape(Shape::Circle(centre, radius), Some(pen), Fill::Empty);
    }

    /// A filled dot.
    pub(super) fn dot(&mut self, centre: At, radius: f64) {
        let reach = Point::new(radius, radius);
        self.ink.mark_box(&Room { low: centre - reach, high: centre + reach });
        self.shape(Shape::Circle(centre, radius), None, Fill::Ink);
    }

    /// Closed outlines filled together.
    pub(super) fn closed(&mut self, paths: Vec<Path<PaperFrame>>, pen: Option<Pen>, fill: Fill) {
        for path in &paths {
            self.mark_path(path);
        }
        self.shape(Shape::Closed(paths), pen, fill);
    }

    /// Closed areas filled together, without a line; they take no room.
    pub(super) fn tint(&mut self, paths: Vec<Path<PaperFrame>>, fill: Fill) {
        self.shape(Shape::Closed(paths), None, fill);
    }

    /// An upright rectangle.
    pub(super) fn rectangle(&mut self, room: &Room, pen: Pen) {
        self.closed(vec![rectangle(room)], Some(pen), Fill::Empty);
    }

    /// A patch of paper that hides what lies behind; it takes no room.
    pub(super) fn blot(&mut self, room: &Room) {
        self.shape(Shape::Closed(vec![rectangle(room)]), None, Fill::Paper);
    }

    /// A text; nothing when it is empty.
    pub(super) fn text(&mut self, text: Text) {
        if text.content.is_empty() {
            return;
        }
        let room = text_room(&text);
        self.ink.mark_box(&room);
        self.words.mark_box(&room);
        self.items.push(Item::Text(text));
    }

    fn shape(&mut self, shape: Shape, pen: Option<Pen>, fill: Fill) {
        self.items.push(Item::Shape { shape, pen, fill });
    }

    fn mark_path(&mut self, path: &Path<PaperFrame>) {
        let points = path.points(0.2);
        for (i, &p) in points.iter().enumerate() {
            self.ink.mark_line(p, points[(i + 1) % points.len()]);
        }
    }
}

/// A level text in regular weight.
pub(super) fn level(at: At, height: f64, align: Align, content: impl Into<String>) -> Text {
    Text { at, height, align, direction: 0.0, bold: false, content: content.into() }
}

/// A level text in bold.
pub(super) fn strong(at: At, height: f64, align: Align, content: impl Into<String>) -> Text {
    Text { bold: true, ..level(at, height, align, content) }
}

/// The upright box around a text, descenders included.
pub(super) fn text_room(text: &Text) -> Room {
    let width = text_width(&text.content, text.height, text.bold);
    let start = match text.align {
        Align::Left => 0.0,
        Align::Middle => -width / 2.0,
        Align::Right => -width,
    };
    let (low, high) = (-DESCENT * text.height, text.height);
    let mut room = Room::empty();
    for corner in [(start, low), (start + width, low), (start + width, high), (start, high)] {
        room.add(text.at + turned(Point::new(corner.0, corner.1), text.direction));
    }
    room
}

/// A vector turned; the two directions of nearly all texts without trigonometry.
fn turned(v: At, direction: f64) -> At {
    if direction == 0.0 {
        v
    } else if direction == 90.0 {
        v.left()
    } else {
        v.turned(direction)
    }
}

/// A box grown by `by` on every side.
pub(super) fn grown(room: &Room, by: f64) -> Room {
    let reach = Point::new(by, by);
    Room { low: room.low - reach, high: room.high + reach }
}

/// Whether one box lies within another.
pub(super) fn contains(outer: &Room, inner: &Room) -> bool {
    outer.low.x <= inner.low.x
        && inner.high.x <= outer.high.x
        && outer.low.y <= inner.low.y
        && inner.high.y <= outer.high.y
}

/// The box as a closed path.
pub(super) fn rectangle(room: &Room) -> Path<PaperFrame> {
    let (a, b) = (room.low, room.high);
    Path::polygon(&[a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)])
}

/// The box with the given lower left corner and size.
pub(super) fn room(x: f64, y: f64, width: f64, height: f64) -> Room {
    Room { low: Point::new(x, y), high: Point::new(x + width, y + height) }
}
