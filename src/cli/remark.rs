//! Findings tied to lines of the texts they are about, so that the texts can be let go.

use crate::note::{Finding, Notes, Place};

/// A finding ready to be shown.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Remark {
    /// What was found.
    pub finding: Finding,
    /// Where, when it has a place in a text.
    pub spot: Option<Spot>,
}

/// A place in a text, as people count it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Spot {
    /// The file's name.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The whole line without its end.
    pub text: String,
    /// Bytes of `text` that are meant; at least one character, or empty at the line's end.
    pub span: std::ops::Range<usize>,
}

/// The findings in the order of showing, with the lines they point at. `text` gives a file's bytes.
pub(crate) fn remarks<'a>(notes: &Notes, text: impl Fn(&str) -> Option<&'a [u8]>) -> Vec<Remark> {
    let remark = |finding: &Finding| {
        let place = finding.place.as_ref();
        let spot = place.and_then(|place| Some(spot(place, text(&place.file)?)));
        Remark { finding: finding.clone(), spot }
    };
    notes.sorted().into_iter().map(remark).collect()
}

/// Finds a place's line. Places beyond the end, or inside a character, mean the nearest before.
fn spot(place: &Place, bytes: &[u8]) -> Spot {
    let start = place.span.start.min(bytes.len());
    let before = &bytes[..start];
    let line_start = before.iter().rposition(|&b| b == b'\n').map_or(0, |at| at + 1);
    let rest = &bytes[line_start..];
    let length = rest.iter().position(|&b| b == b'\n').unwrap_or(rest.len());
    let line = rest[..length].strip_suffix(b"\r").unwrap_or(&rest[..length]);
    let prefix = String::from_utf8_lossy(&line[..(start - line_start).min(line.len())]);
    let text = String::from_utf8_lossy(line).into_owned();
    let from = prefix.len().min(text.len());
    let width = place.span.end.saturating_sub(start);
    let to = text.ceil_char_boundary((from + width).min(text.len()));
    Spot {
        file: place.file.to_string(),
        line: before.iter().filter(|&&b| b == b'\n').count() + 1,
        column: prefix.chars().count() + 1,
        span: text.floor_char_boundary(from)..to,
        text,
    }
}
