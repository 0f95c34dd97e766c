//! Sheets, remnants and cutting speeds of the shop's file.

use super::read_shop::layer;
use super::row::Row;
use super::{Blocked, CuttingSpeeds, Extra, Remnant, SheetWork, SpeedRow, StockSheet};
use crate::spec::{Raw, Said};
use crate::units;

/// Largest side of anything in stock, mm.
const LARGEST: f64 = 30_000.0;

pub(super) fn sheet(row: &mut Row<'_, '_>) -> StockSheet {
    let mut size = size(row, "a stock sheet");
    size.sort_by(f64::total_cmp);
    StockSheet {
        materials: row.texts("materials"),
        thicknesses: row.mm_list("thicknesses"),
        width: size[0],
        length: size[1],
        price_per_kg: row.maybe_number("price_per_kg"),
        count: row.table.has("count").then(|| row.count("count") as u32),
        blocked: blocked(row, [size[1], size[0]]),
    }
}

pub(super) fn remnant(row: &mut Row<'_, '_>) -> Remnant {
    let name = row.text("name");
    let size = size(row, &format!("the remnant {}", units::quoted(&name)));
    Remnant {
        name,
        material: row.text("material"),
        thickness: row.mm("thickness"),
        size,
        blocked: blocked(row, size),
    }
}

/// Two sides above 0; a fault names what it is about.
fn size(row: &mut Row<'_, '_>, what: &str) -> [f64; 2] {
    let Some(said) = row.table.lengths("size", row.notes) else {
        if !row.table.has("size") {
            row.table.missing("size", "[1000, 2000]", row.notes);
        }
        return [1000.0, 2000.0];
    };
    let wrong: Vec<&Said<f64>> =
        said.iter().filter(|s| s.value <= 0.0 || LARGEST < s.value).collect();
    for side in &wrong {
        let why = format!("of {what} is {}; it must be above 0, up to {LARGEST}", side.value);
        row.tell("size", &side.span, &why);
    }
    match said.iter().map(|s| s.value).collect::<Vec<_>>()[..] {
        [x, y] if wrong.is_empty() => [x, y],
        [_, _] => [1000.0, 2000.0],
        _ => {
            let span = said.first().map_or(row.table.span.clone(), |s| s.span.clone());
            row.tell("size", &span, &format!("of {what} has {} sides, not two", said.len()));
            [1000.0, 2000.0]
        }
    }
}

/// Rectangles [x0, y0, x1, y1] on a sheet of the size.
fn blocked(row: &mut Row<'_, '_>, size: [f64; 2]) -> Vec<Blocked> {
    let Some(said) = row.table.raw("blocked", row.notes) else { return Vec::new() };
    let number = |item: &Said<Raw>| match item.value {
        Raw::Number(number) => Some(number),
        _ => None,
    };
    let rectangle = |item: &Said<Raw>| {
        let Raw::List(corners) = &item.value else { return None };
        let numbers: Vec<f64> = corners.iter().map(number).collect::<Option<_>>()?;
        let [x0, y0, x1, y1] = numbers[..] else { return None };
        let within = |low: f64, high: f64, most: f64| 0.0 <= low && low < high && high <= most;
        (within(x0, x1, size[0]) && within(y0, y1, size[1])).then_some([x0, y0, x1, y1])
    };
    let all = match &said.value {
        Raw::List(items) => items.iter().map(rectangle).collect::<Option<Vec<_>>>(),
        _ => None,
    };
    all.unwrap_or_else(|| {
        let why = format!(
            "is not a list of rectangles [x0, y0, x1, y1] on {} × {} mm",
            units::number(size[0], 1),
            units::number(size[1], 1)
        );
        row.tell("blocked", &said.span, &why);
        Vec::new()
    })
}

pub(super) fn speeds(row: &mut Row<'_, '_>) -> CuttingSpeeds {
    let mut rows = row.each("row", |row| SpeedRow {
        thickness: row.mm("thickness"),
        speed: row.mm("speed"),
        pierce: row.number("pierce"),
    });
    rows.sort_by(|a, b| a.thickness.total_cmp(&b.thickness));
    let span = row.table.span.clone();
    if rows.is_empty() {
        row.tell("row", &span, "is missing: name the speed of at least one thickness");
    }
    if rows.windows(2).any(|two| two[0].thickness == two[1].thickness) {
        row.tell("row", &span, "names a thickness twice");
    }
    CuttingSpeeds { materials: row.texts("materials"), rows, source: row.text("source") }
}

pub(super) fn work(row: &mut Row<'_, '_>) -> SheetWork {
    SheetWork {
        rapid: row.mm("rapid"),
        etch: row.mm("etch"),
        handling: row.number("handling"),
        heat_distance: row.mm_or_zero("heat_distance"),
        heat_pause: row.number_in("heat_pause", 0.0, 600.0),
        lift: row.number("lift"),
        keep: row.mm("keep"),
        source: row.text("source"),
        lead_in: extra(row, "lead_in", ["length", ""]),
        tab: extra(row, "tab", ["width", "every"]),
        skeleton: extra(row, "skeleton", ["clear", "every"]),
    }
}

/// A layer with its sizes, where the shop wants it.
fn extra(row: &mut Row<'_, '_>, key: &'static str, sizes: [&'static str; 2]) -> Option<Extra> {
    if !row.table.has(key) {
        return None;
    }
    let mut below = row.below(key);
    let extra = Extra {
        layer: layer(&mut below),
        size: below.mm(sizes[0]),
        every: if sizes[1].is_empty() { 0.0 } else { below.mm(sizes[1]) },
    };
    below.end();
    Some(extra)
}
