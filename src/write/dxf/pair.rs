//! Code pairs: the lines that a DXF file is made of.

use crate::write::number::push_fixed;

/// What ends a line.
const END: &str = "\r\n";

/// Writes a pair, the code to three places as is the custom.
pub(super) fn put(out: &mut Vec<u8>, code: u16, value: &str) {
    put_code(out, code);
    out.extend_from_slice(value.as_bytes());
    out.extend_from_slice(END.as_bytes());
}

/// Writes a pair with a handle or another number in the base of sixteen.
pub(super) fn put_handle(out: &mut Vec<u8>, code: u16, handle: u64) {
    put(out, code, &format!("{handle:X}"));
}

/// Writes a pair with a real number, which has at least one decimal by the custom.
pub(super) fn put_real(out: &mut Vec<u8>, code: u16, value: f64, decimals: usize) {
    put_code(out, code);
    let start = out.len();
    push_fixed(out, value, decimals);
    if !out[start..].contains(&b'.') {
        out.extend_from_slice(b".0");
    }
    out.extend_from_slice(END.as_bytes());
}

/// Writes the pair of a point's coordinate in each direction, z as 0: codes `code`, ten more and
/// twenty more.
pub(super) fn put_point(out: &mut Vec<u8>, code: u16, [x, y]: [f64; 2], decimals: usize) {
    put_real(out, code, x, decimals);
    put_real(out, code + 10, y, decimals);
    put_real(out, code + 20, 0.0, 1);
}

fn put_code(out: &mut Vec<u8>, code: u16) {
    debug_assert!(code < 1000, "files hold no extended data");
    let place = |least: u16, place: u16| {
        if code < least { b' ' } else { b'0' + (code / place % 10) as u8 }
    };
    out.extend_from_slice(&[place(100, 100), place(10, 10), place(0, 1), b'\r', b'\n']);
}
