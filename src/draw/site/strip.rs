//! The whole wall from outside with the opening and its key sizes, for people who buy it.

use super::super::block::TEXT;
use super::super::canvas::{Canvas, Room, level, rectangle};
use super::super::dimension::{Edge, Span, linear};
use super::super::figure::Figures;
use super::super::scale::Plot;
use super::super::setting::fitted;
use super::super::text::text_width;
use super::super::{Align, Fill, Pen};
use super::elevation::{Area, draw, hole, whole};
use super::{Opening, Scene};
use crate::fold::FoldedPart;
use crate::geom::{Point, ViewFrame};
use crate::kit::Kit;
use crate::site::Site;

/// Paper around the wall for its sizes, mm: left and right, below, above.
const AROUND: [f64; 3] = [16.0, 20.0, 2.0];
/// From the wall to a dimension line, mm.
const OUT: f64 = 8.0;

/// Free line beside a dimension's figures, mm.
const FREE: f64 = 9.0;
/// From one dimension line to the next, mm.
const ROW: f64 = 6.5;

/// Draws the wall into a room; nothing where no wall is cut.
pub(in crate::draw) fn opening_strip(
    canvas: &mut Canvas,
    (kit, folded, site): (&Kit, &[FoldedPart], &Site),
    room: &Room,
) {
    let (Some(wall), Some(cut)) = (&kit.container.wall, &site.cut) else { return };
    let figures = Figures { inches: kit.inches };
    let scene = Scene { kit, folded, site, figures };
    let opening = Opening { scene, wall, cut };
    let area = whole(&opening);
    let [beside, below, above] = AROUND;
    let low = room.low + Point::new(beside, below);
    let high = room.high - Point::new(beside, above);
    let wide = (high.x - low.x) / area.width();
    let plot = Plot::new(&area, wide.min((high.y - low.y) / area.height()), low.toward(high, 0.5));
    draw(canvas, &opening, &plot, &area);
    others(canvas, &opening, &plot);
    let way = plot.bounds(&hole(&opening));
    canvas.tint(vec![rectangle(&way)], Fill::Paper);
    canvas.closed(vec![rectangle(&way)], Some(Pen::Outline), Fill::Tint(14));
    let view = plot.bounds(&area);
    let lines = &cut.lines;
    // The opening's own width stands lower, where its figures cannot be taken for a neighbour's.
    let [left, right] = lines.x;
    let across = [([wall.ends[0], left], OUT), ([right, wall.ends[1]], OUT), (lines.x, OUT + ROW)];
    for ([from, to], out) in across {
        let ends = [from, to].map(|x| plot.point(Point::new(x, wall.edges[0])));
        let span = Span { ends, text: figures.length(to - from), clear: [0.0, 0.0] };
        // Beside a post the figures need room between the arrows; else the table alone has them.
        let wide = text_width(&span.text, TEXT, false) + FREE;
        if out > OUT || wide < ends[0].distance(ends[1]) {
            linear(canvas, Edge::Below, &view, out, &span);
        }
    }
    let ends = lines.z.map(|z| plot.point(Point::new(lines.x[1], z)));
    let text = figures.length(lines.height);
    linear(canvas, Edge::Right, &view, OUT, &Span { ends, text, clear: [0.0, 0.0] });
}

/// The frames of other kits in this wall, each with its number.
pub(super) fn others(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>) {
    let reach = opening.wall.depth + opening.wall.thickness;
    for other in &opening.scene.kit.neighbours {
        let mut frame = Area::empty();
        for [low, high] in other.boxes.iter().filter(|it| it[0].y < reach) {
            frame.add(Point::new(low.x, low.z));
            frame.add(Point::new(high.x, high.z));
        }
        if frame.low.x >= frame.high.x {
            continue;
        }
        let [bottom, top] = opening.wall.edges;
        frame.low.y = frame.low.y.max(bottom);
        frame.high.y = frame.high.y.min(top);
        let room = plot.bounds(&frame);
        canvas.tint(vec![rectangle(&room)], Fill::Paper);
        canvas.rectangle(&room, Pen::Adjacent);
        let (text, height) = fitted(&other.kit, TEXT, false, room.width() - 2.0);
        canvas.text(level(room.centre(), height, Align::Middle, text));
    }
}
