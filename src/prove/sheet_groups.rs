//! How few sheets there could be, as it is told of each material and thickness: counts as they are,
//! bounds in agreement with each other, and the bound by area between two that are worked out here
//! from the blanks' own areas.

use super::codes::FIGURE;
use super::desk::Desk;
use super::sheets::{Floor, SLACK};
use crate::geom::{BlankFrame, Path};
use crate::note::Notes;
use crate::reading::{GroupRow, SheetRow, path};
use crate::shelf::{Material, same_thickness};

/// Rounding of shares of a sheet.
const SHARE: f64 = 1e-6;

/// Compares the groups with the sheets.
pub(super) fn compare(floor: &Floor, notes: &mut Notes) {
    let mut desk = Desk::new(notes, floor.list);
    let of = |group: &GroupRow, sheet: &SheetRow| {
        group.material == sheet.material && (group.thickness - sheet.thickness).abs() < SLACK
    };
    for sheet in floor.sheets {
        if !floor.groups.iter().any(|group| of(group, sheet)) {
            desk.tell(&FIGURE, format!("tells nothing of all sheets like {}", sheet.file));
        }
    }
    for group in floor.groups {
        let own: Vec<&SheetRow> = floor.sheets.iter().filter(|sheet| of(group, sheet)).collect();
        let used: usize = own.iter().map(|sheet| sheet.copies).sum();
        let called = format!("{}, {} mm", group.material, super::desk::mm(group.thickness));
        let mut hold = |what: &str, found: usize, meant: usize| {
            let what = format!("{called}: `{what}`");
            desk.hold(&FIGURE, &what, (found as f64, meant as f64), 0.0);
        };
        hold("sheets", group.sheets, used);
        hold("layouts", group.layouts, own.len());
        let most = group.bound_area.max(group.bound_strips);
        hold("fewest", group.fewest, (most - 1e-9).ceil().max(0.0) as usize);
        if used < group.fewest {
            let words = format!("{called}: fewer sheets are used than its bound allows");
            desk.off(&FIGURE, words, (used as f64, group.fewest as f64), "");
        }
        let [low, high] = by_area(floor, group, &own);
        let meant = low - SHARE <= group.bound_area && group.bound_area <= high + SHARE;
        if !meant {
            let words = format!("{called}: `bound_area` is not that of the parts' areas");
            desk.off(&FIGURE, words, (group.bound_area, low), "");
        }
    }
}

/// Between what the bound by area lies: parts by their bare area over whole sheets, and parts grown
/// by half the gap as if they were convex over sheets less all that is blocked.
fn by_area(floor: &Floor, group: &GroupRow, own: &[&SheetRow]) -> [f64; 2] {
    let gap = floor.shelf.shop.gaps.part.max(group.thickness);
    let mut areas = [0.0, 0.0];
    for sheet in own {
        for row in &sheet.parts {
            let Some(part) = floor.parts.iter().find(|part| part.number == row.number) else {
                continue;
            };
            let outer: Path<BlankFrame> = path(&part.blank.outer);
            let half = gap / 2.0;
            // A corner of the grid lies at most 0.05 mm outside.
            let grown =
                outer.area() + (half + 0.05) * outer.length() + std::f64::consts::PI * half * half;
            areas[0] += part.blank.area_mm2 * sheet.copies as f64;
            areas[1] += grown * sheet.copies as f64;
        }
    }
    let Some(material) = floor.material(&group.material) else { return [0.0, f64::INFINITY] };
    [
        covered(areas[0], rooms(floor, group, (material, false))),
        covered(areas[1], rooms(floor, group, (material, true))),
    ]
}

/// Area of every kind of sheet in stock for parts grown by half the gap, and how many there are;
/// `least`: less what is blocked, corners rounded.
fn rooms(
    floor: &Floor,
    group: &GroupRow,
    (material, least): (&Material, bool),
) -> Vec<(f64, Option<u32>)> {
    let shop = &floor.shelf.shop;
    let gap = shop.gaps.part.max(group.thickness);
    let bed = [shop.laser.bed[1], shop.laser.bed[0]];
    let room = |size: [f64; 2], blocked: &[[f64; 4]]| {
        let side = |axis: usize| size[axis].min(bed[axis]) - 2.0 * shop.gaps.edge + gap;
        let whole = side(0).max(0.0) * side(1).max(0.0);
        let taken: f64 = blocked.iter().map(|[x0, y0, x1, y1]| (x1 - x0) * (y1 - y0)).sum();
        if least { (whole - taken - gap * gap).max(1.0) } else { whole }
    };
    let remnants = shop.remnants.iter().filter(|remnant| {
        remnant.material == material.id && same_thickness(remnant.thickness, group.thickness)
    });
    let remnants = remnants.map(|remnant| {
        let [x, y] = remnant.size;
        let turned = x < y && !material.grain;
        (room(if turned { [y, x] } else { [x, y] }, &remnant.blocked), Some(1))
    });
    let sheets = shop.sheets.iter().filter(|sheet| sheet.serves(&material.id, group.thickness));
    let sheets =
        sheets.map(|sheet| (room([sheet.length, sheet.width], &sheet.blocked), sheet.count));
    remnants.chain(sheets).collect()
}

/// The least number of sheets, in fractions, whose room covers an area: the largest first.
fn covered(area: f64, mut rooms: Vec<(f64, Option<u32>)>) -> f64 {
    rooms.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut rest, mut sum) = (area, 0.0);
    for (room, count) in rooms {
        let sheets = (rest / room).min(count.map_or(f64::INFINITY, f64::from));
        sum += sheets;
        rest -= sheets * room;
    }
    sum
}
