//! Values and fasteners that differ.

use std::collections::{BTreeMap, BTreeSet};

use super::model::{FastenerChange, ValueChange};
use crate::reading::{FastenerRow, KitRow, ValueRow};
use crate::units::number;

/// Values that differ, by name. A number counts as the same within a billionth of itself: what
/// follows from the same sizes along another chain of sums is no change.
pub(super) fn changes(old: &KitRow, new: &KitRow) -> Vec<ValueChange> {
    let names: BTreeSet<&String> = old.values.keys().chain(new.values.keys()).collect();
    let differ = names.into_iter().filter_map(|name| {
        let (before, after) = (old.values.get(name), new.values.get(name));
        let same = before.zip(after).is_some_and(|(a, b)| same(a, b));
        (!same).then(|| ValueChange {
            name: name.clone(),
            old: before.map(shown),
            new: after.map(shown),
        })
    });
    differ.collect()
}

fn same(a: &ValueRow, b: &ValueRow) -> bool {
    match (a, b) {
        (ValueRow::Number(a), ValueRow::Number(b)) => {
            (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
        }
        (ValueRow::Flag(a), ValueRow::Flag(b)) => a == b,
        (ValueRow::Text(a), ValueRow::Text(b)) => a == b,
        _ => false,
    }
}

fn shown(value: &ValueRow) -> String {
    match value {
        ValueRow::Number(value) => number(*value, 4),
        ValueRow::Flag(true) => "yes".to_owned(),
        ValueRow::Flag(false) => "no".to_owned(),
        ValueRow::Text(text) => text.clone(),
    }
}

/// Fasteners whose count, spares or title differs, by key.
pub(super) fn fasteners(old: &KitRow, new: &KitRow) -> Vec<FastenerChange> {
    let rows = |kit: &KitRow| -> BTreeMap<String, [usize; 2]> {
        kit.fasteners.iter().map(|row| (row.id.clone(), [row.count, row.spare])).collect()
    };
    let counts = [old, new].map(rows);
    let titled = |kit: &KitRow, id: &str| {
        let row: Option<&FastenerRow> = kit.fasteners.iter().find(|row| row.id == id);
        row.map(|row| row.title.clone())
    };
    let ids: BTreeSet<&String> = counts.iter().flat_map(BTreeMap::keys).collect();
    let changed = ids.into_iter().filter_map(|id| {
        let titles = [old, new].map(|kit| titled(kit, id));
        let [before, after] = [0, 1].map(|i| counts[i].get(id).copied().unwrap_or_default());
        let same = before == after && titles[0] == titles[1];
        let [old_title, new_title] = titles;
        (!same).then(|| FastenerChange {
            id: id.clone(),
            title: new_title.or(old_title).unwrap_or_default(),
            counts: [before[0], after[0]],
            spares: [before[1], after[1]],
        })
    });
    changed.collect()
}
