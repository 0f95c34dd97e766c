//! Finds texts of a sheet that meet another text, a line that shows, or the paper's edge.

use blankwright::draw::{Align, Fill, Item, Shape, Sheet, Text, text_width};
use blankwright::geom::{Bounds, PaperFrame, Path, Point};

type At = Point<PaperFrame>;
type Room = Bounds<PaperFrame>;

/// Every collision of the sheet in words; empty when all texts stand free. A line under a text does
/// not count where a patch of paper, drawn after the line and before the text, hides it.
pub(crate) fn collisions(sheet: &Sheet) -> Vec<String> {
    let texts: Vec<(usize, Label<'_>)> = sheet
        .items
        .iter()
        .enumerate()
        .filter_map(|(i, item)| match item {
            Item::Text(text) => Some((i, Label::new(text))),
            Item::Shape { .. } => None,
        })
        .collect();
    let mut found = Vec::new();
    let paper = Room { low: Point::new(0.0, 0.0), high: Point::new(sheet.width, sheet.height) };
    for (n, (_, label)) in texts.iter().enumerate() {
        if !label.corners().iter().all(|p| contains(&paper, *p)) {
            found.push(format!("'{}' leaves the paper", label.text.content));
        }
        for (_, other) in texts[n + 1..].iter().filter(|(_, other)| label.meets(other)) {
            found.push(format!("'{}' meets '{}'", label.text.content, other.text.content));
        }
    }
    let blots = blots(sheet);
    for (i, item) in sheet.items.iter().enumerate() {
        let Item::Shape { shape, pen, fill } = item else { continue };
        if pen.is_none() && *fill != Fill::Ink {
            continue;
        }
        for line in segments(shape) {
            let crossed = texts.iter().filter(|(k, label)| label.shows(line, &blots, (i, *k)));
            found.extend(crossed.map(|(_, label)| {
                let [a, b] = line.map(|p| format!("({:.1}, {:.1})", p.x, p.y));
                format!("'{}' is crossed by {pen:?} {a} - {b}", label.text.content)
            }));
        }
    }
    found
}

/// A text with the box it fills in its own direction: base line to capitals, and below the base
/// line where letters reach down.
struct Label<'a> {
    text: &'a Text,
    area: Room,
}

impl<'a> Label<'a> {
    fn new(text: &'a Text) -> Self {
        let width = text_width(&text.content, text.height, text.bold);
        let start = match text.align {
            Align::Left => 0.0,
            Align::Middle => -width / 2.0,
            Align::Right => -width,
        };
        let deep = text.content.contains(|c| "gjpqy,;()[]⌀".contains(c));
        let low = if deep { -0.28 * text.height } else { 0.0 };
        let high = Point::new(start + width, text.height);
        Self { text, area: Room { low: Point::new(start, low), high } }
    }

    fn corners(&self) -> [At; 4] {
        let (low, high) = (self.area.low, self.area.high);
        let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
        corners.map(|p| self.text.at + p.turned(self.text.direction))
    }

    /// The part of a line inside the box; none when it stays outside.
    fn clipped(&self, a: At, b: At) -> Option<[At; 2]> {
        let own = |p: At| (p - self.text.at).turned(-self.text.direction);
        let inside = clipped(own(a), own(b), &self.area)?;
        Some(inside.map(|p| self.text.at + p.turned(self.text.direction)))
    }

    /// Whether a line is seen in the box: no patch of paper, drawn after the line and before the
    /// text, hides it. `order` holds the places of line and text among the items.
    fn shows(&self, line: [At; 2], blots: &[(usize, Room)], order: (usize, usize)) -> bool {
        let Some(inside) = self.clipped(line[0], line[1]) else { return false };
        let covers = |blot: &Room| inside.iter().all(|p| contains(blot, *p));
        !blots.iter().any(|(j, blot)| order.0 < *j && *j < order.1 && covers(blot))
    }

    /// Whether a side of one box enters the other: equal boxes are no smaller than their letters,
    /// so one within the other is met by a side too, or has its own side met.
    fn meets(&self, other: &Self) -> bool {
        let enters = |one: &Self, two: &Self| {
            let c = one.corners();
            (0..4).any(|i| two.clipped(c[i], c[(i + 1) % 4]).is_some())
        };
        enters(self, other) || enters(other, self)
    }
}

fn blots(sheet: &Sheet) -> Vec<(usize, Room)> {
    let items = sheet.items.iter().enumerate();
    items
        .filter_map(|(i, item)| match item {
            Item::Shape { shape: Shape::Closed(paths), fill: Fill::Paper, .. } => {
                paths.first().map(|path| (i, path.bounds()))
            }
            _ => None,
        })
        .collect()
}

/// The straight pieces of a shape; arcs by short chords.
fn segments(shape: &Shape) -> Vec<[At; 2]> {
    match shape {
        Shape::Line(points) => points.windows(2).map(|p| [p[0], p[1]]).collect(),
        Shape::Circle(centre, radius) => arc(*centre, *radius, 0.0, 360.0),
        Shape::Arc(centre, radius, from, to) => arc(*centre, *radius, *from, *to),
        Shape::Closed(paths) => paths.iter().flat_map(ring).collect(),
    }
}

fn ring(path: &Path<PaperFrame>) -> Vec<[At; 2]> {
    let points = path.points(0.05);
    (0..points.len()).map(|i| [points[i], points[(i + 1) % points.len()]]).collect()
}

fn arc(centre: At, radius: f64, from: f64, to: f64) -> Vec<[At; 2]> {
    let sweep = (to - from).rem_euclid(360.0);
    let sweep = if sweep == 0.0 { 360.0 } else { sweep };
    let at = |i: u32| centre + Point::new(radius, 0.0).turned(from + sweep * f64::from(i) / 24.0);
    (0..24).map(|i| [at(i), at(i + 1)]).collect()
}

fn contains(room: &Room, p: At) -> bool {
    room.low.x - 1e-9 <= p.x
        && p.x <= room.high.x + 1e-9
        && room.low.y - 1e-9 <= p.y
        && p.y <= room.high.y + 1e-9
}

/// The part of a line inside a box (Liang and Barsky); none when it stays outside.
fn clipped(a: At, b: At, room: &Room) -> Option<[At; 2]> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [
        (-d.x, a.x - room.low.x),
        (d.x, room.high.x - a.x),
        (-d.y, a.y - room.low.y),
        (d.y, room.high.y - a.y),
    ];
    for (p, q) in sides {
        if p == 0.0 {
            if q <= 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    (from < to).then(|| [a.toward(b, from), a.toward(b, to)])
}
