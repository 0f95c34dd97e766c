//! The opening alone, larger: cut lines with heights, diagonals, tabs by their numbers, centre of
//! mass.

use super::super::canvas::{At, Canvas, Room, level};
use super::super::dimension::{Edge, Running, Span, Station, linear, running, running_depth};
use super::super::figure::{fixed, sixteenths};
use super::super::folded_view::{CAPTION, caption};
use super::super::scale::{Plot, Scale};
use super::super::{Align, Fill, Pen, Sheet};
use super::elevation::{Area, draw, hole};
use super::fill::{List, fill};
use super::{Corner, Opening, finish};
use crate::geom::{Path, Point, Vertex, ViewFrame};
use crate::site::{Edge as Side, Tab};
use crate::units::{INCH, mass};

/// How the view is to be read.
const WORDS: &str =
    "from outside; black: holding tabs, numbered in the order in which they are cut";
/// How much of the wall is shown left and right of the opening, mm.
const AROUND: f64 = 200.0;
/// Radius of a tab's number, and its distance from the cut, mm on paper.
const NUMBER: [f64; 2] = [2.7, 5.4];
/// Radius of the sign for the centre of mass, mm on paper.
const MASS: f64 = 3.0;
/// tan(22.5 degrees): the bulge of a quarter circle.
const QUARTER: f64 = 0.414_213_562_373_095_1;
/// Room under the view for the width and for words, mm.
const UNDER: f64 = 22.0;

/// Places of running dimensions, in real millimetres along their border, with their figures.
type Row = Vec<(f64, String)>;

/// The page with the opening; lists go into the column above cautions and title block.
pub(super) fn page(opening: &Opening, lists: Vec<List>) -> (Sheet, Vec<List>) {
    let area = around(opening);
    let (heights, across) = (heights(opening), across(opening));
    let depth = |row: &Row| running_depth(row.iter().map(|(_, text)| text.as_str()));
    let (beside, above) = (depth(&heights), depth(&across));
    let rooms = super::rooms(&opening.scene, Corner::Column);
    let room = rooms.left;
    let low = Point::new(room.low.x + beside, room.low.y + UNDER);
    let high = Point::new(room.high.x - 4.0, room.high.y - CAPTION - above);
    let scale = Scale::fitting(area.width(), area.height(), (high.x - low.x, high.y - low.y));
    let mut page = super::page(&opening.scene, Some(scale), &rooms);
    let plot = Plot::new(&area, scale.factor(), low.toward(high, 0.5));
    let canvas = &mut page.canvas;
    caption(canvas, &room, "Opening", &format!("{}   {WORDS}", scale.name()));
    draw(canvas, opening, &plot, &area);
    canvas.rectangle(&plot.bounds(&hole(opening)), Pen::Outline);
    let view = plot.bounds(&area);
    rows(canvas, (opening, &plot, &view), (heights, across), &room);
    diagonals(canvas, opening, &plot);
    tabs(canvas, opening, &plot);
    centre_of_mass(canvas, opening, &plot);
    words(canvas, opening, &view);
    let rest = fill(&mut page.canvas, lists, &[rooms.column]);
    (finish(page, &opening.scene), rest)
}

/// The opening with some wall around it, the floor and both rails.
pub(super) fn around(opening: &Opening) -> Area {
    let (wall, lines) = (opening.wall, &opening.cut.lines);
    let low = wall.edges[0].min(lines.z[0]).min(0.0) - 60.0;
    let high = wall.edges[1].max(lines.z[1]) + 80.0;
    Area { low: Point::new(lines.x[0] - AROUND, low), high: Point::new(lines.x[1] + AROUND, high) }
}

/// Heights from the finished floor, ascending.
fn heights(opening: &Opening) -> Row {
    let (wall, lines) = (opening.wall, &opening.cut.lines);
    let figures = opening.scene.figures;
    let length = |z: f64| (z, figures.length(z));
    let sides = opening.cut.holding.tabs.iter().filter(|tab| tab.edge == Side::Left);
    let mut places: Row = lines.z.map(length).to_vec();
    places.extend(sides.map(|tab| (tab.z, rough(opening, tab.z))));
    places.push((0.0, "floor 0".to_owned()));
    places.push((wall.edges[1], format!("rail {}", figures.length(wall.edges[1]))));
    ascending(places)
}

/// Places along the upper cut from the left cut.
fn across(opening: &Opening) -> Row {
    let [left, right] = opening.cut.lines.x;
    let figures = opening.scene.figures;
    let upper = opening.cut.holding.tabs.iter().filter(|tab| tab.edge == Side::Upper);
    let mut places: Row = upper.map(|tab| (tab.x, rough(opening, tab.x - left))).collect();
    places.push((left, "0".to_owned()));
    places.push((right, figures.length(right - left)));
    ascending(places)
}

/// Where a tab stands: to the millimetre or the sixteenth of an inch, for no more is needed.
fn rough(opening: &Opening, mm: f64) -> String {
    if opening.scene.kit.inches { sixteenths(mm / INCH) } else { fixed(mm, 0) }
}

/// In order; what lies below the datum is left to the tables.
fn ascending(mut places: Row) -> Row {
    let datum = |text: &str| text == "0" || text == "floor 0";
    let from = places.iter().find(|(_, text)| datum(text)).map_or(0.0, |(place, _)| *place);
    places.retain(|(place, text)| from < *place || datum(text));
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places
}

/// Running heights at the left, running places above, the width below.
fn rows(
    canvas: &mut Canvas,
    (opening, plot, view): (&Opening, &Plot<ViewFrame>, &Room),
    (heights, across): (Row, Row),
    room: &Room,
) {
    let lines = &opening.cut.lines;
    let [left, right] = lines.x.map(|x| plot.point(Point::new(x, lines.z[0])));
    let top = plot.point(Point::new(0.0, lines.z[1])).y;
    let upright = |(z, text): (f64, String)| {
        let along = plot.point(Point::new(0.0, z)).y;
        let cut = lines.z[0] <= z && z <= lines.z[1] && z != 0.0;
        let start = if cut { view.low.x - left.x } else { -3.0 };
        Station { along, start, text }
    };
    let stations = heights.into_iter().map(upright).collect();
    let stretch = (view.low.y - UNDER, view.high.y + 10.0);
    running(canvas, view, &Running { edge: Edge::Left, stations, stretch });
    let along = |(x, text): (f64, String)| Station {
        along: plot.point(Point::new(x, 0.0)).x,
        start: top - view.high.y,
        text,
    };
    let stations = across.into_iter().map(along).collect();
    let stretch = (view.low.x, room.high.x);
    running(canvas, view, &Running { edge: Edge::Above, stations, stretch });
    let text = opening.scene.figures.length(lines.width);
    let span = Span { ends: [left, right], text, clear: [0.0, 0.0] };
    linear(canvas, Edge::Below, view, 9.0, &span);
}

/// Both diagonals.
pub(super) fn diagonals(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>) {
    let lines = &opening.cut.lines;
    let corner = |i: usize, k: usize| plot.point(Point::new(lines.x[i], lines.z[k]));
    for [a, b] in [[corner(0, 0), corner(1, 1)], [corner(0, 1), corner(1, 0)]] {
        canvas.unmarked(vec![a, b], Pen::Centre);
    }
}

/// What is told of diagonals and mass, under the width.
fn words(canvas: &mut Canvas, opening: &Opening, view: &Room) {
    let Opening { scene, cut, .. } = opening;
    let mass = mass(cut.panel.mass_kg, scene.kit.inches);
    let told = [
        format!("Both diagonals {}.", scene.figures.length(cut.lines.diagonal)),
        format!("Centre of mass at the quartered circle: {mass},"),
        format!("carried by {}.", cut.panel.carried.words()),
    ];
    for (i, words) in told.into_iter().enumerate() {
        let at = Point::new(view.low.x, view.low.y - 16.0 - 4.4 * i as f64);
        canvas.text(level(at, 2.5, Align::Left, words));
    }
}

/// The tabs as black bars in the cut, each with its number inside the opening.
fn tabs(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>) {
    let holding = &opening.cut.holding;
    let half = plot.length(holding.width / 2.0).max(0.8);
    for (i, tab) in holding.tabs.iter().enumerate() {
        bar(canvas, tab, plot, half);
        numbered(canvas, plot.point(Point::new(tab.x, tab.z)), sides(tab.edge).1, i + 1);
    }
}

/// A tab as a black bar, `half` its length.
pub(super) fn bar(canvas: &mut Canvas, tab: &Tab, plot: &Plot<ViewFrame>, half: f64) {
    let at = plot.point(Point::new(tab.x, tab.z));
    let (along, out) = sides(tab.edge);
    let corner = |a: f64, o: f64| at + along * (half * a) + out * (0.7 * o);
    let bar = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    canvas.closed(vec![Path::polygon(&bar)], None, Fill::Ink);
}

pub(super) fn numbered(canvas: &mut Canvas, at: At, out: At, number: usize) {
    let [radius, away] = NUMBER;
    let middle = at - out * away;
    canvas.unmarked(vec![at, at - out * (away - radius)], Pen::Narrow);
    let reach = Point::new(radius, radius);
    canvas.blot(&Room { low: middle - reach, high: middle + reach });
    canvas.circle(middle, radius, Pen::Narrow);
    let base = middle - Point::new(0.0, 1.25);
    canvas.text(level(base, 2.5, Align::Middle, number.to_string()));
}

/// Along the cut, and out of the opening.
pub(super) fn sides(edge: Side) -> (At, At) {
    match edge {
        Side::Lower => (Point::new(1.0, 0.0), Point::new(0.0, -1.0)),
        Side::Upper => (Point::new(1.0, 0.0), Point::new(0.0, 1.0)),
        Side::Left => (Point::new(0.0, 1.0), Point::new(-1.0, 0.0)),
        Side::Right => (Point::new(0.0, 1.0), Point::new(1.0, 0.0)),
    }
}

/// A circle with two of its quarters black.
fn centre_of_mass(canvas: &mut Canvas, opening: &Opening, plot: &Plot<ViewFrame>) {
    let [x, _, z] = opening.cut.panel.centre;
    let at = plot.point(Point::new(x, z));
    let reach = Point::new(MASS, MASS);
    canvas.blot(&Room { low: at - reach, high: at + reach });
    for turn in [1.0, -1.0] {
        let quarter = [
            Vertex { at, bulge: 0.0 },
            Vertex { at: at + Point::new(MASS * turn, 0.0), bulge: QUARTER },
            Vertex { at: at + Point::new(0.0, MASS * turn), bulge: 0.0 },
        ];
        canvas.tint(vec![Path { vertices: quarter.to_vec() }], Fill::Ink);
    }
    canvas.circle(at, MASS, Pen::Narrow);
}
