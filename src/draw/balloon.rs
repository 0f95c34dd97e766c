//! Item numbers in circles with leaders to the parts of an assembled view.

use super::canvas::{At, Canvas, Room, contains, grown, level, room};
use super::scale::Plot;
use super::{Align, Pen, Picture};
use crate::geom::{Point, ViewFrame};
use crate::units;

/// Radius of a balloon, mm.
const RADIUS: f64 = 3.6;
/// Height of the item number, mm.
const NUMBER: f64 = 2.5;
/// Height of a number of three characters, mm.
const LONG: f64 = 1.8;
/// Radius of the circle over what is hidden, mm.
const HIDDEN: f64 = 0.8;
/// What one inked cell under a leader costs, mm of leader.
const CROSSING: f64 = 0.3;

/// Draws a balloon for each label where it meets nothing; leaders do not cross each other. The
/// leader to what is hidden is dashed and ends in an open circle where it would be seen. How many
/// labels found no place comes back.
pub(super) fn balloons(
    canvas: &mut Canvas,
    picture: &Picture,
    plot: &Plot<ViewFrame>,
    within: &Room,
) -> usize {
    let mut leaders: Vec<[At; 2]> = Vec::new();
    for label in &picture.labels {
        let tip = plot.point(label.tip);
        let Some(middle) = best_place(canvas, &leaders, tip, within) else { continue };
        let rim = middle + (tip - middle).unit() * RADIUS;
        leaders.push([tip, middle]);
        canvas.circle(middle, RADIUS, Pen::Narrow);
        if label.hidden {
            let end = tip + (middle - tip).unit() * HIDDEN;
            canvas.line(rim, end, Pen::Hidden);
            canvas.circle(tip, HIDDEN, Pen::Narrow);
        } else {
            canvas.line(rim, tip, Pen::Narrow);
            canvas.dot(tip, 0.5);
        }
        let high = if label.text.chars().count() < 3 { NUMBER } else { LONG };
        let base = middle - Point::new(0.0, high / 2.0);
        canvas.text(level(base, high, Align::Middle, label.text.clone()));
    }
    picture.labels.len() - leaders.len()
}

/// The cheapest middle around a tip: 24 directions, growing distances, until no farther place can
/// be cheaper.
fn best_place(canvas: &Canvas, leaders: &[[At; 2]], tip: At, within: &Room) -> Option<At> {
    let ways: Vec<At> = (0..24)
        .map(|i| 15.0 * f64::from(i) + 7.5)
        .map(|direction| Point::new(units::cos_deg(direction), units::sin_deg(direction)))
        .collect();
    let mut best: Option<(f64, At)> = None;
    for ring in 0..24 {
        let distance = 9.0 + 5.0 * f64::from(ring);
        if best.is_some_and(|(least, _)| least <= distance) {
            break;
        }
        for middle in ways.iter().map(|way| tip + *way * distance) {
            let Some(cost) = cost(canvas, leaders, tip, middle, within) else { continue };
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, middle));
            }
        }
    }
    best.map(|(_, middle)| middle)
}

fn cost(canvas: &Canvas, leaders: &[[At; 2]], tip: At, middle: At, within: &Room) -> Option<f64> {
    let area = room(middle.x - RADIUS, middle.y - RADIUS, 2.0 * RADIUS, 2.0 * RADIUS);
    if !contains(within, &area) || !canvas.ink.is_free(&grown(&area, 1.0)) {
        return None;
    }
    let crossed = leaders.iter().any(|[a, b]| crosses([*a, *b], [tip, middle]));
    if crossed || canvas.words.crossings(tip, middle) > 0 {
        return None;
    }
    Some(tip.distance(middle) + CROSSING * canvas.ink.crossings(tip, middle) as f64)
}

/// Whether two lines cross.
fn crosses([a, b]: [At; 2], [c, d]: [At; 2]) -> bool {
    let side = |p: At, q: At, r: At| (q - p).cross(r - p) > 0.0;
    side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}
