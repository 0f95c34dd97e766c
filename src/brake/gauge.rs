//! Where a part is held against the back gauge before a stroke.
//!
//! The fingers come from behind, a little above the die. What they touch must be parallel to the
//! bending line, within reach, long enough, and nothing of the part may stand behind it there.

use super::plan::{Stop, StopKind};
use super::shape::{Lying, Piece, Shape, Sides};
use crate::geom::Point3;
use crate::shelf::Brake;

use super::swing::SheetFrame;

/// Sine of the angle under which an edge or face counts as parallel to the bending line.
const PARALLEL: f64 = 1e-6;

/// Edges that lie as near to one line serve together, mm.
const SAME: f64 = 0.01;

/// What stands behind by less than this is the thing itself, mm.
const BEHIND: f64 = 0.5;

/// A stretch along the bending line.
type Span = [f64; 2];

/// What could be touched, before it is known what stands behind it.
struct Touch {
    kind: StopKind,
    face: usize,
    distance: f64,
    spans: Vec<Span>,
}

/// The best place to hold the side `gauge` (an index into the sides); spans are counted from the
/// middle of the bends. None when nothing serves.
pub(super) fn stop(shape: &Shape<'_>, sides: &Sides, gauge: usize, brake: &Brake) -> Option<Stop> {
    let t = shape.part.thickness;
    let mut touches: Vec<Touch> = Vec::new();
    for lying in &sides.faces[gauge] {
        touches.extend(edges(shape, lying, t));
        touches.extend(outsides(shape, lying, brake.stop_height));
    }
    let reach =
        |touch: &Touch| brake.gauge[0] <= touch.distance && touch.distance <= brake.gauge[1];
    touches.retain(reach);
    let touches = together(touches);
    let middle = {
        let [a, b] = sides.span();
        (a + b) / 2.0
    };
    let mut best: Option<(f64, Stop)> = None;
    for touch in touches {
        let free = free_spans(&touch, &sides.pieces[gauge], brake.stop_height);
        let length: f64 = free.iter().map(|[a, b]| b - a).sum();
        if length < brake.stop_width {
            continue;
        }
        let low = free.iter().map(|s| s[0]).fold(f64::INFINITY, f64::min);
        let high = free.iter().map(|s| s[1]).fold(f64::NEG_INFINITY, f64::max);
        let Touch { kind, face, distance, .. } = touch;
        let stop = Stop { distance, face, kind, span: [low - middle, high - middle] };
        let better = best.as_ref().is_none_or(|(other, held)| {
            (kind, -length.round(), distance) < (held.kind, -other.round(), held.distance)
        });
        if better {
            best = Some((length, stop));
        }
    }
    best.map(|(_, stop)| stop)
}

/// The straight edges of a face level with the die that look towards the gauge.
fn edges(shape: &Shape<'_>, lying: &Lying, t: f64) -> Vec<Touch> {
    let [x, y, z] = lying.axes;
    if z.x.abs() > PARALLEL || z.z.abs() > PARALLEL {
        return Vec::new();
    }
    let under = lying.origin.y.min(lying.origin.y + z.y * t);
    if under.abs() > SAME {
        return Vec::new();
    }
    let turn = x.x * y.z - x.z * y.x;
    let outline = &shape.outlines[lying.face];
    let n = outline.len();
    let corners: Vec<_> = outline.iter().map(|p| lying.point(*p, 0.0)).collect();
    let edge = |i: usize| {
        let (a, b) = (corners[i], corners[(i + 1) % n]);
        let along = b - a;
        let looks = along.z * turn > 0.0 && along.x.abs() <= PARALLEL * along.z.abs();
        looks.then(|| touch(StopKind::Edge, lying.face, a.x, vec![sorted(a.z, b.z)]))
    };
    (0..n).filter_map(edge).collect()
}

/// The outside of a face that stands across, as high as the gauge's fingers.
fn outsides(shape: &Shape<'_>, lying: &Lying, height: f64) -> Vec<Touch> {
    let [_, _, z] = lying.axes;
    if z.y.abs() > PARALLEL || z.z.abs() > PARALLEL {
        return Vec::new();
    }
    let outer = lying.origin.x.max(lying.origin.x + z.x * shape.part.thickness);
    let outline = &shape.outlines[lying.face];
    let corners: Vec<_> = outline.iter().map(|p| lying.point(*p, 0.0)).collect();
    let at = |kind, level: f64| {
        let spans = crossings(&corners, level);
        (!spans.is_empty()).then(|| touch(kind, lying.face, outer, spans))
    };
    let standing = at(StopKind::Standing, height * 0.9);
    let hanging = at(StopKind::Hanging, -height * 0.9);
    standing.into_iter().chain(hanging).collect()
}

fn touch(kind: StopKind, face: usize, distance: f64, spans: Vec<Span>) -> Touch {
    Touch { kind, face, distance, spans }
}

fn sorted(a: f64, b: f64) -> Span {
    [a.min(b), a.max(b)]
}

/// Where a closed outline lies at a height above the die.
fn crossings(corners: &[Point3<SheetFrame>], level: f64) -> Vec<Span> {
    let n = corners.len();
    let mut at: Vec<f64> = (0..n)
        .filter_map(|i| {
            let (a, b) = (corners[i], corners[(i + 1) % n]);
            let crosses = (a.y < level) != (b.y < level);
            crosses.then(|| a.z + (b.z - a.z) * (level - a.y) / (b.y - a.y))
        })
        .collect();
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// What lies in one line touches together; the longest names the face.
fn together(mut touches: Vec<Touch>) -> Vec<Touch> {
    touches.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.distance.total_cmp(&b.distance)));
    let length = |t: &Touch| t.spans.iter().map(|[a, b]| b - a).sum::<f64>();
    let mut merged: Vec<Touch> = Vec::new();
    for touch in touches {
        match merged.last_mut() {
            Some(last) if last.kind == touch.kind && touch.distance - last.distance <= SAME => {
                if length(last) < length(&touch) {
                    last.face = touch.face;
                }
                last.spans.extend(touch.spans);
            }
            _ => merged.push(touch),
        }
    }
    merged
}

/// What is left of the spans where nothing of the part stands behind.
fn free_spans(touch: &Touch, pieces: &[Piece], height: f64) -> Vec<Span> {
    let band = match touch.kind {
        StopKind::Edge | StopKind::Standing => [0.0, height],
        StopKind::Hanging => [-height, 0.0],
    };
    let behind = |piece: &&Piece| {
        touch.distance + BEHIND < piece.u[1]
            && piece.w[0] < band[1] - SAME
            && band[0] + SAME < piece.w[1]
    };
    let mut free = touch.spans.clone();
    for piece in pieces.iter().filter(behind) {
        free = free.into_iter().flat_map(|span| without(span, piece.z)).collect();
    }
    free
}

/// A span less another.
fn without([a, b]: Span, [low, high]: Span) -> Vec<Span> {
    if high <= a || b <= low {
        return vec![[a, b]];
    }
    [[a, low], [high, b]].into_iter().filter(|[from, to]| from < to).collect()
}
