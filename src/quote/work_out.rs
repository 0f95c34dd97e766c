//! From a kit and the shop's rates to its quote.

use super::money::{amount, counted, missing, share};
use super::package::package;
use super::sheet_share::{Share, shares};
use super::{Kind, Quote, Row, TEN_THOUSAND, later};
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::kit::{Kit, Part};
use crate::sheets::{Laid, Wanted};
use crate::shelf::{Rates, Shop};
use crate::spec::QuoteAsk;
use crate::units;

/// What a quote follows from. `folded` and `blanks` stand in the order of the kit's parts.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its parts folded.
    pub folded: &'a [FoldedPart],
    /// Its parts developed.
    pub blanks: &'a [Blank],
    /// The shop.
    pub shop: &'a Shop,
    /// Its sheets, with what was asked for of them, a row for each part in the order of the parts;
    /// none for a kit that is cut on sheets common to several.
    pub laid: Option<(&'a [Wanted<'a>], &'a Laid)>,
    /// What the spec says of the quote.
    pub ask: &'a QuoteAsk,
}

/// Days that a quote holds where neither spec nor shop says.
const VALID_DAYS: usize = 30;

/// Works the quote out.
pub fn work_out(subject: &Subject) -> Quote {
    let Subject { kit, folded, blanks, shop, ask, .. } = *subject;
    let rates = shop.rates.as_ref();
    let rows = rates.map_or_else(Vec::new, |rates| rows(subject, rates));
    let unpriced = rates.map_or_else(Vec::new, |rates| unpriced(kit, rates));
    let priced = rates.is_some() && unpriced.is_empty();
    let valid_days = ask.valid_days.or(rates.map(|r| r.valid_days)).unwrap_or(VALID_DAYS);
    let weighed = kit.parts.iter().zip(blanks);
    Quote {
        price: priced.then(|| rows.iter().map(|row| row.amount).sum()),
        rows,
        unpriced,
        currency: rates.map_or_else(String::new, |rates| rates.currency.clone()),
        valid_days,
        valid_until: later(&kit.date, valid_days).unwrap_or_default(),
        customer: ask.customer.clone(),
        options: ask.options.clone(),
        mass_kg: weighed.map(|(part, blank)| blank.area * kg_per_mm2(part) * pieces(part)).sum(),
        package: package(kit, folded),
    }
}

fn kg_per_mm2(part: &Part) -> f64 {
    part.thickness * part.material.density * 1e-9
}

/// How often a part stands in the kit.
pub(super) fn pieces(part: &Part) -> f64 {
    part.places.len() as f64
}

fn unpriced(kit: &Kit, rates: &Rates) -> Vec<String> {
    let mut ids: Vec<String> = Vec::new();
    for part in &kit.parts {
        let id = &part.material.id;
        if rates.per_kg(id).is_none() && !ids.contains(id) {
            ids.push(id.clone());
        }
    }
    ids
}

/// All rows: sheet, laser, bends part by part, then what is counted once.
fn rows(subject: &Subject, rates: &Rates) -> Vec<Row> {
    let Subject { kit, blanks, shop, .. } = *subject;
    let parts = || kit.parts.iter().zip(blanks);
    let mut rows: Vec<Row> = Vec::new();
    let shares = shares(subject);
    let shared = kit.parts.iter().zip(&shares);
    rows.extend(shared.filter_map(|(part, share)| material(part, share, rates)));
    rows.extend(parts().map(|(part, blank)| cutting(part, blank, shop, rates)));
    let bent = kit.parts.iter().filter(|part| !part.bends.is_empty());
    rows.extend(bent.map(|part| {
        let bends = pieces(part) * part.bends.len() as f64;
        row((Kind::Bending, &part.number), (bends, "pieces"), rates.bend, String::new())
    }));
    rows.extend(kit.fasteners.iter().map(|it| {
        let count = (it.count + it.spare) as f64;
        let basis = format!("{} of them spare", it.spare);
        row((Kind::Fasteners, &it.id), (count, "pieces"), rates.fastener, basis)
    }));
    let handling = (Kind::Handling, "handling and packing");
    rows.push(row(handling, (1.0, "order"), rates.handling, String::new()));
    closing(&mut rows, rates);
    rows
}

fn row(
    (kind, item): (Kind, &str),
    (quantity, unit): (f64, &'static str),
    rate: f64,
    basis: String,
) -> Row {
    let (quantity, rate) = (counted(quantity), counted(rate));
    let amount = amount(quantity, rate);
    Row { kind, item: item.to_owned(), quantity, unit, rate, amount, basis }
}

/// Sheet of a part, by the mass of its share.
fn material(part: &Part, share: &Share, rates: &Rates) -> Option<Row> {
    let kg = share.area * kg_per_mm2(part);
    let rate = rates.per_kg(&part.material.id)?;
    Some(row((Kind::Material, &part.number), (kg, "kg"), rate, share.basis.clone()))
}

/// The laser's time for a part: its cuts at the speed for its sheet, and its pierces.
fn cutting(part: &Part, blank: &Blank, shop: &Shop, rates: &Rates) -> Row {
    let (cut, _) = shop.laser.cutting(&part.material.id, part.thickness);
    let seconds = blank.cut_length / cut.speed + blank.pierces as f64 * cut.pierce;
    let hours = seconds * pieces(part) / 3600.0;
    let [speed, pierce] = [cut.speed, cut.pierce].map(|value| units::number(value, 2));
    let basis = format!("cut at {speed} mm/s and {pierce} s a pierce");
    row((Kind::Cutting, &part.number), (hours, "h"), rates.laser_hour, basis)
}

/// Margin and rounding. The rate of the margin is what it is taken of.
fn closing(rows: &mut Vec<Row>, rates: &Rates) {
    let sum = |rows: &[Row]| rows.iter().map(|row| row.amount).sum::<i64>();
    let before = sum(rows);
    let percent = counted(rates.margin_percent);
    rows.push(Row {
        kind: Kind::Margin,
        item: "of all before".to_owned(),
        quantity: percent,
        unit: "%",
        rate: before * (TEN_THOUSAND / 100),
        amount: share(before, percent),
        basis: String::new(),
    });
    let step = counted(rates.rounding);
    rows.push(Row {
        kind: Kind::Rounding,
        item: "up to a multiple".to_owned(),
        quantity: TEN_THOUSAND,
        unit: "order",
        rate: step,
        amount: missing(sum(rows), step / (TEN_THOUSAND / 100)),
        basis: String::new(),
    });
}
