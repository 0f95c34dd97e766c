//! Pictures of strokes, each as large as its room allows: tools, the part before and after, and the
//! back gauge.

use super::super::canvas::{Canvas, Room, level, rectangle, room, strong};
use super::super::dimension::{Edge, Span, linear};
use super::super::figure::{Figures, degrees};
use super::super::scale::Plot;
use super::super::setting::fitted;
use super::super::{Align, Fill, Pen};
use super::table::{bends, handling};
use crate::brake::Step;
use crate::geom::{Bounds, BrakeFrame, Path, Point};
use crate::kit::Part;

/// Height of a picture's caption, mm.
const CAPTION: f64 = 11.0;
/// Room under a picture for the stop's dimension, mm.
const UNDER: f64 = 9.0;
/// Room between two pictures, mm.
const BETWEEN: f64 = 6.0;
/// How much of the tools is shown around the bend, mm of the machine.
const TOOLS: f64 = 50.0;
/// How far from the bending line the part is shown, unless its stop is farther, mm.
const REACH: f64 = 190.0;
/// The gauge's finger on the paper: length and height, mm.
const FINGER: [f64; 2] = [4.0, 2.6];

/// The pictures of a page.
pub(super) struct Strokes<'a> {
    part: &'a Part,
    steps: &'a [Step],
    figures: Figures,
    cells: Vec<Room>,
}

impl<'a> Strokes<'a> {
    /// Lays the pictures out in as many columns as serve the largest of them best.
    pub(super) fn new(
        (part, steps): (&'a Part, &'a [Step]),
        figures: Figures,
        within: &Room,
    ) -> Self {
        let windows: Vec<Bounds<BrakeFrame>> = steps.iter().map(window).collect();
        let smallest = |cells: &[Room]| {
            let factors = windows.iter().zip(cells).map(|(window, cell)| factor(window, cell));
            factors.fold(1.0, f64::min)
        };
        let tried = (1..=steps.len().clamp(1, 6)).map(|columns| grid(within, columns, steps.len()));
        let best =
            tried.reduce(|best, next| if smallest(&best) < smallest(&next) { next } else { best });
        Self { part, steps, figures, cells: best.unwrap_or_default() }
    }

    /// Draws them.
    pub(super) fn draw(&self, canvas: &mut Canvas) {
        for (step, cell) in self.steps.iter().zip(&self.cells) {
            self.captions(canvas, step, cell);
            self.picture(canvas, step, cell);
        }
    }

    fn captions(&self, canvas: &mut Canvas, step: &Step, cell: &Room) {
        let top = cell.high.y;
        let title = format!("{}  {}", step.number, bends(self.part, step));
        let (title, size) = fitted(&title, 3.5, true, cell.width());
        canvas.text(strong(Point::new(cell.low.x, top - 3.5), size, Align::Left, title));
        let set = degrees((step.angle_set * 10.0).round() / 10.0);
        let words = format!("{}, set to {set}, {}", handling(step), step.die.name);
        let (words, size) = fitted(&words, 2.5, false, cell.width());
        canvas.text(level(Point::new(cell.low.x, top - 8.0), size, Align::Left, words));
    }

    fn picture(&self, canvas: &mut Canvas, step: &Step, cell: &Room) {
        let window = window(step);
        let plot = Plot::new(&window, factor(&window, cell), picture_room(cell).centre());
        let through = (&window, &plot);
        let lifted = |p: &Point<BrakeFrame>| Point::new(p.x, p.y + step.nose[1]);
        let punch: Vec<Point<BrakeFrame>> = step.punch.outline.iter().map(lifted).collect();
        for tool in [&step.die.outline, &punch] {
            outline(canvas, tool, Pen::Narrow, through);
        }
        for points in &step.before {
            outline(canvas, points, Pen::Adjacent, through);
        }
        let seen = step.after.iter().map(|points| cut_to(points, &window));
        let tints: Vec<_> = seen.filter(|points| 2 < points.len()).collect();
        canvas.tint(
            tints.iter().map(|points| plot.path(&Path::polygon(points))).collect(),
            Fill::Tint(45),
        );
        for points in &step.after {
            outline(canvas, points, Pen::Narrow, through);
        }
        self.stop(canvas, step, &plot, &plot.bounds(&window));
    }

    /// The gauge's finger, and the distance from the bending line to it.
    fn stop(&self, canvas: &mut Canvas, step: &Step, plot: &Plot<BrakeFrame>, view: &Room) {
        let Some(stop) = &step.stop else { return };
        let tip = plot.point(Point::new(stop.distance, 0.0));
        let finger = room(tip.x, tip.y - FINGER[1] / 2.0, FINGER[0], FINGER[1]);
        canvas.closed(vec![rectangle(&finger)], Some(Pen::Narrow), Fill::Ink);
        let line = plot.point(Point::new(0.0, 0.0));
        let text = self.figures.length(stop.distance);
        let span = Span { ends: [line, tip], text, clear: [0.0; 2] };
        linear(canvas, Edge::Below, view, UNDER - 3.0, &span);
    }
}

/// What is shown of a stroke: the part before and after, the tools around the bend, and the stop.
/// Legs that reach far are cut off, so that the bend is not lost in the picture.
fn window(step: &Step) -> Bounds<BrakeFrame> {
    let stop = step.stop.as_ref().map_or(0.0, |stop| stop.distance);
    let right = REACH.max(stop + TOOLS / 2.0);
    let mut bounds = Bounds::empty();
    for &p in step.before.iter().chain(&step.after).flatten() {
        bounds.add(Point::new(p.x.clamp(-REACH, right), p.y.clamp(-REACH / 2.0, REACH)));
    }
    bounds.add(Point::new(-TOOLS / 2.0, -TOOLS / 2.0));
    bounds.add(Point::new(TOOLS / 2.0, TOOLS));
    bounds.add(Point::new(stop, 0.0));
    bounds
}

/// Paper millimetres for one of the machine's, at most 1.
fn factor(window: &Bounds<BrakeFrame>, cell: &Room) -> f64 {
    let inner = picture_room(cell);
    let across = (inner.width() - 2.0 * FINGER[0]) / window.width();
    across.min(inner.height() / window.height()).min(1.0)
}

/// Cells of a grid, filled row by row from the top.
fn grid(within: &Room, columns: usize, count: usize) -> Vec<Room> {
    let rows = count.div_ceil(columns);
    let width = (within.width() - BETWEEN * (columns - 1) as f64) / columns as f64;
    let height = (within.height() - BETWEEN * (rows - 1) as f64) / rows as f64;
    let cell = |index: usize| {
        let (row, column) = (index / columns, index % columns);
        let x = within.low.x + (width + BETWEEN) * column as f64;
        room(x, within.high.y - (height + BETWEEN) * row as f64 - height, width, height)
    };
    (0..count).map(cell).collect()
}

/// The room of a cell's picture: under the caption, over the dimension.
fn picture_room(cell: &Room) -> Room {
    let low = Point::new(cell.low.x, cell.low.y + UNDER);
    Room { low, high: Point::new(cell.high.x, cell.high.y - CAPTION) }
}

/// What of a closed outline lies in the window; where it leaves the window it stays open.
fn outline(
    canvas: &mut Canvas,
    points: &[Point<BrakeFrame>],
    pen: Pen,
    (window, plot): (&Bounds<BrakeFrame>, &Plot<BrakeFrame>),
) {
    for (i, &p) in points.iter().enumerate() {
        let side = [p, points[(i + 1) % points.len()]];
        if let Some([a, b]) = clipped(side, window) {
            canvas.line(plot.point(a), plot.point(b), pen);
        }
    }
}

/// The part of a closed outline within a box, closed along the box's sides.
fn cut_to(points: &[Point<BrakeFrame>], within: &Bounds<BrakeFrame>) -> Vec<Point<BrakeFrame>> {
    let (low, high) = (within.low, within.high);
    // Inward normals of the box's sides, each with a point on it.
    let sides = [(low, [1.0, 0.0]), (high, [-1.0, 0.0]), (low, [0.0, 1.0]), (high, [0.0, -1.0])];
    sides.into_iter().fold(points.to_vec(), |points, (on, inward)| {
        let inward = Point::new(inward[0], inward[1]);
        let next = points.iter().cycle().skip(1);
        let kept = points.iter().zip(next).flat_map(|(&a, &b)| {
            let (from, to) = ((a - on).dot(inward), (b - on).dot(inward));
            let crossing = (from < 0.0) != (to < 0.0);
            let border = crossing.then(|| a.toward(b, from / (from - to)));
            (from >= 0.0).then_some(a).into_iter().chain(border)
        });
        kept.collect()
    })
}

type Side = [Point<BrakeFrame>; 2];

/// What of a straight line lies in a box; none when nothing does.
fn clipped([a, b]: Side, within: &Bounds<BrakeFrame>) -> Option<Side> {
    let way = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let limits = [
        (way.x, within.low.x - a.x, within.high.x - a.x),
        (way.y, within.low.y - a.y, within.high.y - a.y),
    ];
    for (rate, low, high) in limits {
        if rate == 0.0 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
            continue;
        }
        let (enter, leave) =
            if rate > 0.0 { (low / rate, high / rate) } else { (high / rate, low / rate) };
        (from, to) = (from.max(enter), to.min(leave));
    }
    (from < to).then(|| [a + way * from, a + way * to])
}
