//! Both upright cuts from above, larger: the wall with its corrugation, the frame on it, and how
//! the lip lies on its flat.

use super::super::canvas::{Canvas, Room};
use super::super::dimension::{Edge, Span, linear};
use super::super::folded_view::{CAPTION, caption};
use super::super::scale::{Plot, Scale};
use super::super::{Fill, Pen, Sheet};
use super::fill::{List, fill};
use super::slice::slices;
use super::{Corner, GAP, Opening, finish};
use crate::geom::{Path, Point, ViewFrame};
use crate::site::{Lip, wall_line};

/// Rows of plain dimensions under a section: distance of the first, and from row to row, mm.
const ROWS: [f64; 2] = [8.0, 6.0];
/// Height of the rows together, mm.
const UNDER: f64 = 29.0;
/// Highest that a section may be on the paper, mm.
const HIGHEST: f64 = 90.0;

/// What a section shows: X to the right, Y into the container up, real millimetres.
type Area = crate::geom::Bounds<ViewFrame>;

/// The page with both sections, lists under them.
pub(super) fn page(opening: &Opening, lists: Vec<List>) -> (Sheet, Vec<List>) {
    let rooms = super::rooms(&opening.scene, Corner::Left);
    let inner = rooms.inner;
    let z = (opening.cut.lines.z[0] + opening.cut.lines.z[1]) / 2.0;
    let cuts = slices(&opening.scene, z);
    let areas = [0, 1].map(|side| area(opening, side, &cuts));
    let half = (inner.width() - 10.0) / 2.0;
    let fits = |scale: Scale| {
        let size = |a: &Area| (a.width() * scale.factor(), a.height() * scale.factor());
        areas.iter().map(size).all(|(wide, high)| wide <= half && high <= HIGHEST)
    };
    let scale = Scale::largest(fits);
    let mut page = super::page(&opening.scene, Some(scale), &rooms);
    let high = areas.iter().map(Area::height).fold(0.0, f64::max) * scale.factor();
    let whole = CAPTION + high + UNDER;
    for (side, area) in areas.iter().enumerate() {
        let left = inner.low.x + (half + 10.0) * side as f64;
        let low = Point::new(left, inner.high.y - whole);
        let room = Room { low, high: Point::new(left + half, inner.high.y) };
        section(&mut page.canvas, (opening, side, scale), (area, &cuts), &room);
    }
    let under = inner.high.y - whole - GAP;
    let rest = fill(&mut page.canvas, lists, &rooms.under(under));
    (finish(page, &opening.scene), rest)
}

/// From some of the wall beside a cut to some of the opening, as deep as the parts reach there.
fn area(opening: &Opening, side: usize, cuts: &[Path<ViewFrame>]) -> Area {
    let (pitch, x) = (opening.wall.pitch, opening.cut.lines.x[side]);
    let (outward, inward) = (0.85 * pitch, 0.45 * pitch);
    let [from, to] = if side == 0 { [x - outward, x + inward] } else { [x - inward, x + outward] };
    let mut depth: f64 = opening.wall.depth + opening.wall.thickness;
    let mut outside: f64 = 0.0;
    for bounds in cuts.iter().map(Path::bounds) {
        if bounds.low.x < to && from < bounds.high.x {
            depth = depth.max(bounds.high.y);
            outside = outside.min(bounds.low.y);
        }
    }
    Area { low: Point::new(from, outside - 4.0), high: Point::new(to, depth + 4.0) }
}

fn section(
    canvas: &mut Canvas,
    (opening, side, scale): (&Opening, usize, Scale),
    (area, cuts): (&Area, &[Path<ViewFrame>]),
    room: &Room,
) {
    let name = ["Left cut", "Right cut"][side];
    let flat = opening.cut.lips.as_ref().map_or_else(String::new, |lips| {
        format!(", outer flat {} from left post", lips[side].flat[0])
    });
    let words =
        format!("{}   section from above, outside below; dash-dotted: cut{flat}", scale.name());
    caption(canvas, room, name, &words);
    let high = area.height() * scale.factor();
    let top = room.high.y - CAPTION;
    let middle = Point::new((room.low.x + room.high.x) / 2.0, top - high / 2.0);
    let plot = Plot::new(area, scale.factor(), middle);
    wall(canvas, opening, &plot, (area, side));
    for path in cuts {
        let bounds = path.bounds();
        if area.low.x <= bounds.low.x && bounds.high.x <= area.high.x {
            canvas.closed(vec![plot.path(path)], None, Fill::Ink);
        } else if bounds.low.x < area.high.x && area.low.x < bounds.high.x {
            canvas.closed(vec![plot.path(&clipped(path, area))], None, Fill::Ink);
        }
    }
    let view = plot.bounds(area);
    if let Some(lips) = &opening.cut.lips {
        lip(canvas, opening, (&plot, &view), (&lips[side], side));
    }
}

/// An area cut off at the sides of what is shown; only rectangles reach that far.
fn clipped(path: &Path<ViewFrame>, area: &Area) -> Path<ViewFrame> {
    let inside = |x: f64| x.clamp(area.low.x, area.high.x);
    let points = path.points(0.1).into_iter().map(|p| Point::new(inside(p.x), p.y));
    Path::polygon(&points.collect::<Vec<_>>())
}

/// The wall that stays, in section; the wall that goes, as an outline of what was there; the cut.
fn wall(
    canvas: &mut Canvas,
    opening: &Opening,
    plot: &Plot<ViewFrame>,
    (area, side): (&Area, usize),
) {
    let x = opening.cut.lines.x[side];
    let (kept, gone) = match side {
        0 => ([area.low.x, x], [x, area.high.x]),
        _ => ([x, area.high.x], [area.low.x, x]),
    };
    let thickness = opening.wall.thickness;
    let sheet = |[from, to]: [f64; 2]| {
        let outer: Vec<Point<ViewFrame>> =
            wall_line(opening.wall, from, to).into_iter().map(|[x, y]| Point::new(x, y)).collect();
        let mut ring = outer.clone();
        ring.extend(beside(&outer, thickness).into_iter().rev());
        plot.path(&Path::polygon(&ring))
    };
    canvas.closed(vec![sheet(kept)], Some(Pen::Narrow), Fill::Tint(40));
    canvas.closed(vec![sheet(gone)], Some(Pen::Adjacent), Fill::Empty);
    let [low, high] = [area.low.y, opening.wall.depth + 14.0].map(|y| plot.point(Point::new(x, y)));
    canvas.line(low, high, Pen::Centre);
}

/// A run of points moved by a thickness to its left, corners mitred.
fn beside(run: &[Point<ViewFrame>], thickness: f64) -> Vec<Point<ViewFrame>> {
    let normals: Vec<Point<ViewFrame>> =
        run.windows(2).map(|pair| (pair[1] - pair[0]).unit().left()).collect();
    let normal = |i: usize| {
        let before = normals[i.saturating_sub(1).min(normals.len() - 1)];
        let after = normals[i.min(normals.len() - 1)];
        (before + after) * (thickness / (1.0 + before.dot(after)))
    };
    (0..run.len()).map(|i| run[i] + normal(i)).collect()
}

/// How the lip lies on its flat: free beyond, lip, cut away, and the whole flat.
fn lip(
    canvas: &mut Canvas,
    opening: &Opening,
    (plot, view): (&Plot<ViewFrame>, &Room),
    (lip, side): (&Lip, usize),
) {
    let out = if side == 0 { -1.0 } else { 1.0 };
    let end = lip.cut + out * lip.reach;
    let (far, near) =
        if side == 0 { (lip.edges[0], lip.edges[1]) } else { (lip.edges[1], lip.edges[0]) };
    let figures = opening.scene.figures;
    let rows = [
        (lip.edges, lip.edges[1] - lip.edges[0], "outer flat"),
        ([end, far], lip.beyond, "free"),
        ([lip.cut, end], lip.reach, "lip"),
        ([lip.cut, near], lip.lost, "cut away"),
    ];
    // The outermost first: figures nearer the view then keep clear of its extension lines.
    for (i, (ends, size, word)) in rows.into_iter().enumerate().rev() {
        let ends = ends.map(|x| plot.point(Point::new(x, 0.0)));
        let text = format!("{} {word}", figures.length(size));
        let span = Span { ends, text, clear: [0.0, 0.0] };
        linear(canvas, Edge::Below, view, ROWS[0] + ROWS[1] * i as f64, &span);
    }
}
