//! A comparison in tables and sentences.

use super::super::block::{Block, column, figures, sentences};
use crate::compare::{Comparison, Judgement, PartChange, State, Verdict};

/// The tables of the whole comparison.
pub(super) fn blocks(comparison: &Comparison) -> Vec<Block> {
    let mut blocks = vec![parts(comparison)];
    blocks.extend(shelf(comparison));
    if !comparison.fasteners.is_empty() {
        blocks.push(fasteners(comparison));
    }
    if !comparison.values.is_empty() {
        blocks.push(values(comparison));
    }
    blocks
}

/// What changed about one part, and what its old pieces are good for.
pub(super) fn of_part(part: &PartChange) -> Vec<Block> {
    let mut blocks = vec![Block::Prose("What changed", part.changes.clone())];
    if let Some(shelf) = &part.shelf {
        let lines = if shelf.flat == shelf.folded {
            vec![("Flat or folded", &shelf.flat)]
        } else {
            vec![("Cut, still flat", &shelf.flat), ("Folded", &shelf.folded)]
        };
        let lines = lines.iter().map(|(what, it)| format!("{what}: {}.", judged(it)));
        blocks.push(Block::Prose("Old pieces on the shelf", lines.collect()));
    }
    blocks
}

fn parts(comparison: &Comparison) -> Block {
    let rows = comparison.parts.iter().filter_map(|part| {
        let named = part.named()?;
        let mut words = part.changes.join("; ");
        if words.is_empty() && part.state == State::Unchanged {
            words = "keeps number and revision".to_owned();
        }
        Some(vec![
            named.number.clone(),
            named.title.clone(),
            named.quantity.to_string(),
            part.state.word().to_owned(),
            words,
        ])
    });
    let columns = vec![
        column("Number", 34.0),
        column("Name", 46.0),
        figures("Qty", 12.0),
        column("State", 22.0),
        sentences("What changed", 250.0),
    ];
    Block::Table("Parts", columns, rows.collect())
}

fn shelf(comparison: &Comparison) -> Option<Block> {
    let rows: Vec<Vec<String>> = comparison
        .parts
        .iter()
        .filter_map(|part| {
            let named = part.named()?;
            let (flat, folded) = match &part.shelf {
                Some(shelf) if shelf.flat == shelf.folded => {
                    (judged(&shelf.flat), "the same".to_owned())
                }
                Some(shelf) => (judged(&shelf.flat), judged(&shelf.folded)),
                None if part.state == State::Gone => {
                    let words = "not used any more".to_owned();
                    (words.clone(), words)
                }
                None => return None,
            };
            let number = part.old.as_ref().map_or(&named.number, |old| &old.number);
            Some(vec![number.clone(), named.title.clone(), flat, folded])
        })
        .collect();
    let columns = vec![
        column("Old piece", 34.0),
        column("Name", 46.0),
        sentences("Cut, still flat", 140.0),
        sentences("Folded", 140.0),
    ];
    (!rows.is_empty()).then_some(Block::Table("What lies on the shelf", columns, rows))
}

fn judged(judgement: &Judgement) -> String {
    let word = match judgement.verdict {
        Verdict::Good => "good as it is",
        Verdict::Rework => "rework",
        Verdict::Scrap => "scrap",
    };
    if judgement.reasons.is_empty() {
        word.to_owned()
    } else {
        format!("{word}: {}", judgement.reasons.join("; "))
    }
}

fn fasteners(comparison: &Comparison) -> Block {
    let rows = comparison.fasteners.iter().map(|it| {
        let count = |i: usize| format!("{} + {}", it.counts[i], it.spares[i]);
        vec![it.title.clone(), count(0), count(1)]
    });
    let columns = vec![
        sentences("Fastener", 220.0),
        figures("Old count + spare", 40.0),
        figures("New", 40.0),
    ];
    Block::Table("Fasteners", columns, rows.collect())
}

fn values(comparison: &Comparison) -> Block {
    let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "not there".to_owned());
    let rows = comparison.values.iter();
    let rows = rows.map(|it| vec![it.name.clone(), side(&it.old), side(&it.new)]).collect();
    let columns = vec![column("Value", 120.0), figures("Old", 60.0), figures("New", 60.0)];
    Block::Table("Values, in millimetres and degrees", columns, rows)
}
