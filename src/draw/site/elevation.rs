//! The whole wall from outside, with the opening in it and running dimensions from the left post.

use super::super::canvas::{Canvas, Room, rectangle};
use super::super::dimension::{Callout, Edge, Running, Station, callout, running, running_depth};
use super::super::folded_view::{CAPTION, caption};
use super::super::scale::{Plot, Scale};
use super::super::{Fill, Pen, Sheet};
use super::fill::{List, fill};
use super::strip::others;
use super::{Corner, GAP, Opening, finish};
use crate::geom::{Bounds, Point, ViewFrame};
use crate::site::NearKind;

/// Paper left and right of a view for what is written beside it, mm.
const BESIDE: f64 = 6.0;
/// Paper above the wall for leaders, mm.
const ABOVE: f64 = 14.0;

/// How the view is to be read.
const WORDS: &str = "from outside; hatched: cut out; grey: outer flats; dashed: seams, fork pockets, \
                     gooseneck tunnel; along both rails, from the left post's edge";

/// A rectangle of the wall's elevation: X to the right, Z up, real millimetres.
pub(super) type Area = Bounds<ViewFrame>;

/// The page with the whole wall; what of the lists finds room goes under it.
pub(super) fn page(opening: &Opening, lists: Vec<List>) -> (Sheet, Vec<List>) {
    let area = whole(opening);
    let row = stations(opening);
    let depth = running_depth(row.iter().map(|(_, text)| text.as_str()));
    let rooms = super::rooms(&opening.scene, Corner::Left);
    let inner = rooms.inner;
    let free = inner.high.y - rooms.left.low.y.max(rooms.column.low.y);
    let paper = (inner.width() - 2.0 * BESIDE, free - CAPTION - ABOVE - depth);
    let scale = Scale::fitting(area.width(), area.height(), paper);
    let mut page = super::page(&opening.scene, Some(scale), &rooms);
    let high = area.height() * scale.factor();
    let middle = Point::new(inner.centre().x, inner.high.y - CAPTION - ABOVE - high / 2.0);
    let plot = Plot::new(&area, scale.factor(), middle);
    let canvas = &mut page.canvas;
    caption(canvas, &inner, "Wall", &format!("{}   {WORDS}", scale.name()));
    draw(canvas, opening, &plot, &area);
    others(canvas, opening, &plot);
    canvas.rectangle(&plot.bounds(&hole(opening)), Pen::Outline);
    hatch(canvas, &plot.bounds(&hole(opening)));
    let view = plot.bounds(&area);
    let within = Room { low: view.low, high: inner.high - Point::new(0.0, CAPTION) };
    labels(canvas, opening, &plot, &within);
    set_off(canvas, (opening, &plot, &area), row, &inner);
    let under = view.low.y - depth - GAP;
    let rest = fill(&mut page.canvas, lists, &rooms.under(under));
    (finish(page, &opening.scene), rest)
}

/// From post to post and from ground to roof.
pub(super) fn whole(opening: &Opening) -> Area {
    let mut area = Area::empty();
    for member in &opening.scene.kit.container.members {
        area.add(Point::new(member.low.x, member.low.z));
        area.add(Point::new(member.high.x, member.high.z));
    }
    let wall = opening.wall;
    area.add(Point::new(wall.ends[0], wall.edges[0]));
    area.add(Point::new(wall.ends[1], wall.edges[1]));
    area
}

/// Draws the wall within an area: flats, rails, posts, what is hidden, seams.
pub(super) fn draw(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>, area: &Area) {
    flats(canvas, opening, plot, area);
    for member in &opening.scene.kit.container.members {
        let low = Point::new(member.low.x, member.low.z);
        let high = Point::new(member.high.x, member.high.z);
        let Some(pen) = pen_of(&member.name) else { continue };
        frame(canvas, plot, (area, &Area { low, high }), pen);
    }
    let [bottom, top] = opening.wall.edges;
    for seam in opening.cut.seams.iter().filter(|x| area.low.x < **x && **x < area.high.x) {
        let ends = [bottom.max(area.low.y), top.min(area.high.y)];
        let [a, b] = ends.map(|z| plot.point(Point::new(*seam, z)));
        canvas.line(a, b, Pen::Hidden);
    }
}

/// The opening between its cut lines.
pub(super) fn hole(opening: &Opening) -> Area {
    let [x, z] = [opening.cut.lines.x, opening.cut.lines.z];
    Area { low: Point::new(x[0], z[0]), high: Point::new(x[1], z[1]) }
}

/// How a member of the container is drawn from outside; none where it is not shown.
fn pen_of(name: &str) -> Option<Pen> {
    match name {
        "gooseneck tunnel" | "fork pocket" => Some(Pen::Hidden),
        name if name.contains("post") || name.contains("fitting") => Some(Pen::Outline),
        name if name.contains("rail") && !name.contains("flange") => Some(Pen::Outline),
        "roof" => Some(Pen::Narrow),
        _ => None,
    }
}

/// The outer flats, lightly tinted, with their edges.
fn flats(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>, area: &Area) {
    let wall = opening.wall;
    let half = wall.outer_flat / 2.0;
    let [bottom, top] = [wall.edges[0].max(area.low.y), wall.edges[1].min(area.high.y)];
    for centre in &wall.outer_flat_centres {
        let from = (centre - half).max(area.low.x);
        let to = (centre + half).min(area.high.x);
        if from < to {
            let flat = Area { low: Point::new(from, bottom), high: Point::new(to, top) };
            canvas.tint(vec![rectangle(&plot.bounds(&flat))], Fill::Tint(9));
        }
    }
}

/// A member's box, the sides that the area cuts off left open.
fn frame(canvas: &mut Canvas, plot: &Plot<ViewFrame>, (area, whole): (&Area, &Area), pen: Pen) {
    let low: Point<ViewFrame> =
        Point::new(whole.low.x.max(area.low.x), whole.low.y.max(area.low.y));
    let high: Point<ViewFrame> =
        Point::new(whole.high.x.min(area.high.x), whole.high.y.min(area.high.y));
    if low.x >= high.x || low.y >= high.y {
        return;
    }
    let corner = |x: f64, y: f64| plot.point(Point::new(x, y));
    let sides = [
        (low.y == whole.low.y, corner(low.x, low.y), corner(high.x, low.y)),
        (high.x == whole.high.x, corner(high.x, low.y), corner(high.x, high.y)),
        (high.y == whole.high.y, corner(high.x, high.y), corner(low.x, high.y)),
        (low.x == whole.low.x, corner(low.x, high.y), corner(low.x, low.y)),
    ];
    for (_, a, b) in sides.into_iter().filter(|(shown, ..)| *shown) {
        canvas.line(a, b, pen);
    }
}

/// Lines at 45 degrees; nothing is written on them.
fn hatch(canvas: &mut Canvas, hole: &Room) {
    const STEP: f64 = 5.0;
    canvas.ink.mark_box(hole);
    let (width, height) = (hole.width(), hole.height());
    let count = ((width + height) / STEP).floor() as usize;
    for i in 1..=count {
        let sum = STEP * i as f64;
        let start = Point::new((sum - height).max(0.0), sum.min(height));
        let end = Point::new(sum.min(width), (sum - width).max(0.0));
        canvas.unmarked(vec![hole.low + start, hole.low + end], Pen::Fine);
    }
}

/// X and figures of what is set off along the bottom rail from the left post's edge.
fn stations(opening: &Opening) -> Vec<(f64, String)> {
    let [left, right] = opening.wall.ends;
    let mut places = vec![left, right];
    places.extend(opening.cut.lines.x);
    places.extend(&opening.cut.seams);
    places.sort_by(f64::total_cmp);
    places.dedup();
    let figures = opening.scene.figures;
    places.into_iter().map(|x| (x, figures.length(x - left))).collect()
}

fn set_off(
    canvas: &mut Canvas,
    (opening, plot, area): (&Opening, &Plot<ViewFrame>, &Area),
    row: Vec<(f64, String)>,
    inner: &Room,
) {
    let view = plot.bounds(area);
    let lines = &opening.cut.lines;
    let station = |(x, text): (f64, String)| {
        let bottom = if lines.x.contains(&x) { lines.z[0] } else { opening.wall.edges[0] };
        let start = area.low.y - bottom;
        Station { along: plot.point(Point::new(x, 0.0)).x, start: plot.length(start), text }
    };
    let stations = row.into_iter().map(station).collect();
    let stretch = (inner.low.x + 2.0, inner.high.x - 2.0);
    running(canvas, &view, &Running { edge: Edge::Below, stations, stretch });
}

/// Names with leaders for what a stranger may not know.
fn labels(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>, within: &Room) {
    let near = |kind: NearKind| {
        opening.cut.near.iter().find(|near| near.kind == kind && !near.name.is_empty())
    };
    let members = &opening.scene.kit.container.members;
    for (kind, text) in
        [(NearKind::Gooseneck, "gooseneck tunnel"), (NearKind::Pocket, "fork pocket")]
    {
        let Some(name) = near(kind).map(|near| near.name.as_str()) else { continue };
        let Some(member) = members.iter().find(|member| member.name == name) else { continue };
        // In the middle; where the opening leaves no room above it, nearer to its ends.
        let _ = [0.5, 0.1, 0.9, 0.02, 0.98].into_iter().any(|share| {
            let x = member.low.x + (member.high.x - member.low.x) * share;
            let target = plot.point(Point::new(x, member.high.z));
            callout(
                canvas,
                &Callout { text: text.to_owned(), target, radius: 0.0, within: *within },
            )
        });
    }
    let [left, right] = opening.cut.lines.x;
    let outside = |x: &&f64| **x < left || right < **x;
    if let Some(seam) = opening.cut.seams.iter().find(outside) {
        let z = opening.wall.edges[1] - (opening.wall.edges[1] - opening.wall.edges[0]) * 0.2;
        let target = plot.point(Point::new(*seam, z));
        let text = "seam".to_owned();
        callout(canvas, &Callout { text, target, radius: 0.0, within: *within });
    }
}
