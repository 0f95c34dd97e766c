//! Leaders: a text placed where there is room, with a line to what it speaks of.

use super::super::canvas::{At, Canvas, Room, contains, grown, level, text_room};
use super::super::text::text_width;
use super::super::{Align, Pen, Text};
use super::{FIGURE, arrow};
use crate::geom::Point;
use crate::units;

/// A text with a leader.
#[derive(Debug, Clone)]
pub(in crate::draw) struct Callout {
    /// The text.
    pub(in crate::draw) text: String,
    /// What it speaks of, on the paper.
    pub(in crate::draw) target: At,
    /// Distance from the target at which the leader ends: a hole's radius; 0 for a point.
    pub(in crate::draw) radius: f64,
    /// The text and its leader stay in here.
    pub(in crate::draw) within: Room,
}

/// Length of the level part of the leader beside the text.
const SHOULDER: f64 = 2.0;
/// Free paper around the text.
const MARGIN: f64 = 0.6;
/// What one inked cell under the leader costs, in mm of leader.
const CROSSING: f64 = 0.6;

/// A place for the text: where the leader bends, which way its shoulder goes, and the cost.
struct Place {
    knee: At,
    right: bool,
    cost: f64,
}

/// Draws the callout at the best place found by a fixed search around the target; false, and
/// nothing drawn, when there is no free place.
pub(in crate::draw) fn callout(canvas: &mut Canvas, wish: &Callout) -> bool {
    let width = text_width(&wish.text, FIGURE, false);
    let (ways, mut best) = (ways(), None::<Place>);
    for ring in 0..10 {
        let distance = wish.radius + 5.0 + 4.5 * f64::from(ring);
        if best.as_ref().is_some_and(|b| b.cost < distance) {
            break;
        }
        for way in &ways {
            let knee = (wish.target + *way * distance, way.x > 0.0);
            let Some(place) = judged(canvas, wish, width, knee) else { continue };
            if best.as_ref().is_none_or(|b| place.cost < b.cost) {
                best = Some(place);
            }
        }
    }
    let Some(place) = best else { return false };
    draw(canvas, wish, width, &place);
    true
}

/// Directions from the target to a knee, the steepness ISO 129 likes first.
fn ways() -> [At; 16] {
    const DIRECTIONS: [f64; 16] = [
        60.0, 45.0, 120.0, 135.0, -60.0, -45.0, -120.0, -135.0, 30.0, 150.0, -30.0, -150.0, 75.0,
        105.0, -75.0, -105.0,
    ];
    DIRECTIONS.map(|direction| Point::new(units::cos_deg(direction), units::sin_deg(direction)))
}

/// The place with its cost; none where the text has no room or the leader meets a text.
fn judged(canvas: &Canvas, wish: &Callout, width: f64, place: (At, bool)) -> Option<Place> {
    let (knee, right) = place;
    let area = grown(&text_room(&words(knee, right, &wish.text)), MARGIN);
    let end = shoulder_end(knee, right, width);
    let start = tip(wish, knee);
    let inside = contains(&wish.within, &area) && canvas.words.is_free(&around(start));
    // Half an arrow head on each side of the line.
    let aside = (knee - start).unit().left() * 0.5;
    let meets = |by: At| canvas.words.crossings(start + by, knee + by) > 0;
    if !inside || !canvas.ink.is_free(&area) || meets(aside) || meets(-aside) {
        return None;
    }
    if canvas.words.crossings(start, knee) + canvas.words.crossings(knee, end) > 0 {
        return None;
    }
    let inked = canvas.ink.crossings(start, knee) + canvas.ink.crossings(knee, end);
    Some(Place { knee, right, cost: start.distance(knee) + CROSSING * inked as f64 })
}

fn draw(canvas: &mut Canvas, wish: &Callout, width: f64, place: &Place) {
    let tip = tip(wish, place.knee);
    let end = shoulder_end(place.knee, place.right, width);
    canvas.text(words(place.knee, place.right, &wish.text));
    canvas.run(vec![tip, place.knee, end], Pen::Narrow);
    if wish.radius > 0.0 {
        arrow(canvas, tip, (tip - place.knee).unit());
    } else {
        canvas.dot(tip, 0.5);
    }
}

/// The text stands on the leader's level part.
fn words(knee: At, right: bool, text: &str) -> Text {
    let (side, align) = if right { (1.0, Align::Left) } else { (-1.0, Align::Right) };
    level(knee + Point::new(side * SHOULDER, 1.1), FIGURE, align, text)
}

/// What the dot or arrow head at a leader's tip takes.
fn around(tip: At) -> Room {
    grown(&Room { low: tip, high: tip }, 0.8)
}

fn shoulder_end(knee: At, right: bool, width: f64) -> At {
    let reach = SHOULDER + width;
    knee + Point::new(if right { reach } else { -reach }, 0.0)
}

fn tip(wish: &Callout, knee: At) -> At {
    wish.target + (knee - wish.target).unit() * wish.radius
}
