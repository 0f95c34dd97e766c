//! The picture of a sheet: its edge, the blanks with their numbers, blocked places, and the line
//! that cuts the remnant off.

use std::collections::BTreeMap;

use super::super::balloon::balloons;
use super::super::canvas::{Canvas, Room, level, text_room};
use super::super::dimension::{Edge, Span, linear};
use super::super::figure::Figures;
use super::super::nest_laser::remnant_cut;
use super::super::picture::{Label, Picture};
use super::super::scale::Plot;
use super::super::{Align, Fill, Pen, Text};
use super::Subject;
use super::label::{Field, Spot};
use super::little::{Little, joined};
use super::words;
use crate::flat::{Blank, Contour};
use crate::geom::{BedFrame, BlankFrame, Bounds, Map2, Path, Point, Vertex, ViewFrame};
use crate::sheets::{CutSheet, Lying};

/// Sag of the straight sides that stand for arcs where numbers are placed, mm.
const SAG: f64 = 1.0;
/// Openings with a shorter side are drawn and do not keep a number away, mm of paper.
const SMALL: f64 = 2.0;
/// Openings with a shorter side do not keep a number away even where there is room beside them.
const TINY: f64 = 0.8;
/// Under the picture: from its edge to the dimension of the cut, mm.
pub(super) const OUT: f64 = 7.0;
/// Length of the stroke at a tab, mm of paper.
const TAB: f64 = 1.0;

/// Draws the sheet so that it fills `view`. How many small parts, or groups of them, found no place
/// for their number comes back.
pub(super) fn draw(
    canvas: &mut Canvas,
    subject: &Subject,
    sheet: &CutSheet,
    (plot, within): (&Plot<ViewFrame>, &Room),
) -> usize {
    let [x, y] = sheet.board.size;
    let view = plot.bounds(&Bounds { low: Point::new(0.0, 0.0), high: Point::new(x, y) });
    for place in &sheet.board.blocked {
        let path = boxed(place);
        canvas.closed(vec![plot.path(&path)], Some(Pen::Narrow), Fill::Tint(40));
    }
    remnant(canvas, subject, sheet, (plot, &view));
    let mut small = Vec::new();
    let mut spots: BTreeMap<(usize, u16, bool), Option<Spot>> = BTreeMap::new();
    for own in &sheet.lying {
        blank(canvas, subject, own, plot);
        let key = (own.wanted, own.turn, own.mirrored);
        let spot = spots.entry(key).or_insert_with(|| {
            let home = Lying { at: Point::new(0.0, 0.0), ..*own };
            field(subject, &home, plot).spot(&subject.short(own.wanted), plot.length(1.0))
        });
        match spot {
            Some(spot) => number(canvas, subject, own, (spot, plot)),
            None => small.extend(little(subject, own, plot)),
        }
    }
    extras(canvas, sheet, plot);
    canvas.rectangle(&view, Pen::Outline);
    let labels = joined(canvas, &small, plot).into_iter().map(|one| Label {
        at: one.tip,
        tip: one.tip,
        hidden: false,
        text: subject.short(one.wanted),
    });
    let picture = Picture { labels: labels.collect(), ..Picture::empty() };
    balloons(canvas, &picture, plot, within)
}

/// Skeleton cuts, and a stroke across the outline at every tab.
fn extras(canvas: &mut Canvas, sheet: &CutSheet, plot: &Plot<ViewFrame>) {
    let shown = |p: Point<BedFrame>| plot.point(Point::new(p.x, p.y));
    for line in &sheet.extras.skeleton {
        let [a, b] = line.map(shown);
        canvas.line(a, b, Pen::Hidden);
    }
    for [a, b] in &sheet.extras.tabs {
        let (middle, across) = (shown(a.toward(*b, 0.5)), (*b - *a).unit());
        let across = Point::new(across.x, across.y).left() * (TAB / 2.0);
        canvas.line(middle - across, middle + across, Pen::Narrow);
    }
}

fn to_view(own: &Lying) -> Map2<BlankFrame, ViewFrame> {
    own.map().then(&Map2::<BedFrame, ViewFrame>::identity())
}

fn boxed(place: &Bounds<BedFrame>) -> Path<ViewFrame> {
    let (a, b) = (place.low, place.high);
    let corners = [[a.x, a.y], [b.x, a.y], [b.x, b.y], [a.x, b.y]];
    Path::polygon(&corners.map(|[x, y]| Point::new(x, y)))
}

fn outline(contour: &Contour, map: &Map2<BlankFrame, ViewFrame>) -> Path<ViewFrame> {
    match contour {
        Contour::Loop(path) => path.mapped(map),
        Contour::Circle(centre, diameter) => {
            let (centre, arm) = (map.point(*centre), Point::new(diameter / 2.0, 0.0));
            let vertex = |at| Vertex { at, bulge: 1.0 };
            Path { vertices: vec![vertex(centre - arm), vertex(centre + arm)] }
        }
    }
}

/// One blank: filled, with its holes and bend lines.
fn blank(canvas: &mut Canvas, subject: &Subject, own: &Lying, plot: &Plot<ViewFrame>) {
    let (blank, map) = (subject.wanted[own.wanted].blank, to_view(own));
    let outer = plot.path(&blank.outer.mapped(&map));
    let holes = blank.inner.iter().map(|hole| plot.path(&outline(&hole.contour, &map)));
    let holes: Vec<_> = holes.collect();
    let filled = std::iter::once(outer.clone()).chain(holes.iter().cloned());
    canvas.tint(filled.collect(), Fill::Tint(14));
    holes.into_iter().for_each(|hole| canvas.closed(vec![hole], Some(Pen::Fine), Fill::Empty));
    for bend in &blank.bends {
        let line = bend.line.map(|p| plot.point(map.point(p)));
        canvas.unmarked(line.to_vec(), Pen::Fine);
    }
    // Balloons keep out of parts: a number there would be taken for that part's.
    canvas.ink.mark_box(&outer.bounds());
    canvas.closed(vec![outer], Some(Pen::Narrow), Fill::Empty);
}

/// The blank as its number sees it.
fn field(subject: &Subject, own: &Lying, plot: &Plot<ViewFrame>) -> Field {
    let (blank, map): (&Blank, _) = (subject.wanted[own.wanted].blank, to_view(own));
    let straight = |path: &Path<ViewFrame>| Path::polygon(&path.points(SAG));
    let inner = blank.inner.iter().map(|hole| outline(&hole.contour, &map));
    let side = |path: &Path<ViewFrame>| {
        let bounds = path.bounds();
        plot.length(bounds.width().min(bounds.height()))
    };
    let (large, small): (Vec<_>, Vec<_>) = inner.partition(|path| SMALL < side(path));
    let straightened = |paths: Vec<Path<ViewFrame>>| paths.iter().map(straight).collect();
    Field {
        outer: straight(&blank.outer.mapped(&map)),
        openings: straightened(large),
        small: straightened(small.into_iter().filter(|path| TINY < side(path)).collect()),
    }
}

/// The number inside its blank, on a patch that hides holes and bend lines.
fn number(
    canvas: &mut Canvas,
    subject: &Subject,
    own: &Lying,
    (spot, plot): (&Spot, &Plot<ViewFrame>),
) {
    let middle = plot.point(spot.at + Point::new(own.at.x, own.at.y));
    let half = Point::new(0.0, spot.height / 2.0);
    let base = if spot.direction == 0.0 { middle - half } else { middle - half.left() };
    let text = Text {
        at: base,
        height: spot.height,
        align: Align::Middle,
        direction: spot.direction,
        bold: true,
        content: subject.short(own.wanted),
    };
    let mut room = text_room(&text);
    // The number has no letters that reach below the line.
    if spot.direction == 0.0 {
        room.low.y = base.y - 0.2;
    } else {
        room.high.x = base.x + 0.2;
    }
    canvas.tint(vec![super::super::canvas::rectangle(&room)], Fill::Paper);
    canvas.text(text);
}

/// A part too small for its number.
fn little(subject: &Subject, own: &Lying, plot: &Plot<ViewFrame>) -> Option<Little> {
    let field = field(subject, own, plot);
    Some(Little { wanted: own.wanted, tip: field.deepest()?, bounds: field.outer.bounds() })
}

/// The remnant's cut with its dimension from the sheet's edge, and its size.
fn remnant(
    canvas: &mut Canvas,
    subject: &Subject,
    sheet: &CutSheet,
    (plot, view): (&Plot<ViewFrame>, &Room),
) {
    let (Some(rest), Some(cut)) = (sheet.remnant, remnant_cut(sheet)) else { return };
    let figures = Figures { inches: subject.kit.inches };
    let [from, to] = cut.map(|p| plot.point(Point::new(p.x, p.y)));
    canvas.line(from, to, Pen::Adjacent);
    let upright = cut[0].x == cut[1].x;
    let (edge, at) = if upright { (Edge::Below, cut[0].x) } else { (Edge::Left, cut[0].y) };
    let span = Span { ends: [view.low, from], text: figures.length(at), clear: [0.0; 2] };
    linear(canvas, edge, view, OUT, &span);
    let size = [rest.width(), rest.height()];
    let middle = plot.point(Point::new(rest.centre().x, rest.centre().y));
    let lines = ["Remnant".to_owned(), words::size(figures, size)];
    let upright = size[0] < size[1] && plot.length(size[0]) < 26.0;
    for (line, text) in lines.into_iter().enumerate() {
        let down = 1.0 - 5.0 * line as f64;
        let (shift, direction) =
            if upright { (Point::new(-down, 0.0), 90.0) } else { (Point::new(0.0, down), 0.0) };
        canvas.text(Text { direction, ..level(middle + shift, 2.5, Align::Middle, text) });
    }
}
