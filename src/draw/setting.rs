//! Setting of type: lines broken to a width, and texts made to fit a cell.

use super::text::text_width;

/// Text heights that may stand in for a larger one, largest first (ISO 3098).
const HEIGHTS: [f64; 4] = [5.0, 3.5, 2.5, 1.8];

/// The words of a text in lines no wider than `width` mm; a word wider than that is cut.
pub(super) fn wrapped(text: &str, height: f64, width: f64) -> Vec<String> {
    let space = text_width(" ", height, false);
    let mut lines = Vec::new();
    let (mut line, mut used) = (String::new(), 0.0);
    for word in text.split_whitespace() {
        let word = shortened(word, height, false, width);
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

/// The text and the largest height up to `height` at which it is no wider than `width`; cut with
/// an ellipsis when even the smallest height is too wide.
pub(super) fn fitted(text: &str, height: f64, bold: bool, width: f64) -> (String, f64) {
    let smaller = HEIGHTS.iter().copied().filter(|h| *h <= height);
    for height in smaller {
        if text_width(text, height, bold) <= width {
            return (text.to_owned(), height);
        }
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
