//! What is taken from the wall, in numbers and in words.

use super::{Lines, Removed};
use crate::kit::Wall;

/// What the opening takes; lengths in the words through `length`.
pub(super) fn removed(wall: &Wall, lines: &Lines, length: &dyn Fn(f64) -> String) -> Removed {
    let half = wall.outer_flat / 2.0;
    let taken = |x: &&f64| lines.x[0] < **x + half && **x - half < lines.x[1];
    let flats = wall.outer_flat_centres.iter().filter(taken).count();
    let of = wall.outer_flat_centres.len();
    let whole = wall.ends[1] - wall.ends[0];
    let share = lines.width / whole;
    let (above, below) = (lines.below_rail[1], lines.above_rail[0]);
    let words = vec![
        format!(
            "{} of {} of wall between the posts ({:.0} %), {} high; {flats} of {of} outer flats are cut out or cut into.",
            length(lines.width),
            length(whole),
            share * 100.0,
            length(lines.height),
        ),
        top(above, lines, length),
        bottom(below, length),
        "Racking: the wall left and right of the opening must carry what the whole wall carried. \
         A licensed engineer decides on bracing, header and number of openings."
            .to_owned(),
    ];
    Removed { flats, of, share, above, below, words }
}

fn top(above: f64, lines: &Lines, length: &dyn Fn(f64) -> String) -> String {
    let span = length(lines.width);
    if above < 0.0 {
        return format!(
            "The top rail is cut: over {span} nothing carries the roof until the frame stands. Prop the roof first."
        );
    }
    format!(
        "The top rail runs on uncut, with {} of wall under it; over {span} it carries the roof's edge alone until the header is fastened.",
        length(above)
    )
}

fn bottom(below: f64, length: &dyn Fn(f64) -> String) -> String {
    if below < 0.0 {
        return "The bottom rail is cut: the floor's edge loses its beam. Not without an engineer's drawing.".to_owned();
    }
    if below < 0.05 {
        return "The bottom rail runs on uncut; the wall is cut off down to it.".to_owned();
    }
    format!("The bottom rail runs on uncut; {} of wall stay standing on it.", length(below))
}
