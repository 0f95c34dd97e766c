//! What is etched: the strokes of the texts that `kit.json` lists, and nothing else.

use super::codes::ETCH;
use super::contour::{SAME_CONTOUR, place};
use super::desk::Desk;
use crate::draw::{lettering, lettering_width};
use crate::geom::{BlankFrame, Point};
use crate::reading::{EtchRow, PartRow};

type Run = Vec<Point<BlankFrame>>;

/// Compares strokes with texts, in their order.
pub(super) fn compare(part: &PartRow, found: &[Run], desk: &mut Desk) {
    let meant = strokes(&part.etch, false);
    let same = |(a, b): (&Run, &Run)| {
        a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.distance(*b) <= SAME_CONTOUR)
    };
    let first = meant.iter().zip(found).position(|pair| !same(pair));
    if first.is_none() && meant.len() == found.len() {
        return;
    }
    let at = first.unwrap_or(meant.len().min(found.len()));
    let at = found.get(at).or(meant.get(at)).and_then(|run| run.first());
    let at = at.map_or(String::new(), |at| format!(" at {}", place(*at)));
    let texts: Vec<&str> = part.etch.iter().map(|row| row.text.as_str()).collect();
    desk.tell(&ETCH, format!("the etching{at} does not read {}", texts.join(", ")));
}

/// The strokes of all texts of a part, each once, without points that repeat; `reflected` where the
/// blank lies face down and its texts are lettered to be read from there.
pub(super) fn strokes(etch: &[EtchRow], reflected: bool) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for row in etch {
        let middle = [lettering_width(&row.text, row.height), row.height].map(|size| size / 2.0);
        let at = Point::new(row.at[0], row.at[1]);
        for run in lettering(&row.text, row.height) {
            let side = if reflected { -1.0 } else { 1.0 };
            let shown =
                |p: Point<BlankFrame>| Point::new((p.x - middle[0]) * side, p.y - middle[1]);
            let turned = run.into_iter().map(|p| at + shown(p).turned(row.direction));
            let mut run: Run = turned.collect();
            run.dedup_by(|a, b| a.distance(*b) < 1e-7);
            if 2 <= run.len() && !runs.contains(&run) {
                runs.push(run);
            }
        }
    }
    runs
}
