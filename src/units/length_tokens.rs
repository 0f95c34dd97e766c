//! The pieces of a typed quantity.

/// One piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Token<'t> {
    /// Digits, perhaps with a decimal point.
    Number(f64),
    /// `/`.
    Slash,
    /// `-`.
    Dash,
    /// A unit.
    Word(&'t str),
}

/// Cuts a text into pieces; the error says what cannot stand in a quantity.
pub(super) fn tokens(text: &str) -> Result<Vec<Token<'_>>, String> {
    let mut rest = text.trim();
    let mut tokens = Vec::new();
    if rest.is_empty() {
        return Err("is empty".to_owned());
    }
    while let Some(next) = rest.chars().next() {
        let (token, length) = match next {
            '0'..='9' | '.' => number(rest)?,
            '/' => (Token::Slash, 1),
            '-' => (Token::Dash, 1),
            '"' | '\'' | '°' => (Token::Word(&rest[..next.len_utf8()]), next.len_utf8()),
            'a'..='z' | 'A'..='Z' => word(rest),
            ',' => return Err("holds a comma; decimals take a point".to_owned()),
            other => return Err(format!("holds `{}`", other.escape_default())),
        };
        tokens.push(token);
        rest = rest[length..].trim_start_matches([' ', '\t', '\u{a0}']);
    }
    Ok(tokens)
}

fn number(rest: &str) -> Result<(Token<'_>, usize), String> {
    let length = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    let digits = &rest[..length];
    if digits.ends_with('.') || digits.matches('.').count() > 1 || length > 40 {
        return Err("holds a number that cannot be read".to_owned());
    }
    match digits.parse::<f64>() {
        Ok(value) => Ok((Token::Number(value), length)),
        Err(_) => Err("holds a number that cannot be read".to_owned()),
    }
}

fn word(rest: &str) -> (Token<'_>, usize) {
    let length = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
    (Token::Word(&rest[..length]), length)
}
