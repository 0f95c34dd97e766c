//! `parts.csv` and `fasteners.csv`: the lists for stores and purchasing, by RFC 4180.

use super::part_json::mass_kg;
use crate::flat::Blank;
use crate::kit::{Fastener, Kit, Part};
use crate::units;

/// The parts list: one row for each part number. `blanks` stand in the order of the kit's parts.
pub fn parts_csv(kit: &Kit, blanks: &[Blank]) -> Vec<u8> {
    let head = [
        "number",
        "revision",
        "title",
        "quantity",
        "material",
        "thickness_mm",
        "gauge",
        "blank_width_mm",
        "blank_height_mm",
        "mass_kg",
        "bends",
        "holes",
        "cut_length_mm",
        "pierces",
        "file",
    ];
    let rows = kit.parts.iter().zip(blanks).map(|(part, blank)| part_row(part, blank));
    table(head, rows)
}

fn part_row(part: &Part, blank: &Blank) -> [String; 15] {
    [
        text(&part.number),
        text(&part.issue.revision),
        text(&part.title),
        part.places.len().to_string(),
        text(&part.material.title),
        number(part.thickness),
        text(&part.gauge),
        number(blank.width),
        number(blank.height),
        number(mass_kg(part, blank)),
        part.bends.len().to_string(),
        blank.inner.len().to_string(),
        number(blank.cut_length),
        blank.pierces.to_string(),
        text(&format!("parts/{}.dxf", part.number)),
    ]
}

/// The fasteners list: one row for each kind, with the joints it is used in.
pub fn fasteners_csv(kit: &Kit) -> Vec<u8> {
    let head = [
        "id",
        "title",
        "count",
        "spare",
        "total",
        "hole_mm",
        "grip_from_mm",
        "grip_to_mm",
        "used_in",
    ];
    table(head, kit.fasteners.iter().map(|fastener| fastener_row(kit, fastener)))
}

fn fastener_row(kit: &Kit, fastener: &Fastener) -> [String; 9] {
    let joints = kit.joints.iter().filter(|joint| joint.fastener == fastener.id);
    let mut used_in: Vec<String> = joints.map(|j| format!("{} {}", j.id, j.name)).collect();
    for neighbour in &kit.neighbours {
        let mut ordered = neighbour.ordered_here();
        if ordered.any(|meeting| meeting.fastener == fastener.id) {
            used_in.push(format!("this kit to {}", neighbour.kit));
        }
    }
    [
        text(&fastener.id),
        text(&fastener.title),
        fastener.count.to_string(),
        fastener.spare.to_string(),
        (fastener.count + fastener.spare).to_string(),
        number(fastener.hole),
        number(fastener.grip[0]),
        number(fastener.grip[1]),
        text(&used_in.join("; ")),
    ]
}

pub(super) fn table<const N: usize>(
    head: [&str; N],
    rows: impl Iterator<Item = [String; N]>,
) -> Vec<u8> {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(vec![]);
    let mut written = writer.write_record(head);
    for row in rows {
        written = written.and_then(|()| writer.write_record(row));
    }
    let bytes = writer.into_inner();
    assert!(written.is_ok() && bytes.is_ok(), "writing CSV to memory cannot fail");
    bytes.unwrap_or_default()
}

/// Lengths and masses to a thousandth.
pub(super) fn number(value: f64) -> String {
    units::number(value, 3)
}

/// A text that no spreadsheet takes for a formula: one that begins like a formula gets an
/// apostrophe before it, and control characters become spaces.
pub(super) fn text(value: &str) -> String {
    let plain: String = value.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let begins = plain.trim_start().chars().next();
    let formula = begins.is_some_and(|c| "=+-@\u{ff1d}\u{ff0b}\u{ff0d}\u{ff20}".contains(c));
    if formula { format!("'{plain}") } else { plain }
}
