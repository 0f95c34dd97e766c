//! The plan of a box with several kits: this kit's parts and its neighbours', seen from above in
//! this kit's site frame.

use super::Sheet;
use super::block::{Block, column, figures as figure_column, flow};
use super::canvas::{Canvas, Room, level, rectangle};
use super::figure::Figures;
use super::folded_view::{caption, under_caption};
use super::leaf::{common, leaf};
use super::scale::{Plot, Scale};
use super::shop_drawing::more;
use super::title_block::TitleBlock;
use super::{Align, Fill, Pen};
use crate::fold::FoldedPart;
use crate::geom::{Bounds, Point, Point3, SiteFrame, ViewFrame};
use crate::kit::Kit;

/// Paper that the plan may take, mm.
const PAPER: (f64, f64) = (350.0, 130.0);

type Flat = Bounds<ViewFrame>;

/// The plan, without its numbers; none for a kit alone in its box.
pub(super) fn pages(kit: &Kit, folded: &[FoldedPart]) -> Vec<Sheet> {
    if kit.neighbours.is_empty() {
        return Vec::new();
    }
    let own: Vec<Flat> = own(kit, folded);
    let mut all = Flat::empty();
    let others = kit.neighbours.iter().map(|n| n.boxes.iter().map(flat).collect());
    let others: Vec<Vec<Flat>> = others.collect();
    let ground: Vec<Flat> = ground(kit);
    for bounds in own.iter().chain(others.iter().flatten()).chain(&ground) {
        all.add(bounds.low);
        all.add(bounds.high);
    }
    let scale = Scale::fitting(all.width(), all.height(), PAPER);
    let block = TitleBlock {
        title: kit.title.clone(),
        supplement: kit.template.1.clone(),
        number: kit.number.clone(),
        kind: "Plan",
        scale: scale.name(),
        ..common(kit)
    };
    let mut page = leaf(kit, &block, None);
    let room = page.place.above();
    let words = format!("{}   all kits of the box, seen from above", scale.name());
    caption(&mut page.canvas, &room, "Plan", &words);
    let within = under_caption(&room);
    let tall = all.height() * scale.factor();
    let middle = Point::new(within.centre().x, within.high.y - tall / 2.0 - 4.0);
    let plot = Plot::new(&all, scale.factor(), middle);
    let canvas = &mut page.canvas;
    ground.iter().for_each(|bounds| boxed(canvas, &plot, bounds, Pen::Fine));
    for (neighbour, boxes) in kit.neighbours.iter().zip(&others) {
        named(canvas, &plot, boxes, (&neighbour.kit, Pen::Narrow));
    }
    named(canvas, &plot, &own, (&kit.number, Pen::Outline));
    let below = middle.y - tall / 2.0 - 8.0;
    let rest = flow(canvas, vec![table(kit)], &[page.place.left(below)]);
    let mut sheets = vec![page.finish(format!("{} Plan", kit.number))];
    more(&mut sheets, rest, || leaf(kit, &block, None));
    sheets
}

fn flat([low, high]: &[Point3<SiteFrame>; 2]) -> Flat {
    Flat { low: Point::new(low.x, low.y), high: Point::new(high.x, high.y) }
}

fn own(kit: &Kit, folded: &[FoldedPart]) -> Vec<Flat> {
    let mut boxes = Vec::new();
    for (part, folded) in kit.parts.iter().zip(folded) {
        for place in &part.places {
            let mut bounds = Flat::empty();
            for (face, pose) in part.faces.iter().zip(&folded.faces) {
                let seat = pose.then(place);
                let corners = face.outline.vertices.iter().map(|v| seat.lifted(v.at, 0.0));
                corners.for_each(|p| bounds.add(Point::new(p.x, p.y)));
            }
            boxes.push(bounds);
        }
    }
    boxes
}

/// Posts and floor of the container.
fn ground(kit: &Kit) -> Vec<Flat> {
    let shown =
        kit.container.members.iter().filter(|member| {
            member.name.contains("corner post") || member.name.starts_with("floor")
        });
    shown.map(|member| flat(&[member.low, member.high])).collect()
}

fn boxed(canvas: &mut Canvas, plot: &Plot<ViewFrame>, bounds: &Flat, pen: Pen) {
    canvas.closed(vec![rectangle(&plot.bounds(bounds))], Some(pen), Fill::Empty);
}

/// A kit's parts with its number on the side away from the wall.
fn named(canvas: &mut Canvas, plot: &Plot<ViewFrame>, boxes: &[Flat], (number, pen): (&str, Pen)) {
    let mut all = Flat::empty();
    for bounds in boxes {
        boxed(canvas, plot, bounds, pen);
        all.add(bounds.low);
        all.add(bounds.high);
    }
    let place: Room = plot.bounds(&all);
    let at = Point::new(place.centre().x, place.high.y + 2.0);
    canvas.text(level(at, 2.5, Align::Middle, number));
}

/// Every neighbour: where its middle stands, and what bolts it to this kit.
fn table(kit: &Kit) -> Block {
    let figures = Figures { inches: kit.inches };
    let columns = vec![
        column("Kit", 24.0),
        column("Title", 60.0),
        figure_column("Its origin at X", 24.0),
        figure_column("Y", 20.0),
        column("Bolted to this kit", 44.0),
    ];
    let rows = kit.neighbours.iter().map(|neighbour| {
        let bolts = neighbour.bolts.iter().map(|m| format!("{} × {}", m.count, m.fastener));
        let bolts: Vec<String> = bolts.collect();
        vec![
            neighbour.kit.clone(),
            neighbour.title.clone(),
            figures.length(neighbour.to_site.shift.x),
            figures.length(neighbour.to_site.shift.y),
            if bolts.is_empty() { "no".to_owned() } else { bolts.join(", ") },
        ]
    });
    Block::Table("Other kits of this box", columns, rows.collect())
}
