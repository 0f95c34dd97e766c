//! Lines of text as SVG text.

use svg::node::element::Element;
use svg::node::{Node, Text as Plain};

use super::DECIMALS;
use crate::draw::{Align, REPLACEMENT, Text, Typeface, text_width};
use crate::write::number::fixed;

/// A line of text where the sheet has it. Its length is stated, so that a reader that lacks the
/// typeface keeps the layout.
pub(super) fn element(text: &Text, height: f64) -> Element {
    let mut element = Element::new("text");
    let (x, y) = (fixed(text.at.x, DECIMALS), fixed(height - text.at.y, DECIMALS));
    if text.direction == 0.0 {
        element.assign("x", x);
        element.assign("y", y);
    } else {
        let turn = fixed(-text.direction, DECIMALS);
        element.assign("transform", format!("translate({x} {y}) rotate({turn})"));
    }
    let size = Typeface::of(text.bold).size_for(text.height);
    element.assign("font-size", fixed(size, DECIMALS));
    if text.bold {
        element.assign("font-weight", "bold");
    }
    match text.align {
        Align::Left => {}
        Align::Middle => element.assign("text-anchor", "middle"),
        Align::Right => element.assign("text-anchor", "end"),
    }
    let content = printable(&text.content);
    let length = text_width(&content, text.height, text.bold);
    if length > 0.0 {
        element.assign("textLength", fixed(length, DECIMALS));
        element.assign("lengthAdjust", "spacingAndGlyphs");
    }
    if content.contains("  ") || content.starts_with(' ') || content.ends_with(' ') {
        element.assign("xml:space", "preserve");
    }
    element.append(Plain::new(content));
    element
}

/// A text without the characters that XML forbids.
pub(super) fn printable(text: &str) -> String {
    let allowed = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().map(|c| if allowed(c) { c } else { REPLACEMENT }).collect()
}
