//! What a family's kit looks like: assembled, with the family's defaults.

use super::build::work_out;
use super::{Built, Source, Stock, Trial};
use crate::draw::view::isometric_kit;
use crate::draw::{Picture, dots};
use crate::shelf::WallName;

/// Columns and rows of characters of a portrait.
const SIZE: [usize; 2] = [64, 22];

/// The assembled kit of a family as lines of text, worked out with its defaults for the first
/// container and wall on which it stands without an error. None where its defaults make no kit.
pub fn portrait(family: &str, stock: &Stock) -> Option<Vec<String>> {
    let walls = [WallName::Left, WallName::FrontEnd, WallName::DoorEnd];
    let walls = walls.map(|wall| format!("wall = \"{}\"", wall.word()));
    let grounds = stock.shelf.containers.iter().flat_map(|container| {
        let on = |wall: &str| format!("[container]\ntype = \"{}\"\n{wall}\n", container.id);
        [on(&walls[0]), on(&walls[1]), on(&walls[2]), on("")]
    });
    let mut specs = std::iter::once(String::new()).chain(grounds);
    let picture = specs.find_map(|ground| assembled(family, &ground, stock))?;
    let lines = dots(&picture, SIZE);
    let drawn = |line: &&String| !line.is_empty();
    Some(lines.iter().filter(drawn).cloned().collect())
}

fn assembled(family: &str, ground: &str, stock: &Stock) -> Option<Picture> {
    let head = "kit = \"OSA-0001\"\nrevision = \"A\"\ndate = \"2026-01-01\"\n";
    let text = format!("{head}template = \"{family}\"\n{ground}");
    let source = Source { name: String::new(), bytes: text.into_bytes() };
    let mut built = Built::default();
    let worked = work_out(&source, stock, &Trial::none(), &mut built)?;
    (!built.notes.has_errors()).then(|| isometric_kit(&worked.kit, &worked.folded))
}
