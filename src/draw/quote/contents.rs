//! What is bought, in tables and sentences.

use super::super::block::{Block, Column, column, figures as figure_column, sentences};
use super::super::figure::{Figures, fixed};
use super::super::shop_drawing::part_mass;
use super::{Offer, figures, told};
use crate::flat::Blank;
use crate::kit::{Fastener, Kit, Neighbour, Part, Value};
use crate::units::{INCH, POUND, mass};

/// Values that name the free way through, the first known of each, as made before as wished; and
/// what they are called.
const WAYS: [(&str, [&str; 3]); 2] = [
    ("Clear width", ["frame.clear_width", "frame.between", "opening.clear_width"]),
    ("Clear height", ["frame.clear_height", "blade.clear_height", "opening.clear_height"]),
];

/// How a note of the family begins that says what the customer gets elsewhere.
const ELSEWHERE: &str = "Not in the kit";

/// The sizes that a customer asks for.
pub(super) fn key(offer: &Offer) -> Block {
    let (kit, figures) = (offer.kit, figures(offer));
    let size = |mm: f64| format!("{} {}", figures.length(mm), figures.unit());
    let mut rows: Vec<[String; 2]> = Vec::new();
    for (name, keys) in WAYS {
        if let Some(mm) = keys.iter().find_map(|key| number(kit, key)) {
            rows.push([name.to_owned(), size(mm)]);
        }
    }
    if let Some(cut) = offer.site.and_then(|site| site.cut.as_ref()) {
        rows.push(["Cut-out, width".to_owned(), size(cut.lines.width)]);
        rows.push(["Cut-out, height".to_owned(), size(cut.lines.height)]);
        rows.push(["From the left post".to_owned(), size(cut.lines.from_left[0])]);
        rows.push(["Over the floor".to_owned(), size(cut.lines.z[0])]);
    }
    rows.extend(kit.on_site.key_sizes.iter().cloned());
    if let Some(mm) = number(kit, "foam.thickness") {
        let foam = if mm > 0.0 { size(mm) } else { "none".to_owned() };
        rows.push(["Foam".to_owned(), foam]);
    }
    rows.push(["Parts".to_owned(), pieces(kit).to_string()]);
    rows.push(["Mass of the parts".to_owned(), mass(offer.quote.mass_kg, kit.inches)]);
    rows.push(["Package, estimate".to_owned(), package(offer)]);
    let sizes = Column { wraps: true, ..figure_column("", 33.0) };
    let columns = vec![sentences("", 33.0), sizes];
    Block::Table("Key sizes", columns, rows.into_iter().map(Vec::from).collect())
}

fn number(kit: &Kit, key: &str) -> Option<f64> {
    kit.values.iter().find(|(name, _)| name == key).and_then(|(_, value)| match value {
        Value::Number(number) => Some(*number),
        _ => None,
    })
}

fn pieces(kit: &Kit) -> usize {
    kit.parts.iter().map(|part| part.places.len()).sum()
}

/// Everything after the first page.
pub(super) fn blocks(offer: &Offer) -> Vec<Block> {
    let (kit, quote) = (offer.kit, offer.quote);
    let mut blocks = vec![parts(offer)];
    if !kit.fasteners.is_empty() {
        blocks.push(fasteners(kit));
    }
    let options = if quote.options.is_empty() { &kit.on_site.options } else { &quote.options };
    blocks.extend(told("Options, priced on request", options.clone()));
    blocks.extend(told("In the same box, quoted by itself", beside(kit)));
    let elsewhere = kit.notes.iter().filter(|note| note.starts_with(ELSEWHERE)).cloned().collect();
    blocks.extend(told("Not in the price", not_included(elsewhere)));
    blocks
}

/// Other kits of the box, and what ties this one to them.
fn beside(kit: &Kit) -> Vec<String> {
    let told = |other: &Neighbour| {
        let bolts: usize = other.bolts.iter().map(|bolt| bolt.count).sum();
        let packed = other.bolts.iter().all(|bolt| bolt.ordered_by == kit.number);
        let packed = if packed { "this kit" } else { "that kit" };
        let post = match bolts {
            0 => String::new(),
            n => format!(": shares one closed post with this; its {n} bolts come with {packed}"),
        };
        format!("{}, {}{post}.", other.kit, other.title)
    };
    kit.neighbours.iter().map(told).collect()
}

/// What can hurt someone.
pub(super) fn cautions(offer: &Offer) -> Option<Block> {
    told("Cautions", offer.kit.cautions.clone())
}

fn parts(offer: &Offer) -> Block {
    let kit = offer.kit;
    let row = |(part, blank): (&Part, &Blank)| {
        let kg = part_mass(part, blank);
        vec![
            part.places.len().to_string(),
            part.title.clone(),
            made_of(part, figures(offer)),
            fixed(if kit.inches { kg / POUND } else { kg }, 1),
        ]
    };
    let columns = vec![
        figure_column("Pieces", 14.0),
        column("Part", 56.0),
        column("Made of", 78.0),
        figure_column(if kit.inches { "lb each" } else { "kg each" }, 22.0),
    ];
    let rows = kit.parts.iter().zip(offer.blanks).map(row).collect();
    Block::Table("In the crate: parts, cut, bent and marked", columns, rows)
}

/// The sheet in the customer's words: without its standard.
fn made_of(part: &Part, figures: Figures) -> String {
    let title = &part.material.title;
    let plain = title.split(" EN ").next().unwrap_or(title);
    format!("{plain}, {} {}", figures.small(part.thickness), figures.unit())
}

fn fasteners(kit: &Kit) -> Block {
    let row = |it: &Fastener| {
        vec![(it.count + it.spare).to_string(), it.title.clone(), it.spare.to_string()]
    };
    let columns = vec![
        figure_column("Pieces", 14.0),
        sentences("Fastener", 134.0),
        figure_column("Of these spare", 22.0),
    ];
    Block::Table("In the crate: fasteners", columns, kit.fasteners.iter().map(row).collect())
}

/// Length, width and height of the package, with padding: worked out from the folded parts.
fn package(offer: &Offer) -> String {
    let inches = offer.kit.inches;
    let whole = |mm: f64| fixed(if inches { (mm / INCH).ceil() } else { mm }, 0);
    let [long, wide, high] = offer.quote.package.map(whole);
    format!("{long} × {wide} × {high} {}", figures(offer).unit())
}

/// What is bought or done elsewhere: the family's own words first.
fn not_included(mut own: Vec<String>) -> Vec<String> {
    own.push(
        "Cutting and bracing the container, foam, door or window unit, sealant, paint, transport, \
         work on site, an engineer's check of the container with its opening, permits."
            .to_owned(),
    );
    own
}
