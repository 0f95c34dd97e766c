//! A comparison of two revisions for machines, in the format `blankwright-changes/1`.

use serde::Serialize;

use super::json;
use crate::compare::{Comparison, Head, Judgement, Named, PartChange};

/// Comparisons as one JSON array, ending with a newline.
pub fn changes_json(all: &[Comparison]) -> Vec<u8> {
    json::to_bytes(&all.iter().map(changes).collect::<Vec<_>>())
}

/// One comparison as a file of its own.
pub fn change_json(comparison: &Comparison) -> Vec<u8> {
    json::to_bytes(&changes(comparison))
}

#[derive(Serialize)]
struct ChangesJson<'a> {
    format: &'static str,
    old: HeadJson<'a>,
    new: HeadJson<'a>,
    values: Vec<ValueJson<'a>>,
    parts: Vec<PartJson<'a>>,
    fasteners: Vec<FastenerJson<'a>>,
}

#[derive(Serialize)]
struct HeadJson<'a> {
    kit: &'a str,
    title: &'a str,
    revision: &'a str,
    date: &'a str,
}

#[derive(Serialize)]
struct ValueJson<'a> {
    name: &'a str,
    old: Option<&'a str>,
    new: Option<&'a str>,
}

#[derive(Serialize)]
struct PartJson<'a> {
    state: &'static str,
    old: Option<NamedJson<'a>>,
    new: Option<NamedJson<'a>>,
    changes: &'a [String],
    shelf: Option<ShelfJson<'a>>,
}

#[derive(Serialize)]
struct NamedJson<'a> {
    number: &'a str,
    name: &'a str,
    title: &'a str,
    quantity: usize,
}

#[derive(Serialize)]
struct ShelfJson<'a> {
    flat: JudgementJson<'a>,
    folded: JudgementJson<'a>,
}

#[derive(Serialize)]
struct JudgementJson<'a> {
    verdict: &'static str,
    reasons: &'a [String],
}

#[derive(Serialize)]
struct FastenerJson<'a> {
    id: &'a str,
    title: &'a str,
    old_count: usize,
    new_count: usize,
    old_spare: usize,
    new_spare: usize,
}

fn changes(comparison: &Comparison) -> ChangesJson<'_> {
    let [old, new] = &comparison.heads;
    ChangesJson {
        format: "blankwright-changes/1",
        old: head(old),
        new: head(new),
        values: comparison
            .values
            .iter()
            .map(|it| ValueJson { name: &it.name, old: it.old.as_deref(), new: it.new.as_deref() })
            .collect(),
        parts: comparison.parts.iter().map(part).collect(),
        fasteners: comparison
            .fasteners
            .iter()
            .map(|it| FastenerJson {
                id: &it.id,
                title: &it.title,
                old_count: it.counts[0],
                new_count: it.counts[1],
                old_spare: it.spares[0],
                new_spare: it.spares[1],
            })
            .collect(),
    }
}

fn head(head: &Head) -> HeadJson<'_> {
    HeadJson { kit: &head.kit, title: &head.title, revision: &head.revision, date: &head.date }
}

fn part(part: &PartChange) -> PartJson<'_> {
    PartJson {
        state: part.state.word(),
        old: part.old.as_ref().map(named),
        new: part.new.as_ref().map(named),
        changes: &part.changes,
        shelf: part
            .shelf
            .as_ref()
            .map(|it| ShelfJson { flat: judgement(&it.flat), folded: judgement(&it.folded) }),
    }
}

fn named(it: &Named) -> NamedJson<'_> {
    NamedJson { number: &it.number, name: &it.name, title: &it.title, quantity: it.quantity }
}

fn judgement(it: &Judgement) -> JudgementJson<'_> {
    JudgementJson { verdict: it.verdict.word(), reasons: &it.reasons }
}
