//! A picture cut off at an upright rectangle.

use super::ring::Dot;
use crate::draw::{Area, Picture, Stroke};
use crate::geom::{Bounds, Path, ViewFrame};

/// The sides of a rectangle: whether a point lies on the inner side, and where a line crosses it.
const SIDES: [Side; 4] = [Side::Left, Side::Right, Side::Below, Side::Above];

#[derive(Debug, Clone, Copy)]
enum Side {
    Left,
    Right,
    Below,
    Above,
}

impl Side {
    /// How far inside a point lies; negative outside.
    fn inside(self, frame: &Bounds<ViewFrame>, p: Dot) -> f64 {
        match self {
            Side::Left => p.x - frame.low.x,
            Side::Right => frame.high.x - p.x,
            Side::Below => p.y - frame.low.y,
            Side::Above => frame.high.y - p.y,
        }
    }
}

/// Leaves of a picture what lies in a frame; its bounds become those of what is left.
pub(super) fn clip(picture: &mut Picture, frame: &Bounds<ViewFrame>) {
    let mut left = Picture::empty();
    for Area { outlines, fill } in &picture.areas {
        let outlines: Vec<Path<ViewFrame>> =
            outlines.iter().filter_map(|o| outline(o, frame)).collect();
        if !outlines.is_empty() {
            left.area(outlines, *fill);
        }
    }
    for Stroke { line, pen } in &picture.strokes {
        for run in runs(line, frame) {
            left.stroke(run, *pen);
        }
    }
    *picture = left;
}

/// A polygon cut side by side (Sutherland and Hodgman); none where nothing is left.
fn outline(path: &Path<ViewFrame>, frame: &Bounds<ViewFrame>) -> Option<Path<ViewFrame>> {
    let whole: Vec<Dot> = path.points(0.1);
    let cut = SIDES.into_iter().fold(whole, |ring, side| {
        let mut kept = Vec::new();
        for (i, &p) in ring.iter().enumerate() {
            let q = ring[(i + 1) % ring.len()];
            let (a, b) = (side.inside(frame, p), side.inside(frame, q));
            if 0.0 <= a {
                kept.push(p);
            }
            if (0.0 <= a) != (0.0 <= b) {
                kept.push(p.toward(q, a / (a - b)));
            }
        }
        kept
    });
    (3 <= cut.len()).then(|| Path::polygon(&cut))
}

/// The stretches of a run inside.
fn runs(line: &[Dot], frame: &Bounds<ViewFrame>) -> Vec<Vec<Dot>> {
    let mut runs: Vec<Vec<Dot>> = Vec::new();
    for pair in line.windows(2) {
        let Some([a, b]) = segment([pair[0], pair[1]], frame) else { continue };
        match runs.last_mut() {
            Some(run) if run.last() == Some(&a) => run.push(b),
            _ => runs.push(vec![a, b]),
        }
    }
    runs
}

fn segment([a, b]: [Dot; 2], frame: &Bounds<ViewFrame>) -> Option<[Dot; 2]> {
    let mut ends = [0.0, 1.0];
    for side in SIDES {
        let (from, to) = (side.inside(frame, a), side.inside(frame, b));
        match (from < 0.0, to < 0.0) {
            (true, true) => return None,
            (true, false) => ends[0] = f64::max(ends[0], from / (from - to)),
            (false, true) => ends[1] = f64::min(ends[1], from / (from - to)),
            (false, false) => {}
        }
    }
    let at = |share: f64| match share {
        0.0 => a,
        1.0 => b,
        share => a.toward(b, share),
    };
    (ends[0] < ends[1]).then(|| ends.map(at))
}
