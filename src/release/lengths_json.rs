//! Bought profile and how it is cut, for `kit.json` and `cutting.csv`.

use serde::Serialize;

use super::json::Number;
use super::lists::{number, table, text};
use crate::kit::{Kit, Lengths};

#[derive(Serialize)]
pub(super) struct LengthsJson<'a> {
    title: &'a str,
    kerf: Number,
    pieces: Vec<PieceJson<'a>>,
    bars: Vec<BarJson<'a>>,
    total: Number,
    bound: Number,
    proven: bool,
}

#[derive(Serialize)]
struct PieceJson<'a> {
    title: &'a str,
    length: Number,
    count: usize,
}

#[derive(Serialize)]
struct BarJson<'a> {
    stock: Number,
    cuts: &'a [usize],
    rest: Number,
}

pub(super) fn lengths_json(lengths: &Lengths) -> LengthsJson<'_> {
    let plan = &lengths.plan;
    LengthsJson {
        title: &lengths.title,
        kerf: Number(plan.kerf),
        pieces: plan
            .pieces
            .iter()
            .map(|p| PieceJson { title: &p.title, length: Number(p.length), count: p.count })
            .collect(),
        bars: plan
            .bars
            .iter()
            .map(|b| BarJson { stock: Number(b.stock), cuts: &b.cuts, rest: Number(b.rest) })
            .collect(),
        total: Number(plan.total),
        bound: Number(plan.bound),
        proven: plan.proven,
    }
}

/// `cutting.csv`: one row for each bar.
pub fn cutting_csv(kit: &Kit) -> Vec<u8> {
    let head = ["profile", "bar", "stock_mm", "cuts", "rest_mm", "kerf_mm"];
    let rows = kit.lengths.iter().flat_map(|lengths| {
        let plan = &lengths.plan;
        plan.bars.iter().enumerate().map(move |(i, bar)| {
            let made = bar.cuts.iter().zip(&plan.pieces).filter(|(n, _)| **n > 0);
            let cuts = made.map(|(n, p)| format!("{n} x {} {}", p.title, number(p.length)));
            [
                text(&lengths.title),
                (i + 1).to_string(),
                number(bar.stock),
                text(&cuts.collect::<Vec<_>>().join("; ")),
                number(bar.rest),
                number(plan.kerf),
            ]
        })
    });
    table(head, rows)
}
