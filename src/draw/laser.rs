//! What the laser is given: contours, bend lines and etching, each with its role.

use super::lettering::{lettering, lettering_width};
use crate::flat::{Blank, BlankBend, Contour, Etch};
use crate::geom::{BedFrame, BlankFrame, Bounds, Map2, Path, Point};
use crate::kit::{Part, Sense};

/// What the laser's operator does with an entity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// The blank's outline: cut last.
    CutOutside,
    /// Holes and cut-outs: cut before the outline.
    CutInside,
    /// Where the brake bends towards the viewer; not cut.
    BendUp,
    /// Where the brake bends away from the viewer; not cut.
    BendDown,
    /// Lettering, etched.
    Etch,
    /// The edge of the stock sheet, for nests.
    Sheet,
    /// For people; no machine follows it.
    Info,
    /// From the pierce in the waste to the contour; only where the shop wants it.
    LeadIn,
    /// Across an outline where it stays whole; only where the shop wants it.
    Tab,
    /// Divides what is left of a sheet; only where the shop wants it.
    Skeleton,
}

/// A layer of the file: the name and the colour that the shop gives to a role.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layer {
    /// What lies on it.
    pub role: Role,
    /// Its name in the file.
    pub name: String,
    /// Its colour in the DXF colour index, 1 to 255.
    pub colour: u8,
}

/// How bend lines are shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BendLines {
    /// From end to end.
    Whole,
    /// As ticks of this length (mm) at both ends; a bend too short for two is shown whole.
    Ticks(f64),
    /// Not at all.
    Omitted,
}

/// A shop's wishes for its laser files.
#[derive(Debug, Clone, PartialEq)]
pub struct LaserStyle {
    /// One layer for each role that the shop has.
    pub layers: Vec<Layer>,
    /// How bend lines are shown.
    pub bend_lines: BendLines,
}

impl Default for LaserStyle {
    fn default() -> Self {
        let layer = |role, name: &str, colour| Layer { role, name: name.to_owned(), colour };
        Self {
            layers: vec![
                layer(Role::CutOutside, "CUT_OUTSIDE", 7),
                layer(Role::CutInside, "CUT_INSIDE", 1),
                layer(Role::BendUp, "BEND_UP", 5),
                layer(Role::BendDown, "BEND_DOWN", 3),
                layer(Role::Etch, "ETCH", 6),
                layer(Role::Sheet, "SHEET", 8),
                layer(Role::Info, "INFO", 9),
            ],
            bend_lines: BendLines::Whole,
        }
    }
}

/// A line on the laser bed.
#[derive(Debug, Clone, PartialEq)]
pub enum LaserShape {
    /// A closed contour, arcs as bulges: outlines counter-clockwise, cut-outs clockwise.
    Contour(Path<BedFrame>),
    /// A circle: centre and diameter.
    Circle(Point<BedFrame>, f64),
    /// A straight line.
    Line([Point<BedFrame>; 2]),
    /// A run of straight lines; closed when it ends where it began.
    Stroke(Vec<Point<BedFrame>>),
}

/// One entity of a laser file.
#[derive(Debug, Clone, PartialEq)]
pub struct LaserItem {
    /// What is done with it.
    pub role: Role,
    /// Where it runs.
    pub shape: LaserShape,
}

/// A laser file before it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct LaserSheet {
    /// Every role's layer, used or not.
    pub layers: Vec<Layer>,
    /// In the order of work: etching, bend lines, inside cuts, outside cuts.
    pub items: Vec<LaserItem>,
}

impl LaserSheet {
    /// The rectangle around everything on the sheet.
    pub fn bounds(&self) -> Bounds<BedFrame> {
        let mut bounds = Bounds::empty();
        for item in &self.items {
            match &item.shape {
                LaserShape::Contour(path) => {
                    let own = path.bounds();
                    bounds.add(own.low);
                    bounds.add(own.high);
                }
                LaserShape::Circle(centre, diameter) => {
                    let corner = Point::new(diameter / 2.0, diameter / 2.0);
                    bounds.add(*centre - corner);
                    bounds.add(*centre + corner);
                }
                LaserShape::Line(points) => points.iter().for_each(|&p| bounds.add(p)),
                LaserShape::Stroke(points) => points.iter().for_each(|&p| bounds.add(p)),
            }
        }
        bounds
    }
}

/// The laser file of one part: the blank with its lower left at the origin of the bed.
pub fn laser_sheet(part: &Part, blank: &Blank, style: &LaserStyle) -> LaserSheet {
    let items = laser_items(part, blank, style.bend_lines, &Map2::identity());
    LaserSheet { layers: style.layers.clone(), items }
}

/// One blank as it lies on the bed, in the order of work.
pub fn laser_items(
    part: &Part,
    blank: &Blank,
    bend_lines: BendLines,
    to_bed: &Map2<BlankFrame, BedFrame>,
) -> Vec<LaserItem> {
    let mut items = Vec::new();
    for etch in &blank.etch {
        items.extend(etched(etch, to_bed).map(|run| item(Role::Etch, LaserShape::Stroke(run))));
    }
    for (bend, flat) in part.bends.iter().zip(&blank.bends) {
        let role = bend_role(bend.sense, to_bed.reflects());
        let lines = bend_shown(flat, bend_lines, to_bed);
        items.extend(lines.into_iter().map(|line| item(role, LaserShape::Line(line))));
    }
    items.extend(blank.inner.iter().map(|hole| inside(&hole.contour, to_bed)));
    items.push(item(Role::CutOutside, LaserShape::Contour(laid(&blank.outer, to_bed))));
    items
}

/// Length of all that is etched on a blank, mm.
pub fn etched_length(blank: &Blank) -> f64 {
    let own = Map2::identity();
    let runs = blank.etch.iter().flat_map(|etch| etched(etch, &own));
    runs.map(|run| run.windows(2).map(|two| two[0].distance(two[1])).sum::<f64>()).sum()
}

fn item(role: Role, shape: LaserShape) -> LaserItem {
    LaserItem { role, shape }
}

/// A blank laid face down bends the other way.
fn bend_role(sense: Sense, turned_over: bool) -> Role {
    if (sense == Sense::Up) == turned_over { Role::BendDown } else { Role::BendUp }
}

fn inside(contour: &Contour, to_bed: &Map2<BlankFrame, BedFrame>) -> LaserItem {
    let shape = match contour {
        Contour::Circle(centre, diameter) => LaserShape::Circle(to_bed.point(*centre), *diameter),
        Contour::Loop(path) => LaserShape::Contour(laid(path, to_bed)),
    };
    item(Role::CutInside, shape)
}

/// A path on the bed that runs the way it ran in the blank.
fn laid(path: &Path<BlankFrame>, to_bed: &Map2<BlankFrame, BedFrame>) -> Path<BedFrame> {
    let path = path.cleaned().mapped(to_bed);
    if to_bed.reflects() { path.reversed() } else { path }
}

fn bend_shown(
    bend: &BlankBend,
    bend_lines: BendLines,
    to_bed: &Map2<BlankFrame, BedFrame>,
) -> Vec<[Point<BedFrame>; 2]> {
    let [start, end] = bend.line.map(|p| to_bed.point(p));
    let length = start.distance(end);
    match bend_lines {
        BendLines::Omitted => Vec::new(),
        BendLines::Ticks(tick) if 0.0 < tick && 2.0 * tick < length => {
            let share = tick / length;
            vec![[start, start.toward(end, share)], [end.toward(start, share), end]]
        }
        _ => vec![[start, end]],
    }
}

/// The strokes of a mark, its middle where the blank has it.
fn etched(
    etch: &Etch,
    to_bed: &Map2<BlankFrame, BedFrame>,
) -> impl Iterator<Item = Vec<Point<BedFrame>>> + use<> {
    let middle = Point::new(lettering_width(&etch.text, etch.height) / 2.0, etch.height / 2.0);
    let (at, direction, to_bed) = (etch.at, etch.direction, *to_bed);
    // A blank that lies face down is etched on its other side, to be read from there.
    let readable = move |p: Point<BlankFrame>| {
        let p = p - middle;
        if to_bed.reflects() { Point::new(-p.x, p.y) } else { p }
    };
    lettering(&etch.text, etch.height).into_iter().map(move |run: Vec<Point<BlankFrame>>| {
        run.into_iter().map(|p| to_bed.point(at + readable(p).turned(direction))).collect()
    })
}
