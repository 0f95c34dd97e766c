//! A comparison as lines for the terminal.

use std::fmt::Write;

use super::model::{Comparison, Judgement, OnShelf, PartChange, State};

/// The whole comparison as text, one line a fact, ending with a newline.
pub fn as_text(comparison: &Comparison) -> String {
    let mut out = String::new();
    let [old, new] = &comparison.heads;
    let mut line = |text: &str| writeln!(out, "{text}").is_ok();
    line(&format!(
        "{} revision {} to {} revision {}",
        old.kit, old.revision, new.kit, new.revision
    ));
    if !comparison.values.is_empty() {
        line("values:");
    }
    for value in &comparison.values {
        let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "not there".to_owned());
        line(&format!("  {}: {} to {}", value.name, side(&value.old), side(&value.new)));
    }
    for state in [State::Added, State::Gone, State::Changed, State::Unchanged] {
        let parts: Vec<_> = comparison.parts.iter().filter(|part| part.state == state).collect();
        if !parts.is_empty() {
            line(&format!("{}:", state.word()));
        }
        parts.into_iter().flat_map(part_lines).for_each(|text| {
            line(&text);
        });
    }
    if !comparison.fasteners.is_empty() {
        line("fasteners:");
    }
    for it in &comparison.fasteners {
        let ([a, b], [c, d]) = (it.counts, it.spares);
        line(&format!("  {}: {a} and {c} spare to {b} and {d} spare, {}", it.id, it.title));
    }
    out
}

fn part_lines(part: &PartChange) -> Vec<String> {
    let Some(named) = part.named() else { return Vec::new() };
    let mut lines = vec![format!("  {} {}", named.number, named.title)];
    lines.extend(part.changes.iter().map(|change| format!("    {change}")));
    if let Some(OnShelf { flat, folded }) =
        part.shelf.as_ref().filter(|_| part.state == State::Changed)
    {
        if flat == folded {
            lines.push(format!("    on the shelf, flat or folded: {}", judged(flat)));
        } else {
            lines.push(format!("    on the shelf, flat: {}", judged(flat)));
            lines.push(format!("    on the shelf, folded: {}", judged(folded)));
        }
    }
    lines
}

fn judged(judgement: &Judgement) -> String {
    let word = judgement.verdict.word();
    if judgement.reasons.is_empty() {
        word.to_owned()
    } else {
        format!("{word}: {}", judgement.reasons.join("; "))
    }
}
