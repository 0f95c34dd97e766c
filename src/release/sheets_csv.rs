//! `sheets.csv`: what is cut from which sheet, a row for each part on each sheet.

use super::lists::{number, table, text};
use crate::sheets::{CutSheet, Laid, Wanted};

/// One row for each part on each sheet; what is told of the whole sheet stands in every row of it.
pub fn sheets_csv(wanted: &[Wanted], laid: &Laid) -> Vec<u8> {
    let head = [
        "sheet",
        "file",
        "material",
        "thickness_mm",
        "stock",
        "width_mm",
        "height_mm",
        "copies",
        "part",
        "title",
        "on_sheet",
        "in_all",
        "covered_percent",
        "cut_length_mm",
        "pierces",
        "time_s",
        "mass_kg",
        "remnant_x_mm",
        "remnant_y_mm",
        "price",
    ];
    let rows = laid.sheets.iter().flat_map(|sheet| {
        sheet.counts().into_iter().map(move |count| row((wanted, laid), sheet, count))
    });
    table(head, rows)
}

fn row(
    (wanted, laid): (&[Wanted], &Laid),
    sheet: &CutSheet,
    (index, count): (usize, u32),
) -> [String; 20] {
    let (group, _) = &laid.groups[sheet.group];
    let (part, own) = (wanted[index].part, &sheet.figures);
    let [x, y] = sheet.board.size;
    let side = |side: Option<f64>| side.map_or_else(String::new, number);
    [
        sheet.number.to_string(),
        text(&sheet.name()),
        text(&group.material.title),
        number(group.thickness),
        text(&sheet.board.name),
        number(x),
        number(y),
        sheet.copies.to_string(),
        text(&part.number),
        text(&part.title),
        count.to_string(),
        (count * sheet.copies).to_string(),
        number(100.0 * own.area / (x * y)),
        number(own.cut_length),
        own.pierces.to_string(),
        number(own.seconds),
        number(sheet.board.mass),
        side(sheet.remnant.map(|rest| rest.width())),
        side(sheet.remnant.map(|rest| rest.height())),
        side(sheet.board.price),
    ]
}
