//! Sheets to SVG: the drawing in paper millimetres, text as text.

mod outline;
mod text;

use svg::Document;
use svg::node::element::{Element, Path};
use svg::node::{Node, Text as Plain};

use super::number::fixed;
use super::{outline as steps, pen};
use crate::draw::{Fill, Item, Pen, Shape, Sheet};

/// Decimals of a millimetre on paper.
const DECIMALS: usize = 3;

/// The bytes of an SVG file of the paper's size. The same sheet always gives the same bytes.
pub fn svg(sheet: &Sheet) -> Vec<u8> {
    let (width, height) = (fixed(sheet.width, DECIMALS), fixed(sheet.height, DECIMALS));
    let mut document = Document::new()
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("role", "img")
        .add(titled(&sheet.title))
        .add(paper(&width, &height));
    let mut drawn = Element::new("g");
    drawn.assign("font-family", "'DejaVu Sans', sans-serif");
    drawn.assign("fill-rule", "evenodd");
    drawn.assign("stroke-linejoin", "round");
    for node in nodes(sheet) {
        drawn.append(node);
    }
    document = document.add(drawn);
    let mut text = document.to_string();
    text.push('\n');
    text.into_bytes()
}

/// The title, for screen readers and as the tip under the pointer.
fn titled(title: &str) -> Element {
    let mut element = Element::new("title");
    element.append(Plain::new(text::printable(title)));
    element
}

fn paper(width: &str, height: &str) -> Element {
    let mut element = Element::new("rect");
    element.assign("width", width);
    element.assign("height", height);
    element.assign("fill", "#fff");
    element
}

/// The items back to front; neighbours that are only stroked with the same pen become one path.
fn nodes(sheet: &Sheet) -> Vec<Element> {
    let mut nodes = Vec::new();
    let mut items = sheet.items.iter().peekable();
    while let Some(item) = items.next() {
        match item {
            Item::Text(content) => nodes.push(text::element(content, sheet.height)),
            Item::Shape { shape, pen, fill } => {
                let mut data = String::new();
                draw(&mut data, shape, sheet.height);
                while let Some(next) = items.next_if(|next| joins(next, *pen, *fill)) {
                    shape_of(next)
                        .into_iter()
                        .for_each(|shape| draw(&mut data, shape, sheet.height));
                }
                nodes.push(path(data, *pen, *fill));
            }
        }
    }
    nodes
}

fn joins(next: &Item, pen: Option<Pen>, fill: Fill) -> bool {
    matches!(next, Item::Shape { pen: own, fill: Fill::Empty, .. } if *own == pen)
        && fill == Fill::Empty
}

fn shape_of(item: &Item) -> Option<&Shape> {
    match item {
        Item::Shape { shape, .. } => Some(shape),
        Item::Text(_) => None,
    }
}

fn draw(data: &mut String, shape: &Shape, height: f64) {
    outline::push(data, &steps::steps(shape), height);
}

fn path(data: String, line: Option<Pen>, fill: Fill) -> Element {
    let path = Path::new().set("d", data).set("fill", colour(fill));
    let Some(line) = line else { return path.into() };
    let dashes = pen::dashes(line);
    let path = path.set("stroke", "#000").set("stroke-width", fixed(pen::width(line), DECIMALS));
    if dashes.is_empty() {
        return path.set("stroke-linecap", "round").into();
    }
    let dashes: Vec<String> = dashes.iter().map(|length| fixed(*length, DECIMALS)).collect();
    path.set("stroke-dasharray", dashes.join(" ")).into()
}

fn colour(fill: Fill) -> String {
    match fill {
        Fill::Empty => "none".to_owned(),
        Fill::Paper => "#fff".to_owned(),
        Fill::Ink => "#000".to_owned(),
        Fill::Tint(percent) => {
            let level = (pen::whiteness(percent) * 255.0).round() as u8;
            format!("#{level:02x}{level:02x}{level:02x}")
        }
    }
}
