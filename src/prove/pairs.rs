//! Code pairs: the lines that a DXF file is made of, read.

/// A group code with its value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair<'a> {
    /// The group code.
    pub(super) code: u16,
    /// The value's text as it stands.
    pub(super) value: &'a str,
    /// The line of the value, from 1.
    pub(super) line: usize,
}

impl Pair<'_> {
    /// The value as a number, or a sentence that says that it is none.
    pub(super) fn number(&self) -> Result<f64, String> {
        let number = self.value.trim().parse::<f64>().ok().filter(|number| number.is_finite());
        number.ok_or_else(|| format!("line {}: `{}` is no number", self.line, self.value.trim()))
    }
}

/// All pairs of a file, or a sentence that says where it breaks.
pub(super) fn pairs(bytes: &[u8]) -> Result<Vec<Pair<'_>>, String> {
    let text = str::from_utf8(bytes).map_err(|_| "is not text".to_owned())?;
    let mut pairs = Vec::with_capacity(text.len() / 10);
    let mut lines = text.lines();
    while let Some(code) = lines.next() {
        let line = 2 * pairs.len() + 2;
        let code = code.trim().parse();
        let code = code.map_err(|_| format!("line {}: a group code is meant here", line - 1))?;
        let value = lines.next().ok_or_else(|| format!("breaks off at line {}", line - 1))?;
        pairs.push(Pair { code, value, line });
    }
    Ok(pairs)
}
