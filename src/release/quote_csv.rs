//! `quote.csv`: what a price is made of, for the shop alone.

use super::lists::{table, text};
use crate::quote::{Quote, Row, TEN_THOUSAND};
use crate::units;

/// One row for each amount, the price last: the amounts above it add up to it. Where there is no
/// price its amount is empty and its item names what has no rate.
pub fn quote_csv(quote: &Quote) -> Vec<u8> {
    let head = ["kind", "item", "quantity", "unit", "rate", "amount", "currency", "basis"];
    let rows = quote.rows.iter().map(|row| cells(row, quote));
    table(head, rows.chain([price(quote)]))
}

fn cells(row: &Row, quote: &Quote) -> [String; 8] {
    [
        row.kind.word().to_owned(),
        text(&row.item),
        exact(row.quantity),
        row.unit.to_owned(),
        exact(row.rate),
        money(row.amount),
        text(&quote.currency),
        text(&row.basis),
    ]
}

fn price(quote: &Quote) -> [String; 8] {
    let item = match (quote.price, quote.unpriced.as_slice()) {
        (Some(_), _) => "one kit".to_owned(),
        (None, []) => "on request: the shop file has no rates".to_owned(),
        (None, ids) => format!("on request: no rate for {}", ids.join(", ")),
    };
    let amount = quote.price.map(money).unwrap_or_default();
    let empty = String::new;
    ["price".to_owned(), item, empty(), empty(), empty(), amount, text(&quote.currency), empty()]
}

fn exact(ten_thousandths: i64) -> String {
    units::number(ten_thousandths as f64 / TEN_THOUSAND as f64, 4)
}

/// Cents with a point before the last two digits.
fn money(cents: i64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}
