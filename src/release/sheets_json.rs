//! Sheets in `kit.json` and in `sheets.json`.

use serde::Serialize;

use super::json::{self, Number, numbers};
use super::part_json::{BlankJson, EtchJson, blank_json, etch_json, pair};
use crate::geom::{BedFrame, Bounds};
use crate::sheets::{CutSheet, Group, KitRow, Laid, LeftOut, Missing, Wanted};

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

/// The bytes of `sheets.json`: common sheets of several kits, with the blank of every part, so that
/// the folder can be proved by itself. `files` names what is written with it.
pub fn sheets_json(wanted: &[Wanted], laid: &Laid, files: &[&str]) -> Vec<u8> {
    json::to_bytes(&SheetsJson {
        format: "blankwright-sheets/1",
        kits: laid.kits.iter().map(kit_json).collect(),
        sheets: laid.sheets.iter().map(|s| sheet_json(wanted, laid, (s, s.name()))).collect(),
        groups: groups_json(laid),
        parts: (0..wanted.len()).map(|index| part_json(wanted, laid, index)).collect(),
        missing: laid.missing.iter().map(|missing| missing_json(wanted, missing)).collect(),
        left_out: laid.left_out.iter().map(left_out_json).collect(),
        files,
    })
}

#[derive(Serialize)]
struct SheetsJson<'a> {
    format: &'static str,
    kits: Vec<KitRowJson<'a>>,
    sheets: Vec<SheetJson<'a>>,
    groups: Vec<GroupJson<'a>>,
    parts: Vec<NeedJson<'a>>,
    missing: Vec<MissingJson<'a>>,
    left_out: Vec<LeftOutJson<'a>>,
    files: &'a [&'a str],
}

/// A part with how often it is needed and laid out, and its blank.
#[derive(Serialize)]
struct NeedJson<'a> {
    kit: &'a str,
    number: &'a str,
    quantity: u32,
    laid: u32,
    grain: bool,
    mirror: bool,
    title: &'a str,
    each: usize,
    material: &'a str,
    thickness: Number,
    blank: BlankJson,
    bends: Vec<BendLineJson>,
    etch: Vec<EtchJson<'a>>,
}

/// A bend as the laser's file shows it.
#[derive(Serialize)]
struct BendLineJson {
    line: [[Number; 2]; 2],
    direction: &'static str,
}

/// A part that found no place, or not often enough.
#[derive(Serialize)]
struct MissingJson<'a> {
    number: &'a str,
    quantity: u32,
    why: &'static str,
}

/// A kit of which nothing is laid out.
#[derive(Serialize)]
struct LeftOutJson<'a> {
    kit: &'a str,
    why: &'a str,
}

fn missing_json<'a>(wanted: &[Wanted<'a>], missing: &Missing) -> MissingJson<'a> {
    let number = &wanted[missing.wanted].part.number;
    MissingJson { number, quantity: missing.quantity, why: missing.why.words() }
}

fn left_out_json(left: &LeftOut) -> LeftOutJson<'_> {
    LeftOutJson { kit: &left.kit, why: &left.why }
}

fn part_json<'a>(wanted: &[Wanted<'a>], laid: &Laid, index: usize) -> NeedJson<'a> {
    let own = &wanted[index];
    let bends = own.part.bends.iter().zip(&own.blank.bends);
    NeedJson {
        kit: own.kit,
        number: &own.part.number,
        quantity: own.quantity,
        laid: laid.count(index),
        grain: own.part.lie.grain,
        mirror: own.part.lie.mirror,
        title: &own.part.title,
        each: own.part.places.len(),
        material: &own.part.material.title,
        thickness: Number(own.part.thickness),
        blank: blank_json(own.blank),
        bends: bends
            .map(|(bend, flat)| BendLineJson {
                line: flat.line.map(pair),
                direction: bend.sense.word(),
            })
            .collect(),
        etch: own.blank.etch.iter().map(etch_json).collect(),
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
