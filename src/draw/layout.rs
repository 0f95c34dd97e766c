//! Where things stand on a wall that is not cut: the wall in elevation with running dimensions from
//! the left corner post and from the floor, a table of positions, and how bought profile is cut.

use super::Sheet;
use super::block::{Block, figures as figure_column, flow, sentences};
use super::canvas::{Canvas, Room, rectangle};
use super::dimension::{Edge, Running, Station, running, running_depth};
use super::figure::Figures;
use super::folded_view::{caption, under_caption};
use super::leaf::{common, leaf};
use super::scale::{Plot, Scale};
use super::shop_drawing::more;
use super::title_block::TitleBlock;
use super::{Fill, Pen};
use crate::fold::FoldedPart;
use crate::geom::{Bounds, PaperFrame, Path, Point, ViewFrame};
use crate::kit::{Bar, Kit, Lengths, Shape, Wall};

/// Places nearer than this are one column or one row, mm.
const SAME: f64 = 0.5;
/// Paper between the dimensions and the tables under them, mm.
const UNDER: f64 = 6.0;

/// The layout pages, without their numbers; none where nothing is laid out on a wall or cut from
/// bars. `folded` stands in the order of the kit's parts.
pub(super) fn pages(kit: &Kit, folded: &[FoldedPart]) -> Vec<Sheet> {
    let uncut = kit.container.wall.as_ref().filter(|wall| wall.cuts.is_none());
    let boxes = uncut.map_or_else(Vec::new, |_| instances(kit, folded));
    if boxes.is_empty() && kit.lengths.is_empty() {
        return Vec::new();
    }
    let mut block = TitleBlock {
        title: kit.title.clone(),
        supplement: kit.template.1.clone(),
        number: kit.number.clone(),
        kind: "Layout",
        ..common(kit)
    };
    let scale = uncut.map(|wall| Scale::fitting(span(wall), kit_height(kit), (300.0, 120.0)));
    block.scale = scale.map_or_else(|| "–".to_string(), Scale::name);
    let mut page = leaf(kit, &block, None);
    let room = page.place.above();
    let mut below = room.high.y;
    if let (Some(wall), Some(scale)) = (uncut, scale) {
        let words = format!(
            "{}   seen from outside, through the wall; to the middles, from the left corner post and the \
             floor{}",
            scale.name(),
            if kit.lengths.is_empty() { "" } else { "; tinted: what is cut from bars" }
        );
        caption(&mut page.canvas, &room, "Layout", &words);
        let view = Elevation { kit, wall, boxes: &boxes };
        below = view.draw(&mut page.canvas, &under_caption(&room), scale);
    }
    let tables = tables(kit, uncut, &boxes);
    let cautions = Block::Prose("Cautions", kit.cautions.clone());
    let beside = flow(&mut page.canvas, vec![cautions], &[page.place.column(below)]);
    let mut rest = flow(&mut page.canvas, tables, &[page.place.left(below)]);
    rest.extend(beside);
    let mut sheets = vec![page.finish(format!("{} Layout", kit.number))];
    more(&mut sheets, rest, || leaf(kit, &block, None));
    sheets
}

type Box2 = Bounds<ViewFrame>;

/// The box around every instance of the kit, seen along Y: x and z of the site.
fn instances(kit: &Kit, folded: &[FoldedPart]) -> Vec<Box2> {
    let mut boxes = Vec::new();
    for (part, folded) in kit.parts.iter().zip(folded) {
        for place in &part.places {
            let mut bounds = Box2::empty();
            for (face, pose) in part.faces.iter().zip(&folded.faces) {
                let seat = pose.then(place);
                let corners = face.outline.vertices.iter().map(|v| seat.lifted(v.at, 0.0));
                corners.for_each(|p| bounds.add(Point::new(p.x, p.z)));
            }
            boxes.push(bounds);
        }
    }
    boxes
}

fn span(wall: &Wall) -> f64 {
    wall.ends[1] - wall.ends[0]
}

fn kit_height(kit: &Kit) -> f64 {
    kit.container.wall.as_ref().map_or(0.0, |wall| wall.edges[1] - wall.edges[0])
}

/// Values with those nearer than `SAME` told once, ascending.
fn distinct(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut all: Vec<f64> = values.collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|b, a| *b - *a < SAME);
    all
}

/// The wall in elevation.
struct Elevation<'a> {
    kit: &'a Kit,
    wall: &'a Wall,
    boxes: &'a [Box2],
}

impl Elevation<'_> {
    /// Draws it at the top of the room; gives the height below it and its dimensions.
    fn draw(&self, canvas: &mut Canvas, room: &Room, scale: Scale) -> f64 {
        let wall = self.wall;
        let sheet = Box2 {
            low: Point::new(wall.ends[0], wall.edges[0]),
            high: Point::new(wall.ends[1], wall.edges[1]),
        };
        let bounds = self.boxes.iter().fold(sheet, |mut all, own| {
            all.add(own.low);
            all.add(own.high);
            all
        });
        let [across, up] = self.rows();
        let [below, beside] =
            [&across, &up].map(|row| running_depth(row.iter().map(|(_, text)| text.as_str())));
        let tall = bounds.height() * scale.factor();
        let middle = Point::new(room.centre().x + beside / 2.0, room.high.y - tall / 2.0);
        let plot = Plot::new(&bounds, scale.factor(), middle);
        let view = plot.bounds(&bounds);
        canvas.rectangle(&plot.bounds(&sheet), Pen::Narrow);
        for x in self.flats() {
            let ends = [wall.edges[0], wall.edges[1]].map(|z| plot.point(Point::new(x, z)));
            canvas.unmarked(ends.to_vec(), Pen::Fine);
        }
        let floor = [wall.ends[0], wall.ends[1]].map(|x| plot.point(Point::new(x, 0.0)));
        canvas.line(floor[0], floor[1], Pen::Narrow);
        self.bars(canvas, &plot);
        for instance in self.boxes {
            let shape: Path<PaperFrame> = rectangle(&plot.bounds(instance));
            canvas.closed(vec![shape], Some(Pen::Outline), Fill::Paper);
        }
        dimensions(canvas, &view, &plot, [across, up]);
        view.low.y - below - UNDER
    }

    /// What is cut from bars: uprights as the family keeps room for them, then what lies before
    /// them.
    fn bars(&self, canvas: &mut Canvas, plot: &Plot<ViewFrame>) {
        if self.kit.lengths.is_empty() {
            return;
        }
        let uprights = self.kit.keep_outs.iter().filter_map(|it| elevation(&it.shape));
        let mut draw = |bar: Box2, fill| {
            let shape: Path<PaperFrame> = rectangle(&plot.bounds(&bar));
            canvas.closed(vec![shape], Some(Pen::Narrow), fill);
        };
        uprights.for_each(|bar| draw(bar, Fill::Tint(12)));
        rails(self.kit).into_iter().for_each(|bar| draw(bar, Fill::Tint(24)));
    }

    /// X of the edges of all inner flats.
    fn flats(&self) -> Vec<f64> {
        let half = self.wall.inner_flat / 2.0;
        let pairs = self.wall.outer_flat_centres.windows(2);
        pairs.flat_map(|p| [-half, half].map(|by| (p[0] + p[1]) / 2.0 + by)).collect()
    }

    /// Where instances stand along the wall, from the left post on, and over the floor; what stands
    /// below it is left to the table.
    fn rows(&self) -> [Row; 2] {
        let figures = Figures { inches: self.kit.inches };
        let row = |datum: f64, places: Vec<f64>| -> Row {
            let datum_row = (!places.is_empty()).then_some(datum);
            let all = datum_row.into_iter().chain(places);
            all.map(|place| (place, figures.length(place - datum))).collect()
        };
        let xs = distinct(self.boxes.iter().map(|b| b.centre().x));
        let zs = distinct(self.boxes.iter().map(|b| b.centre().y).filter(|z| 0.0 < *z));
        let mut up = row(0.0, zs);
        let rails = distinct(rails(self.kit).iter().map(|b| b.centre().y));
        up.extend(rails.into_iter().map(|z| (z, format!("rail {}", figures.length(z)))));
        up.sort_by(|a, b| a.0.total_cmp(&b.0));
        [row(self.wall.ends[0], xs), up]
    }
}

/// A box in elevation; none for other shapes.
fn elevation(shape: &Shape) -> Option<Box2> {
    match shape {
        Shape::Box { low, high } => {
            Some(Box2 { low: Point::new(low.x, low.z), high: Point::new(high.x, high.z) })
        }
        Shape::Cylinder { .. } | Shape::Swept { .. } => None,
    }
}

/// Bodies that are pieces of bought profile, by their name.
fn rails(kit: &Kit) -> Vec<Box2> {
    let pieces = || kit.lengths.iter().flat_map(|lengths| &lengths.plan.pieces);
    let cut = |name: &str| pieces().any(|piece| name.starts_with(&piece.title));
    let bodies = kit.on_site.bodies.iter().filter(|body| cut(&body.name));
    bodies.filter_map(|body| elevation(&body.shape)).collect()
}

/// Places in real millimetres, the datum first, each with its figures.
type Row = Vec<(f64, String)>;

fn dimensions(canvas: &mut Canvas, view: &Room, plot: &Plot<ViewFrame>, [across, up]: [Row; 2]) {
    let station = |along: f64, text: String| Station { along, start: 0.0, text };
    let across =
        across.into_iter().map(|(x, text)| station(plot.point(Point::new(x, 0.0)).x, text));
    let up = up.into_iter().map(|(z, text)| station(plot.point(Point::new(0.0, z)).y, text));
    let [across, up] = [across.collect(), up.collect()];
    let stretch = [(view.low.x - 20.0, view.high.x + 20.0), (view.low.y - 20.0, view.high.y)];
    for (edge, stations, stretch) in
        [(Edge::Below, across, stretch[0]), (Edge::Left, up, stretch[1])]
    {
        running(canvas, view, &Running { edge, stations, stretch });
    }
}

fn tables(kit: &Kit, wall: Option<&Wall>, boxes: &[Box2]) -> Vec<Block> {
    let figures = Figures { inches: kit.inches };
    let mut blocks = Vec::new();
    if let Some(wall) = wall.filter(|_| !boxes.is_empty()) {
        blocks.push(positions(wall, boxes, figures));
    }
    if !kit.lengths.is_empty() {
        let columns = vec![
            sentences("Profile", 48.0),
            figure_column("Bars", 10.0),
            figure_column("Length", 26.0),
            sentences("Cut from one bar", 66.0),
            figure_column("Rest", 26.0),
        ];
        let rows = kit.lengths.iter().flat_map(|lengths| cuts(lengths, figures)).collect();
        blocks.push(Block::Table("Cutting list", columns, rows));
        let proofs = kit.lengths.iter().map(|lengths| proof(lengths, figures)).collect();
        blocks.push(Block::Prose("Stock needed", proofs));
    }
    blocks
}

/// Every column of places: its distances from both corner posts, and how many stand in it.
fn positions(wall: &Wall, boxes: &[Box2], figures: Figures) -> Block {
    let xs = distinct(boxes.iter().map(|b| b.centre().x));
    let columns = vec![
        figure_column("Column", 14.0),
        figure_column("From left post", 26.0),
        figure_column("From right post", 26.0),
        figure_column("To the one before", 28.0),
        figure_column("In it", 12.0),
        figure_column("Middle over the floor", 40.0),
    ];
    let row = |(i, x): (usize, &f64)| {
        let here: Vec<&Box2> = boxes.iter().filter(|b| (b.centre().x - x).abs() < SAME).collect();
        let heights = distinct(here.iter().map(|b| b.centre().y));
        let heights = match heights[..] {
            [low, .., high] => format!("{} to {}", figures.length(low), figures.length(high)),
            [one] => figures.length(one),
            [] => String::new(),
        };
        let before = if i == 0 { String::new() } else { figures.length(x - xs[i - 1]) };
        vec![
            (i + 1).to_string(),
            figures.length(x - wall.ends[0]),
            figures.length(wall.ends[1] - x),
            before,
            here.len().to_string(),
            heights,
        ]
    };
    Block::Table("Positions", columns, xs.iter().enumerate().map(row).collect())
}

/// One row for all bars that are cut alike.
fn cuts(lengths: &Lengths, figures: Figures) -> Vec<Vec<String>> {
    let plan = &lengths.plan;
    let mut rows: Vec<(usize, &Bar)> = Vec::new();
    for bar in &plan.bars {
        match rows.last_mut() {
            Some((count, last)) if *last == bar => *count += 1,
            _ => rows.push((1, bar)),
        }
    }
    let row = |(count, bar): (usize, &Bar)| {
        let made = bar.cuts.iter().zip(&plan.pieces).filter(|(n, _)| **n > 0);
        let words = made.map(|(n, p)| format!("{n} × {} {}", p.title, figures.length(p.length)));
        vec![
            lengths.title.clone(),
            count.to_string(),
            figures.length(bar.stock),
            words.collect::<Vec<_>>().join(", "),
            figures.length(bar.rest),
        ]
    };
    rows.into_iter().map(row).collect()
}

/// What the plan takes, and how little any plan could do with.
fn proof(lengths: &Lengths, figures: Figures) -> String {
    let plan = &lengths.plan;
    let unit = figures.unit();
    let proven = match (plan.total <= plan.bound + SAME, plan.proven) {
        (true, _) => "met: no plan takes less",
        (false, true) => "not met, but every plan that might take less was tried: none does",
        (false, false) => "not met: a plan that takes less may exist",
    };
    format!(
        "{}: {} bars, together {} {unit}, saw cut {}; lower bound {} {unit}, {proven}.",
        lengths.title,
        plan.bars.len(),
        figures.length(plan.total),
        figures.small(plan.kerf),
        figures.length(plan.bound)
    )
}
