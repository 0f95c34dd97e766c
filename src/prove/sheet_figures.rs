//! What is told of a sheet in numbers, worked out again from its laser file and the shop's data.

use super::codes::{FIGURE, SHEET};
use super::desk::{Desk, beyond, mm};
use super::dxf::{Dxf, Shape};
use super::sheets::{Floor, Lying, SLACK, boxed};
use crate::geom::{BlankFrame, Bounds, Path, Point, Vertex};
use crate::reading::SheetRow;
use crate::shelf::{Material, Shop, same_thickness};

type P = Point<BlankFrame>;

/// How far a length may be off for each cut, mm: the file's last decimal at a contour's corners.
const LENGTH: f64 = 1e-3;

/// Contours longer than this have cooled where they were begun before they are closed, mm.
const SMALL: f64 = 250.0;

/// A cut of the file.
struct Cut {
    start: P,
    bounds: Bounds<BlankFrame>,
    length: f64,
}

/// Compares length, pierces, way, time, mass, price, gap and margin.
pub(super) fn compare(floor: &Floor, sheet: &SheetRow, dxf: &Dxf, desk: &mut Desk) {
    let shop = &floor.shelf.shop;
    let cuts = cuts(dxf, shop);
    let length: f64 = cuts.iter().map(|cut| cut.length).sum();
    let (travel, pauses) = between(&cuts, shop);
    let slack = LENGTH * (1.0 + cuts.len() as f64);
    let mut hold = |what: &str, found: f64, meant: f64, tolerance: f64| {
        desk.hold(&FIGURE, what, (found, meant), tolerance);
    };
    hold("`pierces`", sheet.pierces as f64, cuts.len() as f64, 0.0);
    hold("`cut_length_mm`", sheet.cut_length_mm, length, slack);
    hold("`travel_mm`", sheet.travel_mm, travel, slack);
    let gap = shop.gaps.part.max(sheet.thickness);
    hold("`gap`", sheet.gap, (gap * 100.0 - 1e-6).ceil() / 100.0, 1e-6);
    hold("`margin`", sheet.margin, (shop.gaps.edge * 100.0 - 1e-6).ceil() / 100.0, 1e-6);
    let Some(material) = floor.material(&sheet.material) else { return };
    let (row, _) = shop.laser.cutting(&material.id, sheet.thickness);
    let work = &shop.sheet_work;
    let seconds = length / row.speed
        + cuts.len() as f64 * row.pierce
        + travel / work.rapid
        + pauses
        + etched(dxf, shop) / work.etch
        + work.handling;
    hold("`time_s`", sheet.time_s, seconds, 0.01 + 1e-5 * seconds);
    // A cubic millimetre of density 1 kg/m3 weighs 1e-9 kg.
    let mass = sheet.width * sheet.height * sheet.thickness * material.density * 1e-9;
    hold("`mass_kg`", sheet.mass_kg, mass, 1e-6 * mass);
    price(sheet, (shop, material), mass, desk);
}

/// The price is that of a sheet of this size in stock; a remnant counts by the material's.
fn price(sheet: &SheetRow, (shop, material): (&Shop, &Material), mass: f64, desk: &mut Desk) {
    let (long, short) = (sheet.width.max(sheet.height), sheet.width.min(sheet.height));
    let same = |a: f64, b: f64| (a - b).abs() < SLACK;
    let stock = shop.sheets.iter().filter(|stock| {
        !sheet.stock_remnant
            && stock.serves(&material.id, sheet.thickness)
            && same(stock.width, short)
            && same(stock.length, long)
    });
    let rates = stock.map(|stock| stock.price_per_kg.or(material.price_per_kg));
    let rates: Vec<Option<f64>> = rates.chain([material.price_per_kg]).collect();
    let right = rates.iter().any(|rate| match (rate, sheet.price) {
        (None, None) => true,
        (Some(rate), Some(price)) => (rate * mass - price).abs() <= 1e-6 * price.abs() + 1e-9,
        _ => false,
    });
    if !right {
        desk.tell(&FIGURE, "`price` is not that of such a sheet in the shop's data");
    }
}

/// The cuts in the order of the file.
fn cuts(dxf: &Dxf, shop: &Shop) -> Vec<Cut> {
    let layers = [&shop.layers.cut_outside.name, &shop.layers.cut_inside.name];
    let own = dxf.entities.iter().filter(|entity| layers.iter().any(|name| *name == entity.layer));
    let cut = |shape: &Shape| {
        let path = match shape {
            Shape::Polyline(path, true) => path.clone(),
            Shape::Circle(centre, diameter) => {
                let arm = Point::new(diameter / 2.0, 0.0);
                let vertices = [*centre + arm, *centre - arm].map(|at| Vertex { at, bulge: 1.0 });
                Path { vertices: vertices.to_vec() }
            }
            _ => return None,
        };
        let start = path.vertices.first()?.at;
        Some(Cut { start, bounds: path.bounds(), length: path.length() })
    };
    own.filter_map(|entity| cut(entity.shape.as_ref().ok()?)).collect()
}

/// Way between the cuts from the sheet's corner on, and rests between small neighbours.
fn between(cuts: &[Cut], shop: &Shop) -> (f64, f64) {
    let work = &shop.sheet_work;
    let (mut travel, mut pauses) = (0.0, 0.0);
    let mut at = Point::new(0.0, 0.0);
    for (index, cut) in cuts.iter().enumerate() {
        let way = at.distance(cut.start);
        travel += way;
        let hot = index.checked_sub(1).is_some_and(|before| near(&cuts[before], cut, shop));
        if hot {
            pauses += (work.heat_pause - way / work.rapid).max(0.0);
        }
        at = cut.start;
    }
    (travel, pauses)
}

/// Whether two cuts are small, and their boxes nearer than the shop lets neighbours be.
fn near(a: &Cut, b: &Cut, shop: &Shop) -> bool {
    let x = (b.bounds.low.x - a.bounds.high.x).max(a.bounds.low.x - b.bounds.high.x).max(0.0);
    let y = (b.bounds.low.y - a.bounds.high.y).max(a.bounds.low.y - b.bounds.high.y).max(0.0);
    let small = a.length <= SMALL && b.length <= SMALL;
    small && Point::<BlankFrame>::new(x, y).length() < shop.sheet_work.heat_distance
}

/// Length of all etched strokes.
fn etched(dxf: &Dxf, shop: &Shop) -> f64 {
    let own = dxf.entities.iter().filter(|entity| entity.layer == shop.layers.etch.name);
    let length = |shape: &Shape| match shape {
        Shape::Polyline(path, closed) => {
            let sides = path.sides().map(|(a, b, _)| a.distance(b));
            let count = path.vertices.len().saturating_sub(usize::from(!closed));
            sides.take(count).sum()
        }
        Shape::Line([a, b]) => a.distance(*b),
        Shape::Circle(..) => 0.0,
    };
    own.filter_map(|entity| entity.shape.as_ref().ok()).map(length).sum()
}

/// The remnant is a rectangle of the sheet worth keeping, a gap away from every blank, with no
/// blocked place in it.
pub(super) fn remnant(floor: &Floor, sheet: &SheetRow, lying: &[Lying], desk: &mut Desk) {
    let Some(rest) = &sheet.remnant else { return };
    let (shop, rest) = (&floor.shelf.shop, boxed(rest));
    let gap = shop.gaps.part.max(sheet.thickness);
    let inside = -SLACK <= rest.low.x.min(rest.low.y)
        && rest.high.x <= sheet.width + SLACK
        && rest.high.y <= sheet.height + SLACK;
    if !inside {
        desk.tell(&SHEET, "the remnant does not lie in the sheet");
    }
    let least = rest.width().min(rest.height());
    if beyond(shop.sheet_work.keep - least, SLACK) {
        let words = format!("the remnant is {} mm wide, too little to keep", mm(least));
        desk.off(&SHEET, words, (least, shop.sheet_work.keep), "mm");
    }
    for own in lying {
        let off = own.outline.off_box(&rest);
        if beyond(gap - off, SLACK) {
            let words = format!("{} lies {} mm from the remnant", own.part.number, mm(off));
            desk.off(&SHEET, words, (off, gap), "mm");
        }
    }
    let meets = |place: &[f64; 4]| {
        let place = boxed(place);
        place.low.x + SLACK < rest.high.x
            && rest.low.x + SLACK < place.high.x
            && place.low.y + SLACK < rest.high.y
            && rest.low.y + SLACK < place.high.y
    };
    if sheet.blocked.iter().any(meets) {
        desk.tell(&SHEET, "a blocked place lies in the remnant");
    }
    let board =
        shop.remnants.iter().any(|remnant| same_thickness(remnant.thickness, sheet.thickness));
    if sheet.stock_remnant && !board {
        desk.tell(&SHEET, "is cut from a remnant that is not in stock");
    }
}
