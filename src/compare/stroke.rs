//! What changed at the brake: order of strokes, tools, angles to set, stops.

use super::SAME;
use super::shelf::Laid;
use super::words::{Words, spoken};
use crate::reading::StrokeRow;
use crate::units::number;

/// What the brake sheet says otherwise; nothing where either revision knows no order of strokes.
/// Stops follow from the blank and are told only where its bends stayed.
pub(super) fn sentences(laid: &Laid<'_, '_>, words: Words) -> Vec<String> {
    let (old, new) = (laid.old.row, laid.new.row);
    let stops = !laid.drawn_otherwise();
    let (Some(a), Some(b)) = (&old.brake, &new.brake) else { return Vec::new() };
    let order =
        |strokes: &[StrokeRow]| strokes.iter().map(bends).collect::<Vec<String>>().join(", then ");
    let [before, after] = [order(&a.steps), order(&b.steps)];
    if before != after {
        return vec![format!("at the brake: {after}; was {before}")];
    }
    let strokes = a.steps.iter().zip(&b.steps).enumerate();
    let told = strokes.filter_map(|(i, (a, b))| {
        let mut changes = changes(a, b);
        changes.extend(stops.then(|| stop(a, b, words)).flatten());
        let head = format!("stroke {} at the brake ({})", i + 1, bends(b));
        (!changes.is_empty()).then(|| format!("{head}: {}", changes.join(", ")))
    });
    told.collect()
}

fn bends(stroke: &StrokeRow) -> String {
    stroke.bends.iter().map(|name| spoken(name)).collect::<Vec<_>>().join(" with ")
}

fn changes(a: &StrokeRow, b: &StrokeRow) -> Vec<String> {
    let mut all = Vec::new();
    for (what, a, b) in [("punch", &a.punch, &b.punch), ("die", &a.die, &b.die)] {
        if a.name != b.name {
            all.push(format!("{what} {} to {}", a.name, b.name));
        }
    }
    if (a.angle_set - b.angle_set).abs() > SAME {
        all.push(format!(
            "angle to set {}° to {}°",
            number(a.angle_set, 2),
            number(b.angle_set, 2)
        ));
    }
    if a.side_up != b.side_up {
        all.push(format!("{} side up, was {}", b.side_up, a.side_up));
    }
    if a.gauge_side != b.gauge_side {
        all.push("the other side at the stop".to_owned());
    }
    all
}

fn stop(a: &StrokeRow, b: &StrokeRow, words: Words) -> Option<String> {
    let named = |it: &StrokeRow| match &it.stop {
        Some(stop) => format!("{} to {}", words.length(stop.distance), spoken(&stop.face)),
        None => "none".to_owned(),
    };
    let [before, after] = [named(a), named(b)];
    (before != after).then(|| format!("stop {after}, was {before}"))
}
