//! Sheets in `kit.json` and in `sheets.json`.

use serde::Serialize;

use super::json::{self, Number, numbers};
use crate::geom::{BedFrame, Bounds};
use crate::sheets::{CutSheet, Group, KitRow, Laid, Wanted};

/// A kit of common sheets.
#[derive(Serialize)]
struct KitRowJson<'a> {
    kit: &'a str,
    title: &'a str,
    revision: &'a str,
    times: u32,
    spec_sha256: &'a str,
}

fn kit_json(row: &KitRow) -> KitRowJson<'_> {
    KitRowJson {
        kit: &row.kit,
        title: &row.title,
        revision: &row.revision,
        times: row.times,
        spec_sha256: &row.spec_sha256,
    }
}

/// The bytes of `sheets.json`: common sheets of several kits.
pub fn sheets_json(wanted: &[Wanted], laid: &Laid) -> Vec<u8> {
    json::to_bytes(&SheetsJson {
        format: "blankwright-sheets/1",
        kits: laid.kits.iter().map(kit_json).collect(),
        sheets: laid.sheets.iter().map(|s| sheet_json(wanted, laid, (s, s.name()))).collect(),
        groups: groups_json(laid),
        parts: (0..wanted.len()).map(|index| part_json(wanted, laid, index)).collect(),
    })
}

#[derive(Serialize)]
struct SheetsJson<'a> {
    format: &'static str,
    kits: Vec<KitRowJson<'a>>,
    sheets: Vec<SheetJson<'a>>,
    groups: Vec<GroupJson<'a>>,
    parts: Vec<NeedJson<'a>>,
}

/// A part with how often it is needed and laid out.
#[derive(Serialize)]
struct NeedJson<'a> {
    kit: &'a str,
    number: &'a str,
    quantity: u32,
    laid: u32,
    grain: bool,
    mirror: bool,
}

fn part_json<'a>(wanted: &[Wanted<'a>], laid: &Laid, index: usize) -> NeedJson<'a> {
    let own = &wanted[index];
    let on = |sheet: &CutSheet| {
        sheet.lying.iter().filter(|lying| lying.wanted == index).count() as u32 * sheet.copies
    };
    NeedJson {
        kit: own.kit,
        number: &own.part.number,
        quantity: own.quantity,
        laid: laid.sheets.iter().map(on).sum(),
        grain: own.part.lie.grain,
        mirror: own.part.lie.mirror,
    }
}

/// One sheet; the keys after `parts` are additions to the format's list.
#[derive(Serialize)]
pub(super) struct SheetJson<'a> {
    file: String,
    material: &'a str,
    thickness: Number,
    width: Number,
    height: Number,
    copies: u32,
    parts: Vec<LyingJson<'a>>,
    stock: &'a str,
    stock_remnant: bool,
    gap: Number,
    margin: Number,
    blocked: Vec<[Number; 4]>,
    remnant: Option<[Number; 4]>,
    cut_length_mm: Number,
    pierces: usize,
    travel_mm: Number,
    time_s: Number,
    mass_kg: Number,
    price: Option<Number>,
}

#[derive(Serialize)]
struct LyingJson<'a> {
    number: &'a str,
    x: Number,
    y: Number,
    turn: u16,
    mirrored: bool,
}

/// The sheets of one kit.
pub(super) fn kit_sheets<'a>(wanted: &[Wanted<'a>], laid: &'a Laid) -> Vec<SheetJson<'a>> {
    laid.sheets.iter().map(|sheet| sheet_json(wanted, laid, (sheet, sheet.file()))).collect()
}

fn sheet_json<'a>(
    wanted: &[Wanted<'a>],
    laid: &'a Laid,
    (sheet, file): (&'a CutSheet, String),
) -> SheetJson<'a> {
    let (group, _) = &laid.groups[sheet.group];
    let hundredths = |value: i64| Number(value as f64 / 100.0);
    SheetJson {
        file,
        material: &group.material.title,
        thickness: Number(group.thickness),
        width: Number(sheet.board.size[0]),
        height: Number(sheet.board.size[1]),
        copies: sheet.copies,
        parts: sheet
            .lying
            .iter()
            .map(|own| LyingJson {
                number: &wanted[own.wanted].part.number,
                x: Number(own.at.x),
                y: Number(own.at.y),
                turn: own.turn,
                mirrored: own.mirrored,
            })
            .collect(),
        stock: &sheet.board.name,
        stock_remnant: sheet.board.remnant,
        gap: hundredths(group.job.gap),
        margin: hundredths(group.job.margin),
        blocked: sheet.board.blocked.iter().map(corners).collect(),
        remnant: sheet.remnant.as_ref().map(corners),
        cut_length_mm: Number(sheet.figures.cut_length),
        pierces: sheet.figures.pierces,
        travel_mm: Number(sheet.figures.travel),
        time_s: Number(sheet.figures.seconds),
        mass_kg: Number(sheet.board.mass),
        price: sheet.board.price.map(Number),
    }
}

fn corners(place: &Bounds<BedFrame>) -> [Number; 4] {
    numbers([place.low.x, place.low.y, place.high.x, place.high.y])
}

/// All sheets of one material and thickness, with how few there could be.
#[derive(Serialize)]
pub(super) struct GroupJson<'a> {
    material: &'a str,
    thickness: Number,
    sheets: u32,
    layouts: usize,
    bound_area: Number,
    bound_strips: Number,
    bound_program: Number,
    fewest: u32,
}

pub(super) fn groups_json(laid: &Laid) -> Vec<GroupJson<'_>> {
    let group = |(index, (group, bounds)): (usize, &'_ (Group, crate::nest::Bounds))| {
        let own = || laid.sheets.iter().filter(move |sheet| sheet.group == index);
        GroupJson {
            material: "",
            thickness: Number(group.thickness),
            sheets: own().map(|sheet| sheet.copies).sum(),
            layouts: own().count(),
            bound_area: Number(bounds.area),
            bound_strips: Number(bounds.strips),
            bound_program: Number(bounds.program),
            fewest: bounds.sheets(),
        }
    };
    let groups = laid.groups.iter().enumerate();
    groups.map(|it| GroupJson { material: &it.1.0.material.title, ..group(it) }).collect()
}
