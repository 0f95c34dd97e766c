//! Long thin parts drawn interrupted: a stretch without any feature but rows of small holes is
//! left out, and the two ends move together.

use super::hole;
use super::model::{Edge, EdgeKind, Facet, Model, Spot};
use super::room::Room;
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, PartFrame, Point, Point3, Pose, ViewFrame};
use crate::kit::{Hole, Part};

/// Parts longer than this many times their next extent are interrupted.
const LONG: f64 = 9.0;

/// The stretch left out of a part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Break {
    /// Direction of the part's length, a unit vector.
    pub(super) axis: Point3<PartFrame>,
    /// Where the stretch starts and ends along it.
    pub(super) from_to: [f64; 2],
    /// What is left between the two ends, mm.
    pub(super) gap: f64,
}

impl Break {
    /// The break that suits a part; none when it is not long, or not uniform enough.
    pub(super) fn of(part: &Part, folded: &FoldedPart, small_hole: f64) -> Option<Self> {
        let mut room = Room::empty();
        room.add_part(part, &folded.faces);
        let extents = room.extents();
        let longest = (0..3).fold(0, |best, i| if extents[i] > extents[best] { i } else { best });
        let length = extents[longest];
        let next = (0..3).filter(|&i| i != longest).map(|i| extents[i]).fold(0.0, f64::max);
        if next <= 0.0 || length < LONG * next {
            return None;
        }
        let unit = |i: usize| if i == longest { 1.0 } else { 0.0 };
        let axis = Point3::new(unit(0), unit(1), unit(2));
        let (features, holes) = features(part, folded, axis, small_hole);
        let [from, to] = features
            .windows(2)
            .map(|pair| [pair[0], pair[1]])
            .reduce(|best, gap| if gap[1] - gap[0] > best[1] - best[0] { gap } else { best })?;
        let margin = 1.5 * next;
        let from = clear(&holes, from + margin, next / 20.0);
        let to = clear(&holes, to - margin, -next / 20.0);
        let gap = next / 2.0;
        (to - from > 0.4 * length).then_some(Self { axis, from_to: [from, to], gap })
    }

    /// Length that the picture saves.
    pub(super) fn saved(&self) -> f64 {
        self.from_to[1] - self.from_to[0] - self.gap
    }
}

/// Where along the axis something is that must be seen, in order; and what small holes take up.
fn features(
    part: &Part,
    folded: &FoldedPart,
    axis: Point3<PartFrame>,
    small: f64,
) -> (Vec<f64>, Vec<[f64; 2]>) {
    let (mut seen, mut holes) = (Vec::new(), Vec::new());
    for (face, seat) in part.faces.iter().zip(&folded.faces) {
        seen.extend(face.outline.vertices.iter().map(|v| seat.lifted(v.at, 0.0).dot(axis)));
        let (inside, start) = (along(seat, axis), seat.shift.dot(axis));
        for it in &face.holes {
            let reach = hole::reach(it, inside).map(|along| along + start);
            if hole::extent(it) < small {
                holes.push(reach);
            } else {
                seen.extend(reach);
            }
        }
    }
    seen.sort_by(f64::total_cmp);
    (seen, holes)
}

/// A direction of space as it is seen in a face's plane.
fn along<F>(seat: &Pose<FaceFrame, F>, axis: Point3<F>) -> Point<FaceFrame> {
    Point::new(seat.x_axis.dot(axis), seat.y_axis.dot(axis))
}

/// The stretch left out of a part, in the picture's space.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gap {
    /// Direction of the part's length, a unit vector.
    pub(super) axis: Spot,
    /// Where the stretch starts and ends along it.
    pub(super) from_to: [f64; 2],
}

impl Gap {
    /// Whether a hole of a face lies wholly within.
    pub(super) fn swallows(&self, hole: &Hole, seat: &Pose<FaceFrame, ViewFrame>) -> bool {
        let start = seat.shift.dot(self.axis);
        let [low, high] = hole::reach(hole, along(seat, self.axis)).map(|along| along + start);
        self.from_to[0] < low && high < self.from_to[1]
    }
}

/// The first place from `at` on, in steps, that lies clear of all holes; `at` when none does soon.
fn clear(holes: &[[f64; 2]], at: f64, step: f64) -> f64 {
    let free = |s: &f64| holes.iter().all(|[low, high]| *s < low - 1.0 || high + 1.0 < *s);
    (0..40).map(|i| at + step * f64::from(i)).find(free).unwrap_or(at)
}

/// The model without what lies in the gap, the far end moved up by what is saved.
pub(super) fn interrupted(model: &Model, gap: &Gap, saved: f64) -> Model {
    let Gap { axis, from_to: [from, to] } = *gap;
    let mut short = Model { surfaces: model.surfaces, ..Model::default() };
    let near = Half { axis, limit: from, shift: Spot::new(0.0, 0.0, 0.0) };
    let far = Half { axis: -axis, limit: -to, shift: axis * -saved };
    near.copy(model, &mut short);
    far.copy(model, &mut short);
    short
}

/// The half space in which `axis` reaches at most `limit`.
struct Half {
    axis: Spot,
    limit: f64,
    /// How what lies in it is moved.
    shift: Spot,
}

impl Half {
    /// How far a point lies within.
    fn within(&self, p: Spot) -> f64 {
        self.limit - p.dot(self.axis)
    }

    fn copy(&self, model: &Model, short: &mut Model) {
        let kept: Vec<Option<usize>> =
            model.facets.iter().map(|facet| self.facet(facet, short)).collect();
        for edge in &model.edges {
            let [Some(a), Some(b)] = edge.facets.map(|i| kept[i]) else { continue };
            if let Some(ends) = self.line(edge.ends) {
                short.edges.push(Edge { ends, facets: [a, b], kind: edge.kind });
            }
        }
    }

    /// The part of a facet within, with edges where it is broken off.
    fn facet(&self, facet: &Facet, short: &mut Model) -> Option<usize> {
        let mut breaks = Vec::new();
        let rings = facet.loops.iter().map(|ring| self.ring(ring, &mut breaks));
        let loops: Vec<Vec<Spot>> = rings.collect();
        if loops[0].len() < 3 {
            return None;
        }
        let loops = loops.into_iter().filter(|ring| ring.len() > 2).collect();
        let index = short.facet(Facet {
            loops,
            normal: facet.normal,
            item: facet.item,
            surface: facet.surface,
            tinted: facet.tinted,
        });
        let along = facet.normal.cross(self.axis);
        breaks.sort_by(|a, b| a.dot(along).total_cmp(&b.dot(along)));
        for pair in breaks.chunks_exact(2) {
            short.edge([pair[0], pair[1]], [index, index], EdgeKind::Broken);
        }
        Some(index)
    }

    /// The part of a ring within, moved, from the same corner on; adds the places where it is cut.
    fn ring(&self, ring: &[Spot], breaks: &mut Vec<Spot>) -> Vec<Spot> {
        let mut kept = Vec::with_capacity(ring.len());
        let n = ring.len();
        for (i, &p) in ring.iter().enumerate() {
            let before = ring[(i + n - 1) % n];
            if (self.within(before) > 0.0) != (self.within(p) > 0.0) {
                let cut = self.cut(before, p);
                kept.push(cut);
                breaks.push(cut);
            }
            if self.within(p) > 0.0 {
                kept.push(p + self.shift);
            }
        }
        let first_stays = ring.first().is_some_and(|&p| self.within(p) > 0.0);
        let last_goes = ring.last().is_some_and(|&p| self.within(p) <= 0.0);
        if first_stays && last_goes {
            kept.rotate_left(1);
        }
        kept
    }

    /// Where a line that leaves the half space is cut, moved.
    fn cut(&self, a: Spot, b: Spot) -> Spot {
        let (u, v) = (self.within(a), self.within(b));
        a + (b - a) * (u / (u - v)) + self.shift
    }

    fn line(&self, [a, b]: [Spot; 2]) -> Option<[Spot; 2]> {
        match (self.within(a) > 0.0, self.within(b) > 0.0) {
            (true, true) => Some([a + self.shift, b + self.shift]),
            (true, false) => Some([a + self.shift, self.cut(a, b)]),
            (false, true) => Some([self.cut(a, b), b + self.shift]),
            (false, false) => None,
        }
    }
}
