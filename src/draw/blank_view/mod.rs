//! The blank with its outline, bend lines and holes, dimensioned from one datum.

mod bends;
mod corners;
mod holes;
mod reliefs;
mod stations;

use super::block::Block;
use super::canvas::{Canvas, Room, level, strong};
use super::dimension::{
    Callout, Edge, Flag, Running, Span, Station, callout, capacity, flag, linear, linear_reach,
    running, running_depth,
};
use super::figure::Figures;
use super::scale::{Plot, Scale};
use super::{Align, Fill, Pen};
use crate::brake::Plan;
use crate::flat::{Blank, Contour};
use crate::geom::{BlankFrame, Bounds, PaperFrame, Point};
use crate::kit::{Amended, Part};
use holes::Group;
use stations::{Position, Positions, positions};

/// More holes than this are listed in a table.
const MOST_DIMENSIONED: usize = 12;
/// Height of the view's caption.
const CAPTION: f64 = 9.0;
/// From the outermost running dimensions to the overall one, or from the view where there are none.
const OVERALL: f64 = 9.0;
/// Free paper kept beside the overall dimension's extension line at the far end.
const FAR_END: f64 = 2.4;
/// How far the figures of a crowded border may stand past its end.
const PAST_END: f64 = 9.0;
/// Changes nearer than this on the paper share one revision mark.
const SHARED_FLAG: f64 = 8.0;
/// Free paper kept for callouts where a border has no dimensions.
const MARGIN: f64 = 12.0;

/// What is to be shown of a blank, before its scale is known.
#[derive(Debug, Clone)]
pub(super) struct BlankView<'a> {
    part: &'a Part,
    blank: &'a Blank,
    figures: Figures,
    groups: Vec<Group>,
    listed: bool,
    crowded: bool,
    positions: Positions,
    plan: Option<&'a Plan>,
    amended: Vec<&'a Amended>,
}

/// Free paper around the outline for dimensions: left, right, below, above.
struct Margins {
    left: f64,
    right: f64,
    below: f64,
    above: f64,
}

impl<'a> BlankView<'a> {
    /// Gathers what is to be shown.
    pub(super) fn new(part: &'a Part, blank: &'a Blank, figures: Figures) -> Self {
        let groups = holes::groups(part, blank, figures);
        let listed = blank.inner.len() > MOST_DIMENSIONED;
        let positions = positions(part, blank, if listed { &[] } else { &groups });
        Self {
            part,
            blank,
            figures,
            groups,
            listed,
            crowded: false,
            positions,
            plan: None,
            amended: Vec::new(),
        }
    }

    /// The view with the order of the bends, where it is known.
    pub(super) fn ordered(self, plan: Option<&'a Plan>) -> Self {
        Self { plan, ..self }
    }

    /// The view with marks beside what amendments changed.
    pub(super) fn flagged(self, amended: Vec<&'a Amended>) -> Self {
        Self { amended, ..self }
    }

    /// The bend table and, where they are listed, the holes and the outline's corners.
    pub(super) fn tables(&self) -> Vec<Block> {
        let bends = bends::table((self.part, self.plan), self.blank, self.figures);
        let holes = self.listed.then(|| holes::table(&self.groups, self.figures));
        let corners = self.crowded.then(|| corners::table(self.blank, self.figures));
        bends.into_iter().chain(holes).chain(corners).collect()
    }

    /// The view as it is shown at a scale: where corners or holes stand too close for their
    /// figures, they are listed instead.
    pub(super) fn at(self, scale: Scale) -> Self {
        let (positions, crowded) = self.positions.thinned(self.blank, scale);
        let listed = self.listed || crowded && !self.groups.is_empty();
        Self { positions, crowded, listed, ..self }
    }

    /// The largest scale at which the blank and its dimensions fit into the room.
    pub(super) fn scale(&self, room: &Room) -> Scale {
        Scale::largest(|scale| {
            let m = self.margins(scale);
            let width = self.blank.width * scale.factor() + m.left + m.right;
            width <= room.width() && self.height(scale) <= room.height()
        })
    }

    /// The height the view takes at a scale, caption and dimensions included.
    pub(super) fn height(&self, scale: Scale) -> f64 {
        let m = self.margins(scale);
        self.blank.height * scale.factor() + m.below + m.above + CAPTION
    }

    /// Draws the view at the top of the room.
    pub(super) fn draw(&self, canvas: &mut Canvas, room: &Room, scale: Scale) {
        let m = self.margins(scale);
        let size = (self.blank.width * scale.factor(), self.blank.height * scale.factor());
        let free = room.width() - m.left - m.right - size.0;
        let low_x = room.low.x + m.left + free.max(0.0) / 2.0;
        let high_y = room.high.y - CAPTION - m.above;
        let middle = Point::new(low_x + size.0 / 2.0, high_y - size.1 / 2.0);
        let bounds = Bounds::<BlankFrame> {
            low: Point::new(0.0, 0.0),
            high: Point::new(self.blank.width, self.blank.height),
        };
        let plot = Plot::new(&bounds, scale.factor(), middle);
        let view = plot.bounds(&bounds);
        let within = Room { low: room.low, high: room.high - Point::new(0.0, CAPTION) };
        caption(canvas, room, scale);
        outline(canvas, self.blank, &plot);
        bends::lines(canvas, self.blank, &plot);
        self.dimensions(canvas, &plot, &view);
        self.flags(canvas, &plot, &within);
        bends::callouts(canvas, (self.part, self.blank, self.figures), &plot, &within);
        self.hole_callouts(canvas, &plot, &within);
        reliefs::callouts(canvas, (self.part, self.blank, self.figures), &plot, &within);
    }

    fn margins(&self, scale: Scale) -> Margins {
        let p = &self.positions;
        let depth = |list: &[Position]| {
            let texts: Vec<String> = list.iter().map(|p| self.figures.place(p.value)).collect();
            running_depth(texts.iter().map(String::as_str))
        };
        // Figures of an overall size that is shorter than they are stand beyond its end.
        let beyond = |size: f64| {
            let reach = linear_reach(&self.figures.length(size));
            if size * scale.factor() < reach { reach } else { 0.0 }
        };
        Margins {
            left: depth(&p.left) + OVERALL + 5.0,
            right: depth(&p.right).max(MARGIN).max(beyond(self.blank.width)),
            below: depth(&p.below) + OVERALL + 3.0,
            above: depth(&p.above).max(MARGIN).max(beyond(self.blank.height)),
        }
    }

    fn dimensions(&self, canvas: &mut Canvas, plot: &Plot<BlankFrame>, view: &Room) {
        let p = &self.positions;
        let rows = [
            (Edge::Below, &p.below),
            (Edge::Above, &p.above),
            (Edge::Left, &p.left),
            (Edge::Right, &p.right),
        ];
        let rows = rows.map(|(edge, list)| self.row(edge, list, plot, view));
        for row in &rows {
            running(canvas, view, row);
        }
        let (low, high) = (view.low, view.high);
        let overall = [
            (Edge::Below, high.x, low.y, self.blank.width, &rows[0]),
            (Edge::Left, low.x, high.y, self.blank.height, &rows[2]),
        ];
        for (edge, x, y, size, row) in overall {
            let end = if edge.level() { view.high.x } else { view.high.y };
            let depth = row.depth();
            let clear = [depth, if row.stretch.1 > end { depth } else { 0.0 }];
            let text = self.figures.length(size);
            let span = Span { ends: [low, Point::new(x, y)], text, clear };
            linear(canvas, edge, view, depth + OVERALL, &span);
        }
    }

    /// The running dimensions of one border.
    fn row(&self, edge: Edge, list: &[Position], plot: &Plot<BlankFrame>, view: &Room) -> Running {
        let station = |p: &Position| {
            let (_, start) = edge.split(view, plot.point(p.of));
            let along = if edge.level() { plot.point(p.of).x } else { plot.point(p.of).y };
            Station { along, start, text: self.figures.place(p.value) }
        };
        // The overall dimension's extension lines run at both ends of the near borders. The datum
        // stands where it is; the far end is kept free while there is room without it.
        let (low, high) =
            if edge.level() { (view.low.x, view.high.x) } else { (view.low.y, view.high.y) };
        let roomy = list.len() <= capacity(high - low - FAR_END) + 1;
        let high = if edge.outward_falls() && roomy { high - FAR_END } else { high + PAST_END };
        Running { edge, stations: list.iter().map(station).collect(), stretch: (low, high) }
    }

    /// A revision's mark beside everything that an amendment changed; those close together share
    /// one.
    fn flags(&self, canvas: &mut Canvas, plot: &Plot<BlankFrame>, within: &Room) {
        let mut done: Vec<(Point<PaperFrame>, &str)> = Vec::new();
        for it in &self.amended {
            let target = plot.point(self.blank.faces[it.face].point(it.at));
            let near = |(at, letter): &(Point<PaperFrame>, &str)| {
                at.distance(target) < SHARED_FLAG && *letter == it.revision
            };
            if done.iter().any(near) {
                continue;
            }
            done.push((target, &it.revision));
            let (letter, radius) = (it.revision.clone(), plot.length(it.reach));
            flag(canvas, &Flag { letter, target, radius, within: *within });
        }
    }

    /// One callout a size where the holes are dimensioned, one a row where they are listed.
    fn hole_callouts(&self, canvas: &mut Canvas, plot: &Plot<BlankFrame>, within: &Room) {
        let listed = self.groups.iter().filter(|_| self.listed).flat_map(holes::rows);
        let listed = listed.map(|row| (row.label, row.first));
        let plain = self.groups.iter().filter(|_| !self.listed).map(|group| {
            let first = group.holes[0].clone();
            let text = match group.holes.len() {
                1 => first.size.clone(),
                n => format!("{n} × {}", first.size),
            };
            (text, first)
        });
        for (text, hole) in listed.chain(plain) {
            let target = plot.point(hole.centre);
            let radius = plot.length(hole.radius).max(0.3);
            callout(canvas, &Callout { text, target, radius, within: *within });
        }
    }
}

fn caption(canvas: &mut Canvas, room: &Room, scale: Scale) {
    let at = Point::new(room.low.x, room.high.y - 3.5);
    canvas.text(strong(at, 3.5, Align::Left, "Blank"));
    let words = format!("{}   seen from the side that is up on the laser bed", scale.name());
    canvas.text(level(at + Point::new(19.0, 0.0), 2.5, Align::Left, words));
}

/// The outline in wide lines, holes narrower where they are tiny on the paper.
pub(super) fn outline(canvas: &mut Canvas, blank: &Blank, plot: &Plot<BlankFrame>) {
    canvas.closed(vec![plot.path(&blank.outer)], Some(Pen::Outline), Fill::Empty);
    for hole in &blank.inner {
        match &hole.contour {
            Contour::Circle(centre, diameter) => {
                let radius = plot.length(diameter / 2.0);
                let pen = if radius < 0.8 { Pen::Narrow } else { Pen::Outline };
                canvas.circle(plot.point(*centre), radius, pen);
            }
            Contour::Loop(path) => {
                let small = plot.length(path.bounds().height().min(path.bounds().width())) < 1.6;
                let pen = if small { Pen::Narrow } else { Pen::Outline };
                canvas.closed(vec![plot.path(path)], Some(pen), Fill::Empty);
            }
        }
    }
}
