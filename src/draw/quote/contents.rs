//! What is bought, in tables and sentences.

use super::super::block::{Block, column, figures as figure_column, sentences};
use super::super::figure::{Figures, fixed};
use super::super::shop_drawing::part_mass;
use super::{Offer, figures, told};
use crate::flat::Blank;
use crate::kit::{Fastener, Kit, Part, Value};
use crate::units::{INCH, POUND, mass};

/// Values that name the free way through, the first known of each; and what they are called.
const WAYS: [(&str, [&str; 2]); 2] = [
    ("Clear width", ["frame.clear_width", "opening.clear_width"]),
    ("Clear height", ["frame.clear_height", "opening.clear_height"]),
];

/// How a note of the family begins that says what the customer gets elsewhere.
const ELSEWHERE: &str = "Not in the kit";

/// The sizes that a customer asks for.
pub(super) fn key(offer: &Offer) -> Block {
    let (kit, figures) = (offer.kit, figures(offer));
    let mut rows: Vec<[String; 2]> = Vec::new();
    for (name, keys) in WAYS {
        if let Some(mm) = keys.iter().find_map(|key| number(kit, key)) {
            rows.push([name.to_owned(), figures.length(mm)]);
        }
    }
    if let Some(cut) = offer.site.and_then(|site| site.cut.as_ref()) {
        rows.push(["Cut-out, width".to_owned(), figures.length(cut.lines.width)]);
        rows.push(["Cut-out, height".to_owned(), figures.length(cut.lines.height)]);
        rows.push(["From the left post".to_owned(), figures.length(cut.lines.from_left[0])]);
        rows.push(["Over the floor".to_owned(), figures.length(cut.lines.z[0])]);
    }
    if let Some(mm) = number(kit, "ends.gap") {
        rows.push(["Gap between the boxes".to_owned(), figures.length(mm)]);
    }
    if let Some(mm) = number(kit, "foam.thickness") {
        let foam = if mm > 0.0 { figures.length(mm) } else { "none".to_owned() };
        rows.push(["Foam".to_owned(), foam]);
    }
    rows.push(["Parts".to_owned(), pieces(kit).to_string()]);
    rows.push(["Mass".to_owned(), mass(offer.quote.mass_kg, kit.inches)]);
    let columns = vec![column("", 34.0), figure_column(figures.unit(), 32.0)];
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
    blocks.extend(told("Mass and package", package(offer)));
    blocks.extend(told("Options", quote.options.clone()));
    let elsewhere = kit.notes.iter().filter(|note| note.starts_with(ELSEWHERE)).cloned().collect();
    blocks.extend(told("Not in the price", not_included(elsewhere)));
    blocks
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

fn package(offer: &Offer) -> Vec<String> {
    let quote = offer.quote;
    let inches = offer.kit.inches;
    let whole = |mm: f64| fixed(if inches { (mm / INCH).ceil() } else { mm }, 0);
    let [long, wide, high] = quote.package.map(whole);
    let unit = if inches { "in" } else { "mm" };
    vec![
        format!("Parts together {}, without fasteners and packing.", mass(quote.mass_kg, inches)),
        format!(
            "Package about {long} × {wide} × {high} {unit}: an estimate from the folded parts."
        ),
    ]
}

/// What is bought or done elsewhere: the family's own words first.
fn not_included(mut own: Vec<String>) -> Vec<String> {
    own.push(
        "Cutting and bracing the container, foam, door or window unit, sealant, paint, transport and \
         the work on site, unless listed above."
            .to_owned(),
    );
    own.push(
        "An engineer's check of the container with its opening; permits. Local codes rule."
            .to_owned(),
    );
    own
}
