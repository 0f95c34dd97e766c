//! Lines of text as SVG text.

use super::DECIMALS;
use super::element::{attribute, escaped, number, open, printable};
use crate::draw::{Align, Text, Typeface, text_width};
use crate::write::number::push_fixed;

/// Writes a line of text where the sheet has it. Its length is stated, so that a reader that lacks
/// the typeface keeps the layout.
pub(super) fn push(out: &mut Vec<u8>, text: &Text, height: f64) {
    let content = printable(&text.content);
    out.extend_from_slice(b"<text");
    number(out, "font-size", Typeface::of(text.bold).size_for(text.height));
    if text.bold {
        attribute(out, "font-weight", "bold");
    }
    let length = text_width(&content, text.height, text.bold);
    if length > 0.0 {
        attribute(out, "lengthAdjust", "spacingAndGlyphs");
    }
    match text.align {
        Align::Left => {}
        Align::Middle => attribute(out, "text-anchor", "middle"),
        Align::Right => attribute(out, "text-anchor", "end"),
    }
    if length > 0.0 {
        number(out, "textLength", length);
    }
    place(out, text, height);
    if content.contains("  ") || content.starts_with(' ') || content.ends_with(' ') {
        attribute(out, "xml:space", "preserve");
    }
    out.push(b'>');
    escaped(out, &content);
    out.extend_from_slice(b"</text>\n");
}

fn place(out: &mut Vec<u8>, text: &Text, height: f64) {
    if text.direction == 0.0 {
        number(out, "x", text.at.x);
        number(out, "y", height - text.at.y);
        return;
    }
    open(out, "transform");
    for (before, value) in
        [("translate(", text.at.x), (" ", height - text.at.y), (") rotate(", -text.direction)]
    {
        out.extend_from_slice(before.as_bytes());
        push_fixed(out, value, DECIMALS);
    }
    out.extend_from_slice(b")\"");
}
