//! Larger pictures of the places where two blanks differ.

use super::super::canvas::{Canvas, Room, level, strong};
use super::super::scale::{Plot, Scale};
use super::super::text::text_width;
use super::super::{Align, Pen};
use super::overlay::{GONE, NEW, lines};
use super::window::{Place, Window, clipped as clipped_ring};
use crate::compare::Overlay;
use crate::geom::{BlankFrame, Path, Point};

/// Paper above a picture for its letter, and between pictures.
const HEAD: f64 = 7.0;
/// Paper below a picture.
const FOOT: f64 = 4.0;

/// A place with its letter, and the scale at which it is drawn in the whole blank.
pub(super) struct Mark {
    pub(super) place: Place,
    pub(super) letter: char,
    pub(super) shown: Scale,
}

/// Draws the windows side by side in the room, those alone that come out larger than in the blank.
pub(super) fn draw(
    canvas: &mut Canvas,
    overlay: &Overlay,
    room: &Room,
    (marks, left_out): (&[Mark], usize),
) {
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
        // The last line of the room may have to say what is left out.
        let own = Room {
            low: low + Point::new(0.0, FOOT),
            high: low + Point::new(cell.0 - HEAD, cell.1 - HEAD),
        };
        one(canvas, overlay, &own, mark);
    }
    if left_out > 0 {
        let words = match left_out {
            1 => "One more place differs and is not shown larger.".to_owned(),
            n => format!("{n} more places differ and are not shown larger."),
        };
        canvas.text(level(room.low, 2.5, Align::Left, words));
    }
}

fn one(canvas: &mut Canvas, overlay: &Overlay, room: &Room, mark: &Mark) {
    let window = &mark.place.window;
    let paper = (room.width(), room.height());
    let scale = Scale::fitting(window.width(), window.height(), paper);
    let middle = Point::new(
        room.low.x + scale.factor() * window.width() / 2.0,
        room.high.y - scale.factor() * window.height() / 2.0,
    );
    let plot = Plot::new(window, scale.factor(), middle);
    for (rings, fill) in [(&overlay.removed, GONE), (&overlay.added, NEW)] {
        let paths: Vec<_> = rings
            .iter()
            .map(|ring| clipped_ring(ring, window))
            .filter(|ring| ring.len() > 2)
            .map(|ring| plot.path(&Path::polygon(&ring)))
            .collect();
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
    let mut words = mark.letter.to_string();
    if !same {
        words += &format!("   {}", scale.name());
    }
    canvas.text(strong(Point::new(room.low.x, room.high.y + 1.5), 3.5, Align::Left, &*words));
    if mark.place.alike > 0 {
        let beside = text_width(&words, 3.5, true) + 3.0;
        let at = Point::new(room.low.x + beside, room.high.y + 1.5);
        canvas.text(level(at, 2.5, Align::Left, format!("and {} alike", mark.place.alike)));
    }
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
