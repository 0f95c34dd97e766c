//! Laser sheets to DXF: millimetres, closed contours, nothing that a machine would trip over.
//!
//! The entities and their sections come from the `dxf` crate; one pass over what it writes gives
//! the file the owners and handles that strict readers ask for, and leaves out clocks and
//! identifiers.

mod entity;
mod frame;
mod pass;

use crate::draw::LaserSheet;

/// The bytes of a DXF file (AC1015, ASCII). The same sheet always gives the same bytes.
pub fn dxf(sheet: &LaserSheet) -> Vec<u8> {
    let mut drawing = frame::drawing(&sheet.layers);
    let owner = frame::model_space(&drawing);
    for entity in entity::entities(sheet, owner) {
        drawing.add_entity(entity);
    }
    frame::state_extent(&mut drawing, sheet);
    let mut text = Vec::with_capacity(64 * 1024);
    let saved = drawing.save(&mut text);
    assert!(saved.is_ok(), "memory can always be written to");
    pass::completed(&text)
}
