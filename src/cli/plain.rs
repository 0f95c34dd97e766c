//! Text from outside made harmless for a terminal: no control character and no character that
//! turns the direction of reading gets through.

/// What stands for a character that is not shown.
const HIDDEN: char = '\u{fffd}';

/// One line of text: every control character, line ends included, is replaced.
pub(crate) fn line(text: &str) -> String {
    text.chars().map(|c| if is_hostile(c) { HIDDEN } else { c }).collect()
}

/// Several lines: as `line`, but line feeds stay.
pub(crate) fn lines(text: &str) -> String {
    text.chars().map(|c| if c != '\n' && is_hostile(c) { HIDDEN } else { c }).collect()
}

/// A line of the user's text with every replaced character taking as many bytes as before, so that
/// places in it stay true. Tabs stay.
pub(crate) fn excerpt(text: &str) -> String {
    let same_bytes = |c: char| match c.len_utf8() {
        1 => '?',
        2 => '\u{b7}',
        _ => HIDDEN,
    };
    text.chars().map(|c| if c != '\t' && is_hostile(c) { same_bytes(c) } else { c }).collect()
}

/// JSON text in which such characters are escaped; they occur inside strings alone.
pub(crate) fn json(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        if c != '\n' && is_hostile(c) {
            escaped.push_str(&format!("\\u{:04x}", u32::from(c)));
        } else {
            escaped.push(c);
        }
    }
    escaped
}

/// Control characters of both ranges, and marks that reorder or separate lines unseen. All of them
/// lie in the first plane and take at most three bytes.
fn is_hostile(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}')
        || matches!(c, '\u{61c}' | '\u{feff}')
}
