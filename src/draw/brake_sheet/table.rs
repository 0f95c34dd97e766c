//! What the operator sets, as a table and in sentences.

use super::super::block::{Block, column, figures as figure_column};
use super::super::figure::{Figures, degrees, fixed, spoken};
use crate::brake::{Handling, Plan, Step};
use crate::kit::{Part, Side};

/// One row a stroke.
pub(super) fn table(part: &Part, steps: &[Step], figures: Figures) -> Block {
    let columns = vec![
        figure_column("Stroke", 13.0),
        column("Bend", 40.0),
        column("Side up", 17.0),
        column("Before it", 30.0),
        column("Die", 22.0),
        column("Punch", 30.0),
        figure_column("Bend", 14.0),
        figure_column("Set to", 16.0),
        figure_column("Stop", 18.0),
        figure_column("Length", 20.0),
        figure_column("Force kN", 16.0),
    ];
    Block::Table("Strokes", columns, steps.iter().map(|step| row(part, step, figures)).collect())
}

fn row(part: &Part, step: &Step, figures: Figures) -> Vec<String> {
    vec![
        step.number.to_string(),
        bends(part, step),
        side(step.side_up).to_owned(),
        handling(step),
        step.die.name.clone(),
        step.punch.name.clone(),
        degrees(step.angle),
        degrees((step.angle_set * 10.0).round() / 10.0),
        step.stop.as_ref().map_or("by hand".to_owned(), |stop| figures.place(stop.distance)),
        figures.place(step.length),
        fixed(step.force / 1000.0, 0),
    ]
}

/// The bends of a stroke by their numbers in the part's bend table: `B2`, `B3 B4`, `B5–B12`.
pub(super) fn bends(part: &Part, step: &Step) -> String {
    let numbers: Vec<usize> = step.bends.iter().map(|bend| bend + 1).collect();
    let run = numbers.windows(2).all(|two| two[1] == two[0] + 1);
    match numbers[..] {
        [] => String::new(),
        [one] => format!("B{one} {}", spoken(&part.bends[one - 1].name)),
        [first, .., last] if run && numbers.len() > 2 => format!("B{first} to B{last}"),
        _ => numbers.iter().map(|n| format!("B{n}")).collect::<Vec<_>>().join(" "),
    }
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Upper => "upper",
        Side::Under => "under",
    }
}

/// What is done with the part before a stroke, in words.
pub(super) fn handling(step: &Step) -> String {
    let Handling { flipped, turned } = step.handling;
    let turn = match turned {
        0 => None,
        180 => Some("turn round".to_owned()),
        angle if angle < 180 => Some(format!("turn {angle}° left")),
        angle => Some(format!("turn {}° right", 360 - angle)),
    };
    match (flipped, turn) {
        (true, Some(turn)) => format!("flip, {turn}"),
        (true, None) => "flip".to_owned(),
        (false, Some(turn)) => turn,
        (false, None) if step.number == 1 => "lay on".to_owned(),
        (false, None) => "push on".to_owned(),
    }
}

/// What holds for all strokes, and the cautions of the machine.
pub(super) fn notes(plan: &Plan) -> Block {
    let mut notes = Vec::new();
    let count =
        |n: usize, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
    notes.push(format!(
        "{}, {}, {}. Upper side: the one with the etched number, up on the laser bed.",
        count(plan.flips, "flip", "flips"),
        count(plan.turns, "turn", "turns"),
        count(plan.tool_changes, "tool change", "tool changes")
    ));
    if let Some(step) = plan.steps.first() {
        let sources = format!("{}; force: {}", step.springback_source, step.force_source);
        notes.push(format!(
            "Set to: angle under load, with springback ({sources}). Bend one, measure, correct."
        ));
    }
    notes.push(
        "Stop: from the bending line to the back gauge. Guards in place, hands clear of tools and of the swinging legs; long parts: two people."
            .to_owned(),
    );
    Block::Prose("Notes", notes)
}
