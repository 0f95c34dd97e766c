//! The writer of one shop's files: the frame made once, the entities of each file put into it.

use std::collections::{BTreeMap, BTreeSet};

use super::entity::{COORDINATE, Entity, Place, point};
use super::frame;
use super::pair::{put, put_handle, put_point};
use super::pass;
use crate::draw::{LaserItem, LaserSheet, Layer, Role};

/// Room in memory for an entity; only a guess.
const ENTITY_ROOM: usize = 400;

/// What follows the extent and the next handle in the header.
const BEHIND_EXTENT: &str = "  9\r\n$LTSCALE\r\n";
const BEHIND_SEED: &str = "  9\r\n$MEASUREMENT\r\n";

/// Writes DXF files that share their layers.
#[derive(Debug, Clone)]
pub struct DxfWriter {
    layers: Vec<Layer>,
    /// Each role's layer as the file writes its name.
    names: BTreeMap<Role, String>,
    owner: u64,
    first_handle: u64,
    /// The file cut where its own values stand: the extent, the handle that comes next, and the
    /// entities.
    pieces: [String; 4],
    /// The extent of a file with nothing in it.
    no_extent: String,
}

/// The bytes of a DXF file (AC1015, ASCII). The same sheet always gives the same bytes.
pub fn dxf(sheet: &LaserSheet) -> Vec<u8> {
    DxfWriter::new(&sheet.layers).filled(sheet)
}

impl DxfWriter {
    /// A writer of sheets with these layers.
    pub fn new(layers: &[Layer]) -> Self {
        let drawing = frame::drawing(layers);
        let owner = frame::model_space(&drawing).0;
        let mut text = Vec::with_capacity(64 * 1024);
        let saved = drawing.save(&mut text);
        assert!(saved.is_ok(), "memory can always be written to");
        let text = pass::completed(&text);
        Self::cut(&text, layers, owner)
    }

    fn cut(text: &str, layers: &[Layer], owner: u64) -> Self {
        let (to_extent, rest) = behind(text, "$EXTMIN\r\n");
        let (no_extent, rest) = rest.split_at(rest.find(BEHIND_EXTENT).unwrap_or(0));
        let (to_seed, rest) = behind(rest, "$HANDSEED\r\n");
        let (seed, rest) = rest.split_at(rest.find(BEHIND_SEED).unwrap_or(0));
        let (to_entities, closing) = behind(rest, "  0\r\nSECTION\r\n  2\r\nENTITIES\r\n");
        let seed = seed.lines().nth(1).unwrap_or_default();
        Self {
            layers: layers.to_vec(),
            names: layers.iter().map(|layer| layer.role).zip(names(to_entities)).collect(),
            owner,
            first_handle: u64::from_str_radix(seed, 16).unwrap_or(frame::FIRST_OF_SHEET),
            pieces: [to_extent, to_seed, to_entities, closing].map(str::to_owned),
            no_extent: no_extent.to_owned(),
        }
    }

    /// The bytes of the file (AC1015, ASCII) of a sheet, which may have other layers than those the
    /// writer was made for: it then takes as long as a new writer. The same sheet always gives the
    /// same bytes.
    pub fn write(&self, sheet: &LaserSheet) -> Vec<u8> {
        if sheet.layers == self.layers { self.filled(sheet) } else { dxf(sheet) }
    }

    fn filled(&self, sheet: &LaserSheet) -> Vec<u8> {
        let entities = entities(sheet);
        let room = self.pieces.iter().map(String::len).sum::<usize>();
        let mut out = Vec::with_capacity(room + ENTITY_ROOM * (1 + entities.len()));
        let [to_extent, to_seed, to_entities, closing] = self.pieces.each_ref().map(String::as_str);
        out.extend_from_slice(to_extent.as_bytes());
        self.put_extent(&mut out, sheet);
        out.extend_from_slice(to_seed.as_bytes());
        put_handle(&mut out, 5, self.first_handle + entities.len() as u64);
        out.extend_from_slice(to_entities.as_bytes());
        for (handle, (role, entity)) in (self.first_handle..).zip(&entities) {
            let layer = self.names.get(role).map_or("0", String::as_str);
            entity.write(&mut out, &Place { handle, owner: self.owner, layer });
        }
        out.extend_from_slice(closing.as_bytes());
        out
    }

    /// Tells readers where to look before they have read the entities.
    fn put_extent(&self, out: &mut Vec<u8>, sheet: &LaserSheet) {
        let bounds = sheet.bounds();
        if bounds.low.is_finite() && bounds.high.is_finite() {
            put_point(out, 10, point(bounds.low), COORDINATE);
            put(out, 9, "$EXTMAX");
            put_point(out, 10, point(bounds.high), COORDINATE);
        } else {
            out.extend_from_slice(self.no_extent.as_bytes());
        }
    }
}

/// The sheet's entities in its order, without lines of no length and without any line twice.
fn entities(sheet: &LaserSheet) -> Vec<(Role, Entity)> {
    let mut seen = BTreeSet::new();
    let entity = |item: &LaserItem| Some((item.role, Entity::of(&item.shape)?));
    let mut entities: Vec<_> = sheet.items.iter().filter_map(entity).collect();
    entities.retain(|(role, entity)| seen.insert((*role, entity.key())));
    entities
}

/// A text cut behind the first place that reads `mark`.
fn behind<'a>(text: &'a str, mark: &str) -> (&'a str, &'a str) {
    text.split_at(text.find(mark).map_or(0, |at| at + mark.len()))
}

/// The names of the shop's layers as the table of layers shows them; the first there is the one
/// that every file has.
fn names(tables: &str) -> impl Iterator<Item = String> {
    let name = |record: &str| {
        let (_, from_name) = behind(record, "\r\n  2\r\n");
        from_name.lines().next().unwrap_or_default().to_owned()
    };
    tables.split("  0\r\nLAYER\r\n").skip(2).map(name)
}
