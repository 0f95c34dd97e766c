//! Larger pictures of the places where two blanks differ.

use super::super::canvas::{Canvas, Room, strong};
use super::super::scale::{Plot, Scale};
use super::super::{Align, Pen};
use super::overlay::{GONE, NEW, lines};
use crate::compare::Overlay;
use crate::geom::{BlankFrame, Bounds, Path, Point};

/// Sheet shown around a difference, mm.
const AROUND: f64 = 10.0;
/// Most pictures beside each other.
const MOST: usize = 6;
/// A window wider than this share of the blank shows nothing that the blank does not.
const SHARE: f64 = 0.5;
/// Paper above a picture for its letter, and between pictures.
const HEAD: f64 = 7.0;

type Window = Bounds<BlankFrame>;

/// A window with its letter, and the scale at which it is drawn in the whole blank.
pub(super) struct Mark {
    pub(super) window: Window,
    pub(super) letter: char,
    pub(super) shown: Scale,
}

/// The windows around the largest differences, those that overlap as one; from left to right.
pub(super) fn windows(overlay: &Overlay) -> Vec<Window> {
    let mut windows: Vec<Window> = Vec::new();
    for ring in overlay.removed.iter().chain(&overlay.added) {
        let mut window = Path::polygon(ring).bounds();
        window = grown(&window);
        while let Some(index) = windows.iter().position(|other| overlap(other, &window)) {
            let other = windows.remove(index);
            window.add(other.low);
            window.add(other.high);
        }
        windows.push(window);
    }
    let whole = super::overlay::bounds(overlay);
    let most = whole.width().max(whole.height()) * SHARE;
    windows.retain(|window| window.width().max(window.height()) <= most);
    let across = |window: &Window| window.width().max(window.height());
    windows.sort_by(|a, b| across(b).total_cmp(&across(a)));
    windows.truncate(MOST);
    windows.sort_by(|a, b| a.low.x.total_cmp(&b.low.x).then(a.low.y.total_cmp(&b.low.y)));
    windows
}

fn grown(window: &Window) -> Window {
    let by = Point::new(AROUND, AROUND);
    Bounds { low: window.low - by, high: window.high + by }
}

fn overlap(a: &Window, b: &Window) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

/// Draws the windows side by side in the room, those alone that come out larger than in the blank.
pub(super) fn draw(canvas: &mut Canvas, overlay: &Overlay, room: &Room, marks: &[Mark]) {
    if marks.is_empty() || room.height() < 2.0 * HEAD {
        return;
    }
    let columns = if marks.len() > 3 { marks.len().div_ceil(2) } else { marks.len() };
    let rows = marks.len().div_ceil(columns);
    let cell = (room.width() / columns as f64, room.height() / rows as f64);
    for (index, mark) in marks.iter().enumerate() {
        let (column, row) = (index % columns, index / columns);
        let low = Point::new(
            room.low.x + cell.0 * column as f64,
            room.high.y - cell.1 * (row + 1) as f64,
        );
        let own = Room { low, high: low + Point::new(cell.0 - HEAD, cell.1 - HEAD) };
        one(canvas, overlay, &own, mark);
    }
}

fn one(canvas: &mut Canvas, overlay: &Overlay, room: &Room, mark: &Mark) {
    let window = &mark.window;
    let paper = (room.width(), room.height());
    let scale = Scale::fitting(window.width(), window.height(), paper);
    let middle = Point::new(
        room.low.x + scale.factor() * window.width() / 2.0,
        room.high.y - scale.factor() * window.height() / 2.0,
    );
    let plot = Plot::new(window, scale.factor(), middle);
    for (rings, fill) in [(&overlay.removed, GONE), (&overlay.added, NEW)] {
        let inside = |ring: &&Vec<Point<BlankFrame>>| {
            overlap(&Path::polygon(ring).bounds(), window) && ring.iter().all(|p| holds(window, *p))
        };
        let paths: Vec<_> =
            rings.iter().filter(inside).map(|ring| plot.path(&Path::polygon(ring))).collect();
        if !paths.is_empty() {
            canvas.tint(paths, fill);
        }
    }
    for line in lines(overlay) {
        let mut points = line.path.points(0.02);
        if line.closed {
            points.extend(points.first().copied());
        }
        for run in clipped(&points, window) {
            canvas.run(run.iter().map(|p| plot.point(*p)).collect(), line.pen);
        }
    }
    canvas.rectangle(&plot.bounds(window), Pen::Fine);
    let same = scale == mark.shown;
    let words =
        if same { mark.letter.to_string() } else { format!("{}   {}", mark.letter, scale.name()) };
    canvas.text(strong(Point::new(room.low.x, room.high.y + 1.5), 3.5, Align::Left, words));
}

fn holds(window: &Window, p: Point<BlankFrame>) -> bool {
    window.low.x <= p.x && p.x <= window.high.x && window.low.y <= p.y && p.y <= window.high.y
}

/// What of a run of lines lies in a window, as runs.
fn clipped(points: &[Point<BlankFrame>], window: &Window) -> Vec<Vec<Point<BlankFrame>>> {
    let mut runs: Vec<Vec<Point<BlankFrame>>> = Vec::new();
    for pair in points.windows(2) {
        let Some([a, b]) = clip(pair[0], pair[1], window) else { continue };
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|end| *end == a) => run.push(b),
            _ => runs.push(vec![a, b]),
        }
    }
    runs
}

/// The part of a segment that lies in a window.
fn clip(
    a: Point<BlankFrame>,
    b: Point<BlankFrame>,
    window: &Window,
) -> Option<[Point<BlankFrame>; 2]> {
    let way = b - a;
    let sides = [
        (way.x, window.low.x - a.x, window.high.x - a.x),
        (way.y, window.low.y - a.y, window.high.y - a.y),
    ];
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, low, high) in sides {
        if step == 0.0 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
            continue;
        }
        let (near, far) = (low / step, high / step);
        from = from.max(near.min(far));
        to = to.min(near.max(far));
    }
    (from < to).then(|| {
        [
            if from == 0.0 { a } else { a.toward(b, from) },
            if to == 1.0 { b } else { a.toward(b, to) },
        ]
    })
}
