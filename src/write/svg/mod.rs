//! Sheets to SVG: the drawing in paper millimetres, text as text.

mod element;
mod outline;
mod text;

use self::element::{attribute, escaped, number, open, printable};
use super::{number::push_fixed, pen};
use crate::draw::{Fill, Item, Pen, Sheet};

/// Decimals of a millimetre on paper.
const DECIMALS: usize = 3;

/// Room in memory for an item; only a guess.
const ITEM_ROOM: usize = 96;

/// The bytes of an SVG file of the paper's size. The same sheet always gives the same bytes.
pub fn svg(sheet: &Sheet) -> Vec<u8> {
    let mut out = Vec::with_capacity(1024 + ITEM_ROOM * sheet.items.len());
    head(&mut out, sheet);
    out.extend_from_slice(b"<g");
    attribute(&mut out, "fill-rule", "evenodd");
    attribute(&mut out, "font-family", "&apos;DejaVu Sans&apos;, sans-serif");
    attribute(&mut out, "stroke-linejoin", "round");
    out.extend_from_slice(b">\n");
    items(&mut out, sheet);
    out.extend_from_slice(b"</g>\n</svg>\n");
    out
}

/// The paper; the title is for screen readers and is the tip under the pointer.
fn head(out: &mut Vec<u8>, sheet: &Sheet) {
    out.extend_from_slice(b"<svg");
    length(out, "height", sheet.height);
    attribute(out, "role", "img");
    open(out, "viewBox");
    out.extend_from_slice(b"0 0 ");
    push_fixed(out, sheet.width, DECIMALS);
    out.push(b' ');
    push_fixed(out, sheet.height, DECIMALS);
    out.push(b'"');
    length(out, "width", sheet.width);
    attribute(out, "xmlns", "http://www.w3.org/2000/svg");
    out.extend_from_slice(b">\n<title>");
    escaped(out, &printable(&sheet.title));
    out.extend_from_slice(b"</title>\n<rect");
    attribute(out, "fill", "#fff");
    number(out, "height", sheet.height);
    number(out, "width", sheet.width);
    out.extend_from_slice(b"/>\n");
}

fn length(out: &mut Vec<u8>, name: &str, value: f64) {
    open(out, name);
    push_fixed(out, value, DECIMALS);
    out.extend_from_slice(b"mm\"");
}

/// The items back to front; neighbours that are only stroked with the same pen become one path.
fn items(out: &mut Vec<u8>, sheet: &Sheet) {
    let mut items = sheet.items.iter().peekable();
    let mut in_path = false;
    while let Some(item) = items.next() {
        match item {
            Item::Text(content) => text::push(out, content, sheet.height),
            Item::Shape { shape, pen, fill } => {
                if !in_path {
                    out.extend_from_slice(b"<path d=\"");
                }
                outline::push(out, shape, sheet.height);
                in_path = items.peek().is_some_and(|next| joins(next, *pen, *fill));
                if !in_path {
                    paint(out, *pen, *fill);
                }
            }
        }
    }
}

fn joins(next: &Item, pen: Option<Pen>, fill: Fill) -> bool {
    matches!(next, Item::Shape { pen: own, fill: Fill::Empty, .. } if *own == pen)
        && fill == Fill::Empty
}

/// Ends a path with the colours of its fill and its line.
fn paint(out: &mut Vec<u8>, line: Option<Pen>, fill: Fill) {
    out.extend_from_slice(b"\" fill=\"");
    colour(out, fill);
    out.push(b'"');
    if let Some(line) = line {
        attribute(out, "stroke", "#000");
        if pen::is_dashed(line) {
            open(out, "stroke-dasharray");
            pen::push_dashes(out, line, DECIMALS);
            out.push(b'"');
        } else {
            attribute(out, "stroke-linecap", "round");
        }
        number(out, "stroke-width", pen::width(line));
    }
    out.extend_from_slice(b"/>\n");
}

fn colour(out: &mut Vec<u8>, fill: Fill) {
    match fill {
        Fill::Empty => out.extend_from_slice(b"none"),
        Fill::Paper => out.extend_from_slice(b"#fff"),
        Fill::Ink => out.extend_from_slice(b"#000"),
        Fill::Tint(percent) => {
            let level = (pen::whiteness(percent) * 255.0).round() as u8;
            out.extend_from_slice(format!("#{level:02x}{level:02x}{level:02x}").as_bytes());
        }
    }
}
