//! From a file's bytes to TOML, with findings for everything that keeps it from being read.

use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::DeTable;

use super::Codes;
use crate::note::{Finding, Notes, Place};

/// Largest file that is read, bytes: a spec has a few thousand.
pub const LARGEST: usize = 1 << 20;

/// How many faults of syntax are told; behind them they are echoes of the first.
const SYNTAX_FAULTS: usize = 8;

/// The text of a file: UTF-8, with or without a byte order mark, of bearable size. The mark stays,
/// so that places count in bytes of the file.
pub fn read_text<'b>(file: &str, bytes: &'b [u8], notes: &mut Notes) -> Option<&'b str> {
    if LARGEST < bytes.len() {
        notes.add(too_large(file, bytes.len()));
        return None;
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Some(text),
        Err(error) => {
            let start = error.valid_up_to();
            let end = start + error.error_len().unwrap_or(bytes.len() - start);
            let finding = Finding::error(
                "spec.encoding",
                format!("byte {start} is not UTF-8 text (0x{:02x})", bytes[start]),
            );
            let help = "save the file as UTF-8";
            notes.add(finding.at(place(&Arc::from(file), start..end)).help(help));
            None
        }
    }
}

/// Parses TOML; none when it holds nothing or cannot be understood.
pub fn read_toml<'t>(
    file: &Arc<str>,
    text: &'t str,
    codes: &Codes,
    notes: &mut Notes,
) -> Option<Spanned<DeTable<'t>>> {
    if LARGEST < text.len() {
        notes.add(too_large(file, text.len()));
        return None;
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut told: Vec<Range<usize>> = Vec::new();
    for error in &errors {
        let span = error.span().unwrap_or(0..0);
        if told.len() < SYNTAX_FAULTS && !told.iter().any(|t| t.start == span.start) {
            let message = format!("this is not TOML: {}", one_line(error.message()));
            let finding = Finding::error(codes.syntax, message);
            let help = "write `key = value`, texts in double quotes, groups as `[group]`";
            notes.add(finding.at(place(file, span.clone())).help(help));
            told.push(span);
        }
    }
    if !errors.is_empty() {
        return None;
    }
    if table.get_ref().is_empty() {
        let finding = Finding::error(codes.empty, "the file holds no values");
        notes.add(finding.at(place(file, 0..0)).help(codes.start_with));
        return None;
    }
    Some(table)
}

/// A place in a file.
pub(super) fn place(file: &Arc<str>, span: Range<usize>) -> Option<Place> {
    Some(Place { file: Arc::clone(file), span })
}

fn too_large(file: &str, size: usize) -> Finding {
    let message = format!("the file has {size} bytes; at most {LARGEST} are read");
    let finding = Finding::error("spec.too-large", message).at(place(&Arc::from(file), 0..0));
    finding.help("give the spec itself, not a drawing or a list made from it")
}

fn one_line(message: &str) -> String {
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}
