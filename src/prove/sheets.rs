//! The sheets: every part as often as it is needed, each blank within its sheet, clear of the
//! others and of blocked places, each laser file with the blanks where the list says, inside
//! contours before outlines, and every figure that is told of a sheet worked out again.

use std::collections::BTreeMap;

use super::apart::{Outline, apart};
use super::codes::{READ, SHEET};
use super::desk::{Desk, beyond, mm};
use super::{
    Found, dxf, sheet_dxf, sheet_extras, sheet_figures, sheet_groups, sheet_list, sheet_marks,
};
use crate::geom::{BlankFrame, Bounds, Point};
use crate::note::Notes;
use crate::reading::{CutPart, GroupRow, LyingRow, SheetRow};
use crate::shelf::{Material, Shelf, same_thickness};

/// What rounding may take from a distance, mm: half a step of the chords that stand for arcs.
pub(super) const SLACK: f64 = 0.006;

/// Everything about sheets: those of one kit, or common ones.
pub(super) struct Floor<'a> {
    /// The folder's files.
    pub(super) files: &'a [Found<'a>],
    /// The shop's data.
    pub(super) shelf: &'a Shelf,
    /// The file that lists the sheets.
    pub(super) list: &'a str,
    /// The parts.
    pub(super) parts: &'a [CutPart<'a>],
    /// The sheets.
    pub(super) sheets: &'a [SheetRow],
    /// The sheets by material and thickness.
    pub(super) groups: &'a [GroupRow],
    /// How many of a part are told to be left out.
    pub(super) missing: BTreeMap<&'a str, usize>,
}

impl Floor<'_> {
    /// The file at this path.
    pub(super) fn file(&self, path: &str) -> Option<&Found<'_>> {
        self.files.iter().find(|file| file.path == path)
    }

    /// The material of this title.
    pub(super) fn material(&self, title: &str) -> Option<&Material> {
        self.shelf.materials.iter().find(|material| material.title == title)
    }
}

/// A blank where it lies.
pub(super) struct Lying<'a> {
    pub(super) part: &'a CutPart<'a>,
    pub(super) row: &'a LyingRow,
    pub(super) outline: Outline,
}

/// Looks over all sheets.
pub(super) fn look_over(floor: &Floor, notes: &mut Notes) {
    if floor.sheets.is_empty() {
        return;
    }
    quantities(floor, notes);
    sheet_groups::compare(floor, notes);
    sheet_list::compare(floor, notes);
    for sheet in floor.sheets {
        let mut desk = Desk::new(notes, sheet.file.clone());
        let lying = lying(floor, sheet, &mut desk);
        stock(floor, sheet, &mut desk);
        room(floor, sheet, &lying, &mut desk);
        sheet_figures::remnant(floor, sheet, &lying, &mut desk);
        let Some(found) = floor.file(&sheet.file) else { continue };
        match dxf::read(found.bytes) {
            Ok(dxf) => {
                let shop = &floor.shelf.shop;
                sheet_dxf::compare((sheet, &lying), &dxf, shop, &mut desk);
                sheet_marks::compare((sheet, &lying), &dxf, shop, &mut desk);
                sheet_extras::compare((sheet, &lying), &dxf, shop, &mut desk);
                sheet_figures::compare(floor, sheet, &dxf, &mut desk);
            }
            Err(why) => desk.tell(&READ, why),
        }
    }
}

/// Every part lies on the sheets as often as it is needed, less what is told to be missing.
fn quantities(floor: &Floor, notes: &mut Notes) {
    let mut laid: BTreeMap<&str, usize> = BTreeMap::new();
    for sheet in floor.sheets {
        for row in &sheet.parts {
            *laid.entry(&row.number).or_default() += sheet.copies;
        }
    }
    let mut desk = Desk::new(notes, floor.list);
    for part in floor.parts {
        let found = laid.remove(part.number).unwrap_or(0);
        let missing = floor.missing.get(part.number).copied().unwrap_or(0);
        if found + missing != part.quantity {
            let meant = part.quantity.saturating_sub(missing);
            let words = format!("{} lies on the sheets {found} times, not {meant}", part.number);
            desk.off(&SHEET, words, (found as f64, meant as f64), "");
        }
    }
    for number in laid.keys() {
        desk.tell(&SHEET, format!("{number} lies on a sheet and is no part that is asked for"));
    }
}

/// The blanks of a sheet; what may not lie there is told.
fn lying<'a>(floor: &'a Floor<'a>, sheet: &'a SheetRow, desk: &mut Desk) -> Vec<Lying<'a>> {
    let mut all = Vec::new();
    for row in &sheet.parts {
        let part = floor.parts.iter().find(|part| part.number == row.number);
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
fn stock(floor: &Floor, sheet: &SheetRow, desk: &mut Desk) {
    let shop = &floor.shelf.shop;
    let Some(material) = floor.material(&sheet.material) else {
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
fn room(floor: &Floor, sheet: &SheetRow, lying: &[Lying], desk: &mut Desk) {
    let shop = &floor.shelf.shop;
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
                let words = between([one.part.number, other.part.number], found);
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

pub(super) fn boxed([x0, y0, x1, y1]: &[f64; 4]) -> Bounds<BlankFrame> {
    Bounds { low: Point::new(*x0, *y0), high: Point::new(*x1, *y1) }
}
