//! Setting of type: lines broken to a width, and texts made to fit a cell.

use super::text::text_width;

/// Text heights that may stand in for a larger one, largest first (ISO 3098).
const HEIGHTS: [f64; 4] = [5.0, 3.5, 2.5, 1.8];

/// The words of a text in lines no wider than `width` mm; a word wider than that goes on in the
/// next line.
pub(super) fn wrapped(text: &str, height: f64, width: f64) -> Vec<String> {
    let space = text_width(" ", height, false);
    let mut lines = Vec::new();
    let (mut line, mut used) = (String::new(), 0.0);
    for word in text.split_whitespace().flat_map(|word| pieces(word, height, width)) {
        let wide = text_width(&word, height, false);
        if !line.is_empty() && used + space + wide > width {
            lines.push(std::mem::take(&mut line));
            used = 0.0;
        }
        if !line.is_empty() {
            line.push(' ');
            used += space;
        }
        line.push_str(&word);
        used += wide;
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A word in as few pieces as are no wider than `width`; at least one character each.
fn pieces(word: &str, height: f64, width: f64) -> Vec<String> {
    if text_width(word, height, false) <= width {
        return vec![word.to_owned()];
    }
    let mut pieces = vec![String::new()];
    for c in word.chars() {
        let last = pieces.len() - 1;
        let longer = format!("{}{c}", pieces[last]);
        if pieces[last].is_empty() || text_width(&longer, height, false) <= width {
            pieces[last] = longer;
        } else {
            pieces.push(c.to_string());
        }
    }
    pieces
}

/// The largest height up to `height` at which a text is no wider than `width`; none where even the
/// smallest is too wide.
pub(super) fn fitting(text: &str, height: f64, bold: bool, width: f64) -> Option<f64> {
    let mut smaller = HEIGHTS.iter().copied().filter(|h| *h <= height);
    smaller.find(|h| text_width(text, *h, bold) <= width)
}

/// The text and the largest height up to `height` at which it is no wider than `width`; cut with
/// an ellipsis when even the smallest height is too wide.
pub(super) fn fitted(text: &str, height: f64, bold: bool, width: f64) -> (String, f64) {
    if let Some(height) = fitting(text, height, bold, width) {
        return (text.to_owned(), height);
    }
    let smallest = HEIGHTS[HEIGHTS.len() - 1];
    (shortened(text, smallest, bold, width), smallest)
}

/// The text, cut with an ellipsis when it is wider than `width`.
pub(super) fn shortened(text: &str, height: f64, bold: bool, width: f64) -> String {
    if text_width(text, height, bold) <= width {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while kept.pop().is_some() {
        let short: String = kept.iter().chain(&['…']).collect();
        if text_width(&short, height, bold) <= width {
            return short;
        }
    }
    String::new()
}
