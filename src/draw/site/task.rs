//! Pictures of the cutting: the wall from outside for what is measured, marked and sawn; in space
//! for what is held and taken out.

use super::super::block::TEXT;
use super::super::canvas::{At, Canvas, Room, rectangle};
use super::super::dimension::{Callout, Edge, Span, callout, linear};
use super::super::scale::Plot;
use super::super::text::text_width;
use super::super::view::Stage;
use super::super::{Fill, Pen};
use super::Opening;
use super::elevation::{Area, draw, hole};
use super::opening::{around, bar, diagonals, numbered, sides};
use crate::geom::{Point, Point3, SiteFrame, ViewFrame};
use crate::site::{Carried, Edge as Side, Task};

/// Paper around the marked lines for their dimensions, mm: left and right, below, above.
const ROOM: [f64; 3] = [17.0, 13.0, 7.0];
/// Paper around the cuts for their numbers, mm.
const NUMBERED: [f64; 3] = [12.0, 8.5, 4.0];
/// Where along a cut its number stands: clear of the tabs in most walls.
const NUMBER_AT: f64 = 0.63;
/// How far the panel stands outside its place when it is taken out, mm.
const OUT: f64 = 700.0;
/// Height of a sling's hook over the panel's upper edge, in widths of the panel, and at most, mm.
const HOOK: (f64, f64) = (0.35, 700.0);
/// Eyes below the panel's upper edge, mm.
const EYES: f64 = 150.0;

/// Free line beside a dimension's figures, mm.
const FREE: f64 = 9.0;

type Site = Point3<SiteFrame>;

/// How a task of the cutting stands in space; none for those shown in elevation.
pub(super) fn stage(task: Task, opening: &Opening) -> Option<Stage> {
    match task {
        Task::Support => {
            Some(Stage { cut_out: Some(0.0), props: props(opening), ..Stage::default() })
        }
        Task::TakeOut => Some(Stage { cut_out: Some(OUT), edges: true, ..Stage::default() }),
        Task::Dress => Some(Stage { edges: true, ..Stage::default() }),
        Task::Measure | Task::Mark | Task::Saw | Task::Fit => None,
    }
}

/// A sling from two eyes to a hook over the centre of mass, or props against the panel from
/// outside.
fn props(opening: &Opening) -> Vec<[Site; 2]> {
    let cut = opening.cut;
    let ([left, right], [low, high]) = (cut.lines.x, cut.lines.z);
    let across = |share: f64| left + (right - left) * share;
    if cut.panel.carried == Carried::Lift {
        let [x, y, _] = cut.panel.centre;
        let rise = ((right - left) * HOOK.0).min(HOOK.1);
        let hook = Site::new(x, y, high + rise);
        let reach = (x - left).min(right - x) * 0.55;
        let eye = |x: f64| Site::new(x, 0.0, high - EYES);
        let up = Site::new(x, y, high + 1.5 * rise);
        return vec![[eye(x - reach), hook], [eye(x + reach), hook], [hook, up]];
    }
    let height = low + (high - low) * 0.7;
    let foot = |x: f64| Site::new(x, -0.5 * (high - low), opening.wall.edges[0]);
    [0.25, 0.75].map(|share| [Site::new(across(share), 0.0, height), foot(across(share))]).to_vec()
}

/// Draws a task in elevation.
pub(super) fn elevation(canvas: &mut Canvas, task: Task, opening: &Opening, room: &Room) {
    let area = around(opening);
    let [beside, below, above] = match task {
        Task::Mark => ROOM,
        Task::Measure => [12.0, 4.0, 4.0],
        _ => NUMBERED,
    };
    let low = room.low + Point::new(beside, below);
    let high = room.high - Point::new(beside, above);
    let wide = (high.x - low.x) / area.width();
    let factor = wide.min((high.y - low.y) / area.height());
    let plot = Plot::new(&area, factor, low.toward(high, 0.5));
    draw(canvas, opening, &plot, &area);
    match task {
        Task::Measure => flats(canvas, opening, &plot, room),
        Task::Mark => marks(canvas, opening, (&plot, &area)),
        _ => cuts(canvas, opening, &plot),
    }
}

/// The flats on which the lips will lie.
fn flats(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>, room: &Room) {
    let Some(lips) = &opening.cut.lips else { return };
    let heights = opening.wall.edges;
    for lip in lips {
        let flat = Area {
            low: Point::new(lip.edges[0], heights[0]),
            high: Point::new(lip.edges[1], heights[1]),
        };
        canvas.tint(vec![rectangle(&plot.bounds(&flat))], Fill::Tint(45));
        let middle = (lip.edges[0] + lip.edges[1]) / 2.0;
        let target = plot.point(Point::new(middle, heights[0].midpoint(heights[1])));
        let text = format!("flat {}", lip.flat[0]);
        callout(canvas, &Callout { text, target, radius: 0.0, within: *room });
    }
}

/// The cut lines with what is measured between them.
fn marks(canvas: &mut Canvas, opening: &Opening, (plot, area): (&Plot<ViewFrame>, &Area)) {
    let lines = &opening.cut.lines;
    let view = plot.bounds(area);
    canvas.rectangle(&plot.bounds(&hole(opening)), Pen::Outline);
    diagonals(canvas, opening, plot);
    let figures = opening.scene.figures;
    let span = |ends, size| Span { ends, text: figures.length(size), clear: [0.0, 0.0] };
    let across = lines.x.map(|x| plot.point(Point::new(x, lines.z[0])));
    // What finds no room in its line stands in the table of cut lines, as all of these do.
    let mut told = |edge, ends: [At; 2], size: f64| {
        if text_width(&figures.length(size), TEXT, false) + FREE < ends[0].distance(ends[1]) {
            linear(canvas, edge, &view, 8.0, &span(ends, size));
        }
    };
    told(Edge::Below, across, lines.width);
    let up = lines.z.map(|z| plot.point(Point::new(lines.x[0], z)));
    told(Edge::Left, up, lines.height);
}

/// The cuts by their order, with the tabs that stay.
fn cuts(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>) {
    let cut = opening.cut;
    canvas.rectangle(&plot.bounds(&hole(opening)), Pen::Outline);
    let half = plot.length(cut.holding.width / 2.0).max(0.8);
    cut.holding.tabs.iter().for_each(|tab| bar(canvas, tab, plot, half));
    let ([left, right], [low, high]) = (cut.lines.x, cut.lines.z);
    let part = |a: f64, b: f64| a + (b - a) * NUMBER_AT;
    for (i, edge) in cut.holding.cuts.into_iter().enumerate() {
        let at = match edge {
            Side::Lower => Point::new(part(left, right), low),
            Side::Upper => Point::new(part(left, right), high),
            Side::Left => Point::new(left, part(low, high)),
            Side::Right => Point::new(right, part(low, high)),
        };
        numbered(canvas, plot.point(at), -sides(edge).1, i + 1);
    }
}
