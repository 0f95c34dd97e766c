//! The outline of one face: a polygon of mould lines, changed along its edges by notches, tabs,
//! wall-following runs and bends.
//!
//! Worked out in the face's own drawing frame, as its author declares it. Along an edge, `c` grows
//! in the author's direction from the edge's first corner; `out` is positive away from the face.

use super::Relief;
use super::relief::SeatEnd;
use crate::geom::{FaceFrame, Path, Point, Vertex, tolerance};
use crate::units;

type P = Point<FaceFrame>;

/// A bend's index and the ends of its seat in the order of the outline.
pub(super) type SeatEnds = (usize, [P; 2]);

/// A strip of sheet narrower than this between a relief and the end of its edge is cut away: it
/// would bend, burn or break off (common practice: not less than about one thickness).
pub(super) const THIN_RIB: f64 = 2.0;

/// What happens along an edge.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Feature {
    /// Material removed from `from` to `to` to a depth.
    Notch { from: f64, to: f64, depth: f64 },
    /// Material added from `from` to `to` to a height.
    Tab { from: f64, to: f64, height: f64 },
    /// The edge runs along these (c, out) points, c ascending.
    Run(Vec<(f64, f64)>),
    /// Bend number `bend` leaves here.
    Bend(BendSeat),
}

/// Where a bend sits on an edge.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BendSeat {
    /// Index of the bend in the part.
    pub(super) bend: usize,
    /// Start and end of the bend, c.
    pub(super) span: [f64; 2],
    /// From the mould line in to the edge of the bend zone.
    pub(super) setback: f64,
    /// Whether the bend runs out at the start and the end of what the face offers.
    pub(super) flush: [bool; 2],
    /// The relief cut where it does not.
    pub(super) relief: Relief,
}

/// A face's mould polygon with what happens along its edges.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mould {
    /// Corners, counter-clockwise; edge i runs from corner i to corner i + 1.
    pub(super) corners: Vec<P>,
    /// For each edge, whether the author's direction runs against it.
    pub(super) reversed: Vec<bool>,
    /// Radius of the free corners, mm.
    pub(super) radius: f64,
    /// Side of the square cut out where two bends meet at a corner, mm.
    pub(super) relief: f64,
    /// (edge, feature), in any order.
    pub(super) features: Vec<(usize, Feature)>,
}

/// An edge in its own measure: s from its first corner in the counter-clockwise sense.
struct Edge {
    start: P,
    along: P,
    out: P,
    length: f64,
}

impl Edge {
    fn at(&self, s: f64, out: f64) -> P {
        self.start + self.along * s + self.out * out
    }
}

impl Mould {
    /// A rectangle from (0, 0) to (width, height); edges bottom, right, top, left.
    pub(super) fn rectangle(width: f64, height: f64) -> Self {
        let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
        Self {
            corners: corners.map(|(x, y)| Point::new(x, y)).to_vec(),
            reversed: vec![false, false, true, true],
            radius: 0.0,
            relief: 0.0,
            features: Vec::new(),
        }
    }

    /// Any polygon; every edge in the order of its corners.
    pub(super) fn polygon(corners: Vec<P>) -> Self {
        let reversed = vec![false; corners.len()];
        Self { corners, reversed, radius: 0.0, relief: 0.0, features: Vec::new() }
    }

    /// Extent in x, mm.
    pub(super) fn width(&self) -> f64 {
        Path::polygon(&self.corners).bounds().width()
    }

    /// Whether it has at least three corners, all finite, and runs counter-clockwise.
    pub(super) fn is_sound(&self) -> bool {
        self.corners.len() >= 3
            && self.corners.iter().all(|corner| corner.is_finite())
            && Path::polygon(&self.corners).area() > tolerance::SAME_POINT
    }

    /// Where the author's measure of edge `i` starts.
    pub(super) fn edge_start(&self, i: usize) -> P {
        let n = self.corners.len();
        self.corners[if self.reversed[i] { (i + 1) % n } else { i }]
    }

    /// c on edge `i` of an author's coordinate: x on the bottom and top of a face with four edges,
    /// y on its left and right; on a polygon the distance from the edge's first corner.
    pub(super) fn along(&self, i: usize, coordinate: f64) -> f64 {
        if !self.reversed.contains(&true) {
            return coordinate;
        }
        let (start, (axis, _)) = (self.edge_start(i), self.edge_axes(i));
        if i.is_multiple_of(2) {
            (coordinate - start.x) / axis.x
        } else {
            (coordinate - start.y) / axis.y
        }
    }

    fn edge(&self, i: usize) -> Edge {
        let n = self.corners.len();
        let (start, end) = (self.corners[i], self.corners[(i + 1) % n]);
        let along = (end - start).unit();
        Edge { start, along, out: along.right(), length: start.distance(end) }
    }

    /// Length of edge `i`.
    pub(super) fn edge_length(&self, i: usize) -> f64 {
        self.edge(i).length
    }

    /// Unit vectors of edge `i`: the author's direction and outwards.
    pub(super) fn edge_axes(&self, i: usize) -> (P, P) {
        let edge = self.edge(i);
        (if self.reversed[i] { -edge.along } else { edge.along }, edge.out)
    }

    /// From c to s or back.
    pub(super) fn flip(&self, i: usize, c: f64) -> f64 {
        if self.reversed[i] { self.edge(i).length - c } else { c }
    }

    /// The part of edge `i` that a bend with this setback can use, in c: between the neighbouring
    /// edges where the zone's edge meets them, notches and bends at the corners allowed for.
    pub(super) fn usable(&self, i: usize, setback: f64) -> [f64; 2] {
        let edge = self.edge(i);
        let n = self.corners.len();
        let s_of =
            |p: Option<P>, fallback: f64| p.map_or(fallback, |p| (p - edge.start).dot(edge.along));
        let before = (i + n - 1) % n;
        let low = self.meeting(before, self.inset(before, true), i, setback);
        let high = self.meeting(i, setback, (i + 1) % n, self.inset((i + 1) % n, false));
        let cut = |met: bool| if met { self.relief } else { 0.0 };
        let start = s_of(low, 0.0) + cut(self.bend_reaches(before, true));
        let end = s_of(high, edge.length) - cut(self.bend_reaches((i + 1) % n, false));
        let ends = [start, end].map(|s| self.flip(i, s));
        if self.reversed[i] { [ends[1], ends[0]] } else { ends }
    }

    /// Whether a bend of edge `i` runs out at its end (or start).
    fn bend_reaches(&self, i: usize, at_end: bool) -> bool {
        let which = usize::from(at_end != self.reversed[i]);
        self.features.iter().any(|(edge, feature)| {
            *edge == i && matches!(feature, Feature::Bend(seat) if seat.flush[which])
        })
    }

    /// How far the outline lies inside the mould line at the end (or start) of edge `i`.
    fn inset(&self, i: usize, at_end: bool) -> f64 {
        let length = self.edge(i).length;
        self.features
            .iter()
            .filter(|(edge, _)| *edge == i)
            .filter_map(|(_, feature)| self.corner_inset(i, feature, at_end, length))
            .fold(0.0, |deepest: f64, inset| if inset == 0.0 { deepest } else { inset })
    }

    /// The inset a feature brings to a corner it reaches; none when it does not.
    fn corner_inset(&self, i: usize, feature: &Feature, at_end: bool, length: f64) -> Option<f64> {
        let corner = self.flip(i, if at_end { length } else { 0.0 });
        let reaches = |c: f64| (c - corner).abs() < tolerance::SAME_POINT;
        match feature {
            Feature::Notch { from, to, depth } => {
                (reaches(*from) || reaches(*to)).then_some(*depth)
            }
            Feature::Tab { from, to, height } => {
                (reaches(*from) || reaches(*to)).then_some(-height)
            }
            Feature::Run(points) => points.iter().find(|(c, _)| reaches(*c)).map(|(_, out)| -out),
            Feature::Bend(seat) => {
                let which = usize::from(at_end != self.reversed[i]);
                if seat.flush[which] {
                    return Some(seat.setback);
                }
                let end = self.flip(i, seat.span[which]);
                let room = if at_end { length - end } else { end };
                (room - seat.relief.width < THIN_RIB).then_some(seat.setback + seat.relief.depth)
            }
        }
    }

    /// Where edges `i` and `j` meet when each is moved inwards.
    fn meeting(&self, i: usize, inset_i: f64, j: usize, inset_j: f64) -> Option<P> {
        let (a, b) = (self.edge(i), self.edge(j));
        let (p, q) = (a.at(0.0, -inset_i), b.at(0.0, -inset_j));
        let turn = a.along.cross(b.along);
        (turn.abs() > 1e-9).then(|| p + a.along * ((q - p).cross(b.along) / turn))
    }

    /// Where the squares meet that stand on edge `i` at s and on edge `j` at t.
    pub(super) fn square(&self, i: usize, s: f64, j: usize, t: f64) -> Option<P> {
        let (a, b) = (self.edge(i), self.edge(j));
        let (p, q) = (a.at(s, 0.0), b.at(t, 0.0));
        let turn = a.out.cross(b.out);
        (turn.abs() > 1e-9).then(|| p + a.out * ((q - p).cross(b.out) / turn))
    }

    /// The outline and, for each bend, the ends of its seat in the order of the outline; or what
    /// is wrong with it.
    pub(super) fn outline(&self) -> Result<(Path<FaceFrame>, Vec<SeatEnds>), String> {
        let n = self.corners.len();
        let mut vertices = Vec::new();
        let mut seats = Vec::new();
        for i in 0..n {
            let before = (i + n - 1) % n;
            self.corner(before, i, &mut vertices)?;
            for feature in self.ordered(i)? {
                self.emit(i, feature, &mut vertices, &mut seats);
            }
        }
        Ok((Path { vertices }.cleaned(), seats))
    }

    fn corner(
        &self,
        before: usize,
        i: usize,
        out: &mut Vec<Vertex<FaceFrame>>,
    ) -> Result<(), String> {
        if let Some(shared) = self.shared(before, i) {
            out.push(Vertex { at: shared.at, bulge: 0.0 });
            return Ok(());
        }
        let insets = [self.inset(before, true), self.inset(i, false)];
        let at = self
            .meeting(before, insets[0], i, insets[1])
            .ok_or("two neighbouring edges are parallel")?;
        if insets == [0.0, 0.0] && self.radius > 0.0 {
            out.extend(self.rounded(before, i));
        } else if self.bend_reaches(before, true) && self.bend_reaches(i, false) {
            let (a, b) = (self.edge(before).along, self.edge(i).along);
            out.push(Vertex { at: at + (b - a) * self.relief, bulge: 0.0 });
        } else {
            out.push(Vertex { at, bulge: 0.0 });
        }
        Ok(())
    }

    /// A free corner as an arc.
    fn rounded(&self, before: usize, i: usize) -> [Vertex<FaceFrame>; 2] {
        let (a, b) = (self.edge(before), self.edge(i));
        let turn = units::atan2_deg(a.along.cross(b.along), a.along.dot(b.along));
        let reach = self.radius * units::tan_deg(turn.abs() / 2.0);
        [
            Vertex { at: b.start - a.along * reach, bulge: units::tan_deg(turn / 4.0) },
            Vertex { at: b.start + b.along * reach, bulge: 0.0 },
        ]
    }

    /// Why something from c to c finds no room on edge `i` beside the notches and tabs there.
    pub(super) fn no_room(&self, i: usize, [from, to]: [f64; 2]) -> Option<String> {
        let length = self.edge(i).length;
        if from < -tolerance::SAME_POINT || length + tolerance::SAME_POINT < to {
            return Some(format!("reaches past its edge, 0 to {length:.2} mm"));
        }
        let others = self.features.iter().filter(|(edge, _)| *edge == i).map(|(_, f)| span(f));
        let inside = |other: &[f64; 2]| {
            other[0] < to - tolerance::SAME_POINT && from < other[1] - tolerance::SAME_POINT
        };
        let [a, b] = others.into_iter().find(inside)?;
        Some(format!("overlaps what stands there from {a:.2} to {b:.2} mm"))
    }

    /// Features of edge `i` in the order of the outline; refuses those that overlap.
    fn ordered(&self, i: usize) -> Result<Vec<&Feature>, String> {
        let mut features: Vec<(f64, f64, &Feature)> = self
            .features
            .iter()
            .filter(|(edge, _)| *edge == i)
            .map(|(_, feature)| {
                let [from, to] = span(feature).map(|c| self.flip(i, c));
                (from.min(to), from.max(to), feature)
            })
            .collect();
        features.sort_by(|a, b| a.0.total_cmp(&b.0));
        let length = self.edge(i).length;
        for (low, high, feature) in &features {
            // Where neighbouring edges lean outwards the zone's edge is longer than the mould line.
            if matches!(feature, Feature::Bend(_)) {
                continue;
            }
            if *low < -tolerance::SAME_POINT || length + tolerance::SAME_POINT < *high {
                let [from, to] = span(feature);
                return Err(format!(
                    "something from {from:.2} to {to:.2} mm reaches past its edge of {length:.2} mm"
                ));
            }
        }
        for pair in features.windows(2) {
            if pair[1].0 < pair[0].1 - tolerance::SAME_POINT {
                let [a, b] = [span(pair[0].2), span(pair[1].2)];
                return Err(format!(
                    "two things overlap on one edge: {:.2} to {:.2} mm and {:.2} to {:.2} mm",
                    a[0], a[1], b[0], b[1]
                ));
            }
        }
        Ok(features.into_iter().map(|(_, _, feature)| feature).collect())
    }

    fn emit(
        &self,
        i: usize,
        feature: &Feature,
        out: &mut Vec<Vertex<FaceFrame>>,
        seats: &mut Vec<SeatEnds>,
    ) {
        let edge = self.edge(i);
        let mut push = |s: f64, o: f64| out.push(Vertex { at: edge.at(s, o), bulge: 0.0 });
        let ends = span(feature).map(|c| self.flip(i, c));
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        match feature {
            Feature::Notch { depth, .. } => step(&mut push, [low, high], edge.length, -depth),
            Feature::Tab { height, .. } => step(&mut push, [low, high], edge.length, *height),
            Feature::Run(points) => {
                let mut run: Vec<_> = points.iter().map(|(c, o)| (self.flip(i, *c), *o)).collect();
                if self.reversed[i] {
                    run.reverse();
                }
                run.into_iter().for_each(|(s, o)| push(s, o));
            }
            Feature::Bend(seat) => {
                seat_points(seat, self.seat_ends(i, seat), [low, high], &mut push);
                let zone = [edge.at(low, -seat.setback), edge.at(high, -seat.setback)];
                seats.push((seat.bend, zone));
            }
        }
    }
}

/// Start and end of a feature, c.
fn span(feature: &Feature) -> [f64; 2] {
    match feature {
        Feature::Notch { from, to, .. } | Feature::Tab { from, to, .. } => [*from, *to],
        Feature::Run(points) => {
            let c = |point: Option<&(f64, f64)>| point.map_or(0.0, |p| p.0);
            [c(points.first()), c(points.last())]
        }
        Feature::Bend(seat) => seat.span,
    }
}

/// A notch or a tab; at a corner the outline is there already.
fn step(push: &mut impl FnMut(f64, f64), span: [f64; 2], length: f64, out: f64) {
    if span[0] > tolerance::SAME_POINT {
        push(span[0], 0.0);
        push(span[0], out);
    }
    if span[1] < length - tolerance::SAME_POINT {
        push(span[1], out);
        push(span[1], 0.0);
    }
}

/// The outline past a bend's seat: relief, zone edge, relief.
fn seat_points(
    seat: &BendSeat,
    ends: [SeatEnd; 2],
    span: [f64; 2],
    push: &mut impl FnMut(f64, f64),
) {
    let bottom = -(seat.setback + seat.relief.depth);
    let width = seat.relief.width;
    if ends[0] == SeatEnd::Relief {
        push(span[0] - width, 0.0);
    }
    if matches!(ends[0], SeatEnd::Relief | SeatEnd::Shared) {
        push(span[0] - width, bottom);
    }
    if ends[0] != SeatEnd::Out {
        push(span[0], bottom);
    }
    push(span[0], -seat.setback);
    push(span[1], -seat.setback);
    if ends[1] != SeatEnd::Out {
        push(span[1], bottom);
    }
    if matches!(ends[1], SeatEnd::Relief | SeatEnd::Shared) {
        push(span[1] + width, bottom);
    }
    if ends[1] == SeatEnd::Relief {
        push(span[1] + width, 0.0);
    }
}
