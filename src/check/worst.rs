//! One finding for many holes of one face: the worst is told, the others are counted.

/// A hole that breaks a limit.
pub(super) struct Broken {
    /// What was found.
    pub(super) found: f64,
    /// The limit.
    pub(super) limit: f64,
    /// The hole's id.
    pub(super) hole: String,
}

/// The hole that falls shortest, and a text that names it and counts the others.
pub(super) fn worst(broken: Vec<Broken>) -> Option<(Broken, String)> {
    let count = broken.len();
    let worst =
        broken.into_iter().min_by(|a, b| (a.found - a.limit).total_cmp(&(b.found - b.limit)))?;
    let text = match count {
        1 => worst.hole.clone(),
        2 => format!("{} and 1 more", worst.hole),
        _ => format!("{} and {} more", worst.hole, count - 1),
    };
    Some((worst, text))
}
