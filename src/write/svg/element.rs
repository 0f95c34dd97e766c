//! Elements written straight into the file.

use crate::draw::REPLACEMENT;
use crate::write::number::push_fixed;

use super::DECIMALS;

/// Writes ` name="value"`; the value needs no escaping.
pub(super) fn attribute(out: &mut Vec<u8>, name: &str, value: &str) {
    open(out, name);
    out.extend_from_slice(value.as_bytes());
    out.push(b'"');
}

/// Writes ` name="value"` with a number in paper millimetres.
pub(super) fn number(out: &mut Vec<u8>, name: &str, value: f64) {
    open(out, name);
    push_fixed(out, value, DECIMALS);
    out.push(b'"');
}

/// Writes ` name="`.
pub(super) fn open(out: &mut Vec<u8>, name: &str) {
    out.push(b' ');
    out.extend_from_slice(name.as_bytes());
    out.extend_from_slice(b"=\"");
}

/// Writes a text between tags: markup stays text.
pub(super) fn escaped(out: &mut Vec<u8>, text: &str) {
    for byte in text.bytes() {
        match byte {
            b'&' => out.extend_from_slice(b"&amp;"),
            b'<' => out.extend_from_slice(b"&lt;"),
            b'>' => out.extend_from_slice(b"&gt;"),
            _ => out.push(byte),
        }
    }
}

/// A text without the characters that XML forbids.
pub(super) fn printable(text: &str) -> String {
    let allowed = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().map(|c| if allowed(c) { c } else { REPLACEMENT }).collect()
}
