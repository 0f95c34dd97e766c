//! `sheets.csv` against the list of sheets.

use super::lists::{Meant, hold};
use super::sheets::Floor;
use crate::note::Notes;
use crate::reading::SheetRow;

/// The file.
const LIST: &str = "sheets.csv";

/// Compares the list row by row, where it is there.
pub(super) fn compare(floor: &Floor, notes: &mut Notes) {
    let meant: Vec<Meant> = floor
        .sheets
        .iter()
        .enumerate()
        .flat_map(|(index, sheet)| rows(floor, (index + 1, sheet)))
        .collect();
    hold((floor.file(LIST), LIST), ("part", &meant), notes);
}

/// The rows of a sheet: one for each part on it, in the order of the parts.
fn rows(floor: &Floor, (number, sheet): (usize, &SheetRow)) -> Vec<Meant> {
    let count = |of: &str| sheet.parts.iter().filter(|row| row.number == of).count();
    let on = floor.parts.iter().map(|part| (part, count(part.number)));
    let on: Vec<_> = on.filter(|(_, count)| 0 < *count).collect();
    let area: f64 = on.iter().map(|(part, count)| part.blank.area_mm2 * *count as f64).sum();
    let name = sheet.file.rsplit('/').next().unwrap_or_default();
    let mut rows = Vec::new();
    for (part, count) in &on {
        let mut numbers = vec![
            ("sheet", number as f64),
            ("thickness_mm", sheet.thickness),
            ("width_mm", sheet.width),
            ("height_mm", sheet.height),
            ("copies", sheet.copies as f64),
            ("on_sheet", *count as f64),
            ("in_all", (count * sheet.copies) as f64),
            ("covered_percent", 100.0 * area / (sheet.width * sheet.height)),
            ("cut_length_mm", sheet.cut_length_mm),
            ("pierces", sheet.pierces as f64),
            ("time_s", sheet.time_s),
            ("mass_kg", sheet.mass_kg),
        ];
        let rest = sheet.remnant.map(|[x0, y0, x1, y1]| [x1 - x0, y1 - y0]);
        let mut texts = vec![
            ("file", name.to_owned()),
            ("material", sheet.material.clone()),
            ("stock", sheet.stock.clone()),
            ("title", part.title.to_owned()),
        ];
        let maybe = [
            ("remnant_x_mm", rest.map(|rest| rest[0])),
            ("remnant_y_mm", rest.map(|rest| rest[1])),
            ("price", sheet.price),
        ];
        for (column, value) in maybe {
            match value {
                Some(value) => numbers.push((column, value)),
                None => texts.push((column, String::new())),
            }
        }
        rows.push(Meant { name: part.number.to_owned(), texts, numbers });
    }
    rows
}
