//! How a part is made, beside its shape: its sheet, how it may lie, what it is measured by, and
//! what is written on its drawing.

use super::piece::Piece;
use super::words::Words;
use crate::reading::PartRow;
use crate::units::number;

/// What changed, in words.
pub(super) fn sentences(old: &Piece<'_>, new: &Piece<'_>, words: Words) -> Vec<String> {
    let (a, b) = (old.row, new.row);
    let mut all = Vec::new();
    all.extend(from_to("title", &a.title, &b.title));
    all.extend(from_to("hand", hand(a), hand(b)));
    if a.material_id != b.material_id || a.material != b.material {
        all.push(format!("material {} to {}", material(a, b), material(b, a)));
    }
    if a.thickness != b.thickness {
        all.push(format!("sheet {} to {}", words.size(a.thickness), words.length(b.thickness)));
    }
    all.extend(from_to("gauge", or_none(&a.gauge), or_none(&b.gauge)));
    if a.density != b.density {
        let [from, to] = [a, b].map(|row| number(row.density, 3));
        all.push(format!("density {from} to {to} kg/m³"));
    }
    all.extend(lie(a, b).map(str::to_owned));
    all.extend(from_to("general tolerance", or_none(old.tolerance), or_none(new.tolerance)));
    all.extend(written("remark", &a.remarks, &b.remarks));
    all.extend(written("relation", &a.relations, &b.relations));
    all
}

fn from_to(what: &str, from: &str, to: &str) -> Option<String> {
    (from != to).then(|| format!("{what} {from} to {to}"))
}

fn or_none(text: &str) -> &str {
    if text.is_empty() { "none" } else { text }
}

fn hand(row: &PartRow) -> &str {
    or_none(row.hand.as_deref().unwrap_or_default())
}

/// A material as printed; with its key where both are printed alike.
fn material(own: &PartRow, other: &PartRow) -> String {
    let (title, id) = (&own.material, &own.material_id);
    if own.material == other.material { format!("{title} ({id})") } else { title.clone() }
}

/// How it may lie on the sheet.
fn lie(a: &PartRow, b: &PartRow) -> impl Iterator<Item = &'static str> {
    let grain = match (a.grain, b.grain) {
        (false, true) => Some("now keeps to the grain of the sheet"),
        (true, false) => Some("no longer keeps to the grain of the sheet"),
        _ => None,
    };
    let mirror = match (a.mirror, b.mirror) {
        (false, true) => Some("may now lie face down on the sheet"),
        (true, false) => Some("may no longer lie face down on the sheet"),
        _ => None,
    };
    grain.into_iter().chain(mirror)
}

/// Sentences of the drawing that came or went.
fn written(what: &str, old: &[String], new: &[String]) -> Vec<String> {
    let only = |own: &[String], other: &[String], how: &str| -> Vec<String> {
        let lone = own.iter().filter(|text| !other.contains(text));
        lone.map(|text| format!("{what} {how}: {}", text.trim_end_matches('.'))).collect()
    };
    [only(old, new, "gone"), only(new, old, "added")].concat()
}

/// Amendments that came or were taken back, with their reasons.
pub(super) fn amended(old: &Piece<'_>, new: &Piece<'_>) -> Vec<String> {
    let told = |piece: &Piece<'_>| -> Vec<String> {
        let rows = piece.amendments.iter();
        rows.map(|it| format!("of {}: {} ({})", it.revision, it.text, it.reason)).collect()
    };
    let [before, after] = [old, new].map(told);
    let only = |own: &[String], other: &[String], how: &str| -> Vec<String> {
        let lone = own.iter().filter(|text| !other.contains(text));
        lone.map(|text| format!("amendment {how}{text}")).collect()
    };
    [only(&before, &after, "taken back, "), only(&after, &before, "")].concat()
}

/// What speaks against the old piece's sheet; none where it is the same metal.
pub(super) fn other_sheet(a: &PartRow, b: &PartRow) -> Option<String> {
    (a.material_id != b.material_id || a.thickness != b.thickness)
        .then(|| format!("another sheet: {} to {}", stock(a), stock(b)))
}

fn stock(row: &PartRow) -> String {
    let gauge = if row.gauge.is_empty() { String::new() } else { format!(" ({})", row.gauge) };
    format!("{} {} mm{gauge}", row.material, number(row.thickness, 3))
}

/// What has to be looked up or measured before an old piece may be used.
pub(super) fn looked_up(old: &Piece<'_>, new: &Piece<'_>) -> Vec<String> {
    let (a, b) = (old.row, new.row);
    let mut all = Vec::new();
    if a.material != b.material {
        let both = format!("{}, now {}", a.material, b.material);
        all.push(format!("make sure that its sheet is what is asked for: {both}"));
    }
    if !a.grain && b.grain {
        all.push("keep only what was cut along the grain".to_owned());
    }
    if a.mirror && !b.mirror {
        all.push("keep only what was cut face up".to_owned());
    }
    if old.tolerance != new.tolerance {
        let (from, to) = (or_none(old.tolerance), or_none(new.tolerance));
        all.push(format!("measure: made to {from}, {to} is asked for"));
    }
    all
}
