//! The sheets: every part as often as it is needed, each blank within its sheet, clear of the
//! others and of blocked places, and each laser file with the blanks where `kit.json` says, inside
//! contours before outlines.

use std::collections::BTreeMap;

use super::agree::Bench;
use super::apart::{Outline, apart};
use super::codes::{READ, SHEET};
use super::desk::{Desk, beyond, mm};
use super::{dxf, sheet_dxf, sheet_marks};
use crate::geom::{BlankFrame, Bounds, Point};
use crate::note::Notes;
use crate::reading::{LyingRow, NAME, PartRow, SheetRow};
use crate::shelf::{Material, same_thickness};

/// What rounding may take from a distance, mm: half a step of the chords that stand for arcs.
pub(super) const SLACK: f64 = 0.006;

/// A blank where it lies.
pub(super) struct Lying<'a> {
    pub(super) part: &'a PartRow,
    pub(super) row: &'a LyingRow,
    pub(super) outline: Outline,
}

/// Looks over all sheets.
pub(super) fn look_over(bench: &Bench, notes: &mut Notes) {
    if bench.kit.sheets.is_empty() {
        return;
    }
    quantities(bench, notes);
    for sheet in &bench.kit.sheets {
        let mut desk = Desk::new(notes, sheet.file.clone());
        let lying = lying(bench, sheet, &mut desk);
        stock(bench, sheet, &mut desk);
        room(bench, sheet, &lying, &mut desk);
        let Some(found) = bench.file(&sheet.file) else { continue };
        match dxf::read(found.bytes) {
            Ok(dxf) => {
                sheet_dxf::compare((sheet, &lying), &dxf, &bench.shelf.shop, &mut desk);
                sheet_marks::compare(&lying, &dxf, &bench.shelf.shop, &mut desk);
            }
            Err(why) => desk.tell(&READ, why),
        }
    }
}

/// Every part lies on the sheets as often as the kit needs it.
fn quantities(bench: &Bench, notes: &mut Notes) {
    let mut laid: BTreeMap<&str, usize> = BTreeMap::new();
    for sheet in &bench.kit.sheets {
        for row in &sheet.parts {
            *laid.entry(&row.number).or_default() += sheet.copies;
        }
    }
    let mut desk = Desk::new(notes, NAME);
    for part in &bench.kit.parts {
        let found = laid.remove(part.number.as_str()).unwrap_or(0);
        if found != part.quantity {
            let words =
                format!("{} lies on the sheets {found} times, not {}", part.number, part.quantity);
            desk.off(&SHEET, words, (found as f64, part.quantity as f64), "");
        }
    }
    for number in laid.keys() {
        desk.tell(&SHEET, format!("{number} lies on a sheet and is no part of the kit"));
    }
}

/// The blanks of a sheet; what may not lie there is told.
fn lying<'a>(bench: &Bench<'a>, sheet: &'a SheetRow, desk: &mut Desk) -> Vec<Lying<'a>> {
    let mut all = Vec::new();
    for row in &sheet.parts {
        let part = bench.kit.parts.iter().find(|part| part.number == row.number);
        let Some(part) = part else { continue };
        let same =
            part.material == sheet.material && (part.thickness - sheet.thickness).abs() < SLACK;
        if !same {
            desk.tell(&SHEET, format!("{} is of another material or thickness", part.number));
        }
        let turns: &[f64] = if part.grain { &[0.0, 180.0] } else { &[0.0, 90.0, 180.0, 270.0] };
        if !turns.contains(&row.turn) {
            desk.tell(&SHEET, format!("{} may not be turned by {}", part.number, row.turn));
        }
        if row.mirrored && !part.mirror {
            desk.tell(&SHEET, format!("{} may not lie face down", part.number));
        }
        all.push(Lying { part, row, outline: Outline::of(part, row) });
    }
    all
}

/// The sheet is one that the shop has.
fn stock(bench: &Bench, sheet: &SheetRow, desk: &mut Desk) {
    let shop = &bench.shelf.shop;
    let material = |m: &&Material| m.title == sheet.material;
    let Some(material) = bench.shelf.materials.iter().find(material) else {
        return desk.tell(&SHEET, format!("{} is no material of the shop", sheet.material));
    };
    let (long, short) = (sheet.width.max(sheet.height), sheet.width.min(sheet.height));
    let same = |a: f64, b: f64| (a - b).abs() < SLACK;
    let whole = shop.sheets.iter().any(|stock| {
        stock.serves(&material.id, sheet.thickness)
            && same(stock.width, short)
            && same(stock.length, long)
    });
    let remnant = shop.remnants.iter().any(|remnant| {
        remnant.material == material.id
            && same_thickness(remnant.thickness, sheet.thickness)
            && same(remnant.size[0].min(remnant.size[1]), short)
            && same(remnant.size[0].max(remnant.size[1]), long)
    });
    if !whole && !remnant {
        let size = format!("{} × {}", mm(sheet.width), mm(sheet.height));
        desk.tell(&SHEET, format!("no sheet of {size} mm in this material is in stock"));
    }
}

/// Margin, bed, blocked places, and the gap between blanks.
fn room(bench: &Bench, sheet: &SheetRow, lying: &[Lying], desk: &mut Desk) {
    let shop = &bench.shelf.shop;
    let gap = shop.gaps.part.max(sheet.thickness);
    let [bed_y, bed_x] = shop.laser.bed;
    let most = [sheet.width.min(bed_x), sheet.height.min(bed_y)];
    for own in lying {
        let bounds = own.outline.bounds();
        let sides = [bounds.low.x, bounds.low.y, most[0] - bounds.high.x, most[1] - bounds.high.y];
        let least = sides.into_iter().fold(f64::INFINITY, f64::min);
        if beyond(shop.gaps.edge - least, SLACK) {
            let words = format!("{} keeps {} mm from the edge", own.part.number, mm(least));
            desk.off(&SHEET, words, (least, shop.gaps.edge), "mm");
        }
        for place in &sheet.blocked {
            let place = boxed(place);
            let past_bed = most[0] <= place.low.x + gap || most[1] <= place.low.y + gap;
            if !past_bed && beyond(gap - own.outline.off_box(&place), SLACK) {
                desk.tell(&SHEET, format!("{} lies on a blocked place", own.part.number));
            }
        }
    }
    for (i, one) in lying.iter().enumerate() {
        for other in &lying[i + 1..] {
            let found = apart(&one.outline, &other.outline, gap);
            if beyond(gap - found, SLACK) {
                let words = between([&one.part.number, &other.part.number], found);
                desk.off(&SHEET, words, (found, gap), "mm");
            }
        }
    }
}

fn between([one, other]: [&str; 2], found: f64) -> String {
    if found < 0.0 {
        format!("{one} and {other} overlap")
    } else {
        format!("{one} and {other} lie {} mm apart", mm(found))
    }
}

fn boxed([x0, y0, x1, y1]: &[f64; 4]) -> Bounds<BlankFrame> {
    Bounds { low: Point::new(*x0, *y0), high: Point::new(*x1, *y1) }
}
