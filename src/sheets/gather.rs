//! One job for each material and thickness.

use super::shape::shape;
use super::{Board, Group, Missing, Request, Wanted, Why};
use crate::geom::{BedFrame, Bounds, Point};
use crate::nest::{Item, Job, Rect, Stock, Turns};
use crate::note::Finding;
use crate::shelf::{Blocked, Material, Remnant, StockSheet, same_thickness};

/// Kilograms in a cubic millimetre of density 1 kg/m3.
const CUBIC_METRES: f64 = 1e-9;

/// Thicknesses nearer than this are one number, mm.
const SAME: f64 = 1e-6;

/// The jobs of a request, in the order in which their first parts stand there. Parts that nothing
/// can be laid out of are left out: see [`request_faults`].
pub fn gather(request: &Request) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (index, wanted) in request.wanted.iter().enumerate() {
        let part = wanted.part;
        if wanted.quantity == 0 {
            continue;
        }
        let same = |group: &&mut Group| {
            group.material.id == part.material.id && (group.thickness - part.thickness).abs() < SAME
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.members.push(index),
            None if boards(request, wanted).is_empty() => {}
            None => groups.push(started(request, wanted, index)),
        }
    }
    groups.iter_mut().for_each(|group| group.job.items = items(request, group));
    groups
}

/// What keeps parts of a request from being laid out: they are asked for 0 times, or no sheet in
/// stock has their gauge. What to do about it stands in the finding.
pub fn request_faults(request: &Request) -> Vec<(Missing, Finding)> {
    let mut faults = Vec::new();
    for (index, wanted) in request.wanted.iter().enumerate() {
        let part = wanted.part;
        let missing = |why| Missing { wanted: index, quantity: wanted.quantity, why };
        if wanted.quantity == 0 {
            let message = format!("{} ({}) is asked for 0 times", part.number, part.name);
            let finding = Finding::error("sheets.quantity", message).about(part.number.clone());
            let help = "leave it out with `when`, or give it a place at least once";
            let finding = finding.at(Some(wanted.origin.kit.clone())).help(help);
            faults.push((missing(Why::NotAsked), finding));
        } else if boards(request, wanted).is_empty() {
            let message = format!(
                "{} ({}): no sheet of {}, {} mm, is in stock",
                part.number,
                part.name,
                part.material.title,
                crate::units::number(part.thickness, 3)
            );
            let finding = Finding::error("sheets.stock", message).about(part.number.clone());
            let help = "enter a sheet of it under [[shop.sheet]], or choose a sheet in stock";
            let finding = finding.at(Some(wanted.origin.sheet.clone())).help(help);
            faults.push((missing(Why::NoStock), finding));
        }
    }
    faults
}

fn started(request: &Request, wanted: &Wanted, index: usize) -> Group {
    let (shop, part) = (&request.shelf.shop, wanted.part);
    let boards = boards(request, wanted);
    let gap = shop.gaps.part.max(part.thickness);
    let priced = boards.iter().all(|(board, _)| board.price.is_some());
    let stock = |(board, count): &(Board, Option<u32>)| Stock {
        name: board.name.clone(),
        size: board.size.map(floor),
        count: *count,
        cost: match board.price {
            Some(price) if priced => price,
            _ => board.size[0] * board.size[1] * 1e-6,
        },
        remnant: board.remnant,
        blocked: board.blocked.iter().map(rect).collect(),
    };
    let job = Job {
        items: Vec::new(),
        stock: boards.iter().map(stock).collect(),
        gap: ceil(gap),
        margin: ceil(shop.gaps.edge),
        least_remnant: ceil(shop.sheet_work.keep),
        effort: request.effort,
        seed: request.seed,
    };
    Group {
        material: part.material.clone(),
        thickness: part.thickness,
        gauge: part.gauge.clone(),
        members: vec![index],
        boards: boards.into_iter().map(|(board, _)| board).collect(),
        job,
    }
}

/// Millimetres in whole hundredths, rounded up but for what doubles lose.
fn ceil(mm: f64) -> i64 {
    (mm * 100.0 - 1e-6).ceil() as i64
}

fn floor(mm: f64) -> i64 {
    (mm * 100.0 + 1e-6).floor() as i64
}

fn rect(bounds: &Bounds<BedFrame>) -> Rect {
    Rect {
        low: [floor(bounds.low.x), floor(bounds.low.y)],
        high: [ceil(bounds.high.x), ceil(bounds.high.y)],
    }
}

fn items(request: &Request, group: &Group) -> Vec<Item> {
    let wanted: Vec<&Wanted> = group.members.iter().map(|&i| &request.wanted[i]).collect();
    let room = 2.0 * group.job.gap as f64 / 100.0;
    let sides = |[a, b]: [f64; 2]| if a < b { [a, b] } else { [b, a] };
    // An opening holds a part that fits its extents turned one way or the other.
    let holds = |size: [f64; 2]| {
        let [short, long] = sides(size);
        wanted.iter().any(|wanted| {
            let part = sides([wanted.blank.width, wanted.blank.height]);
            part[0] + room <= short && part[1] + room <= long
        })
    };
    let item = |wanted: &&Wanted| Item {
        name: wanted.part.number.clone(),
        shape: shape(wanted.blank, holds),
        quantity: wanted.quantity,
        turns: if wanted.part.lie.grain { Turns::Half } else { Turns::Quarter },
        mirror: wanted.part.lie.mirror,
    };
    wanted.iter().map(item).collect()
}

/// The sheets that a part may be cut from, remnants first, each with how many there are.
fn boards(request: &Request, wanted: &Wanted) -> Vec<(Board, Option<u32>)> {
    let (shelf, part) = (request.shelf, wanted.part);
    let shop = &shelf.shop;
    let material = shelf.material(&part.material.id);
    let rack = Rack {
        material,
        thickness: part.thickness,
        bed: shop.laser.bed,
        edge: [shop.gaps.edge, shop.gaps.part.max(part.thickness)],
    };
    let remnants = shop.remnants.iter().filter(|remnant| {
        remnant.material == part.material.id && same_thickness(remnant.thickness, part.thickness)
    });
    let sheets = shop.sheets.iter().filter(|sheet| sheet.serves(&part.material.id, part.thickness));
    let remnants = remnants.map(|remnant| (rack.remnant(remnant), Some(1)));
    remnants.chain(sheets.map(|sheet| (rack.sheet(sheet), sheet.count))).collect()
}

/// What turns entries of the shop's file into boards.
struct Rack<'a> {
    material: Option<&'a Material>,
    thickness: f64,
    /// The laser's bed, shorter side first.
    bed: [f64; 2],
    /// Margin of a sheet, and gap between parts.
    edge: [f64; 2],
}

impl Rack<'_> {
    fn sheet(&self, sheet: &StockSheet) -> Board {
        let size = [sheet.length, sheet.width];
        let name = format!("{} × {}", short(size[0]), short(size[1]));
        self.board((name, size, &sheet.blocked), sheet.price_per_kg)
    }

    /// A remnant lies with its longer side along the bed unless a grain forbids to turn it.
    fn remnant(&self, remnant: &Remnant) -> Board {
        let ([x, y], grain) = (remnant.size, self.material.is_some_and(|m| m.grain));
        let name = format!("remnant {}", remnant.name);
        let board = if y <= x || grain {
            self.board((name, [x, y], &remnant.blocked), None)
        } else {
            let turned: Vec<Blocked> =
                remnant.blocked.iter().map(|[x0, y0, x1, y1]| [y - y1, *x0, y - y0, *x1]).collect();
            self.board((name, [y, x], &turned), None)
        };
        Board { remnant: true, ..board }
    }

    fn board(
        &self,
        (name, size, blocked): (String, [f64; 2], &[Blocked]),
        price_per_kg: Option<f64>,
    ) -> Board {
        let mut taken: Vec<Bounds<BedFrame>> =
            blocked.iter().map(|[x0, y0, x1, y1]| bounds([*x0, *y0], [*x1, *y1])).collect();
        // What lies past the bed cannot be cut; parts keep the margin to the bed's edge.
        let [margin, gap] = self.edge;
        let from = [self.bed[1], self.bed[0]].map(|side| side - margin + gap);
        for axis in [0, 1] {
            let bed = [self.bed[1], self.bed[0]][axis];
            if bed < size[axis] && from[axis] < size[axis] {
                let mut low = [0.0, 0.0];
                low[axis] = from[axis];
                taken.push(bounds(low, size));
            }
        }
        let density = self.material.map_or(0.0, |material| material.density);
        let mass = size[0] * size[1] * self.thickness * density * CUBIC_METRES;
        let price = price_per_kg.or(self.material.and_then(|m| m.price_per_kg));
        Board {
            name,
            size,
            remnant: false,
            blocked: taken,
            price: price.map(|price| price * mass),
            mass,
        }
    }
}

fn bounds(low: [f64; 2], high: [f64; 2]) -> Bounds<BedFrame> {
    Bounds { low: Point::new(low[0], low[1]), high: Point::new(high[0], high[1]) }
}

/// A side as lists write it.
fn short(mm: f64) -> String {
    crate::units::number(mm, 1)
}
