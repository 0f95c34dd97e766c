//! What every DXF file of ours has around its entities: header, tables, blocks, root dictionary.

use std::sync::OnceLock;

use dxf::enums::{AcadVersion, DrawingUnits, Units};
use dxf::objects::{Dictionary, Object, ObjectType};
use dxf::tables::{AppId, DimStyle, Layer as DxfLayer, LineType, Style, ViewPort};
use dxf::{Block, Color, Drawing, Handle};

use crate::draw::Layer;

/// The first handle that is kept free for the pass over the finished file.
pub(super) const FIRST_FREE: u64 = 0x40;

/// The first handle of a shop's layers and of the entities.
pub(super) const FIRST_OF_SHEET: u64 = 0x80;

/// Where the entities live.
const MODEL_SPACE: &str = "*Model_Space";

/// An empty drawing in millimetres with the shop's layers.
pub(super) fn drawing(layers: &[Layer]) -> Drawing {
    static BASE: OnceLock<Drawing> = OnceLock::new();
    let mut drawing = BASE.get_or_init(base).clone();
    for layer in layers {
        drawing.add_layer(DxfLayer {
            name: layer.name.clone(),
            color: Color::from_index(layer.colour.max(1)),
            line_type_name: "Continuous".to_owned(),
            ..DxfLayer::default()
        });
    }
    drawing
}

/// The record that owns the entities.
pub(super) fn model_space(drawing: &Drawing) -> Handle {
    drawing
        .block_records()
        .find(|record| record.name == MODEL_SPACE)
        .map_or(Handle::empty(), |record| record.handle)
}

/// The part that is the same in all files: built once, since the crate asks the clock and the
/// system's random numbers whenever it starts a drawing.
fn base() -> Drawing {
    let mut drawing = Drawing::new();
    drawing.clear();
    drawing.header.version = AcadVersion::R2000;
    drawing.header.drawing_units = DrawingUnits::Metric;
    drawing.header.default_drawing_units = Units::Millimeters;
    add_tables(&mut drawing);
    add_blocks(&mut drawing);
    add_dictionaries(&mut drawing);
    assert!(drawing.header.next_available_handle.0 <= FIRST_FREE, "the base fits its handles");
    drawing.header.next_available_handle = Handle(FIRST_OF_SHEET);
    drawing
}

fn add_tables(drawing: &mut Drawing) {
    let name = |name: &str| name.to_owned();
    drawing.add_app_id(AppId { name: name("ACAD"), ..AppId::default() });
    for line in ["BYBLOCK", "BYLAYER", "Continuous"] {
        drawing.add_line_type(LineType { name: name(line), ..LineType::default() });
    }
    drawing.add_layer(DxfLayer {
        name: name("0"),
        line_type_name: name("Continuous"),
        ..DxfLayer::default()
    });
    drawing.add_style(Style { name: name("Standard"), ..Style::default() });
    drawing.add_dim_style(DimStyle { name: name("Standard"), ..DimStyle::default() });
    drawing.add_view_port(ViewPort { name: name("*Active"), ..ViewPort::default() });
}

fn add_blocks(drawing: &mut Drawing) {
    for (name, is_in_paperspace) in [(MODEL_SPACE, false), ("*Paper_Space", true)] {
        let block = Block { name: name.to_owned(), is_in_paperspace, ..Block::default() };
        drawing.add_block(block);
    }
    let records: Vec<(String, Handle)> =
        drawing.block_records().map(|record| (record.name.clone(), record.handle)).collect();
    for block in drawing.blocks_mut() {
        let own = records.iter().find(|(name, _)| *name == block.name);
        block.__owner_handle = own.map_or(Handle::empty(), |(_, handle)| *handle);
    }
}

/// The root dictionary, which must come first, and the one that it must hold.
fn add_dictionaries(drawing: &mut Drawing) {
    let dictionary = || Object::new(ObjectType::Dictionary(Dictionary::default()));
    let root = drawing.add_object(dictionary()).common.handle;
    let groups = drawing.add_object(dictionary()).common.handle;
    for object in drawing.objects_mut() {
        if object.common.handle == groups {
            object.common.__owner_handle = root;
        } else if let ObjectType::Dictionary(dictionary) = &mut object.specific {
            dictionary.value_handles.insert("ACAD_GROUP".to_owned(), groups);
        }
    }
}
