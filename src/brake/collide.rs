//! Whether a part meets tools, ram or bed while it is bent.
//!
//! What moves with one side of the bend turns in the plane across the bending line and keeps its
//! place along it. So each piece is seen along the line once, as a convex polygon, and moved in the
//! plane over the whole stroke.
//!
//! - *Pieces that stand out of the sheet* keep the shop's clearance. Nothing is missed between two
//!   angles looked at: all that lies between a piece's two places, widened by as much as the paths
//!   of its points can be curved, keeps the clearance, or the time between is halved.
//! - *Pieces level with the sheet* touch punch and die as they are meant to. Seen from the punch's
//!   tip, the sheet's upper side rises at every place as the angle grows, so it sweeps the wedge
//!   between its first and last place, out to where its end swings. Underneath, it leaves the die's
//!   top at once: die and punch are chosen by their angles so that it does not meet their flanks.
//! - What rises above the sheet cannot meet the die or the bed, what hangs below it cannot meet
//!   punch or ram, as long as it stays on its own side of the bending line.

use std::array;

use super::bench::Convex;
use super::convex::{clip, distance, normals, point_distance};
use super::shape::Piece;
use super::swing::{Moment, SheetFrame, Swing};
use crate::geom::{BrakeFrame, Point};
use crate::units::{cos_deg, sin_deg};

/// How deep the sheet may share space with the tool that touches it, mm: rounding of outlines.
const TOUCH: f64 = 0.1;

/// Which side of the bending line: 1 towards the gauge, -1 towards the operator.
pub(super) type Way = f64;

/// Steps of a stroke, a power of two; parts nearer in time are not told apart.
const STEPS: usize = 4096;

/// How many of the steps, evenly spread, are worked out beforehand.
const LOOKS: usize = 17;

/// A stroke with the clearance that is to be kept.
#[derive(Debug, Clone)]
pub(super) struct Stroke {
    pub(super) swing: Swing,
    pub(super) clearance: f64,
    moments: [Moment; LOOKS],
}

/// Which of the tools a convex part belongs to, as far as it moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Moves {
    /// With the ram.
    Down,
    /// Not at all.
    Not,
}

impl Stroke {
    pub(super) fn new(swing: Swing, clearance: f64) -> Self {
        let at = |i: usize| swing.at(swing.last * i as f64 / (LOOKS - 1) as f64);
        Self { swing, clearance, moments: array::from_fn(at) }
    }

    /// Whether a piece, between two stations along the line, meets parts of a tool at any moment.
    pub(super) fn meets(
        &self,
        piece: &Piece,
        (way, window): (Way, [f64; 2]),
        (parts, moves): (&[Convex], Moves),
    ) -> bool {
        if !piece.meets(window) || self.cannot(piece, moves) {
            return false;
        }
        let section = piece.section(window);
        if section.len() < 3 {
            return false;
        }
        if piece.level {
            let [low, high] = extent(&section);
            return match moves {
                Moves::Down => parts.iter().any(|part| self.wedge_meets(high, way, part)),
                Moves::Not => parts.iter().any(|part| self.dip_meets(low, way, part)),
            };
        }
        self.swing_meets(&section, way, (parts, moves))
    }

    /// Whether a piece is where it never meets what moves with the ram, or what does not move.
    fn cannot(&self, piece: &Piece, moves: Moves) -> bool {
        let t = self.swing.thickness;
        match moves {
            Moves::Down if piece.level => piece.u[1] <= 0.0,
            Moves::Not if piece.level => 0.0 <= piece.u[0],
            Moves::Down => piece.w[1] <= t + 1e-6,
            Moves::Not => {
                let end = self.end();
                let top = Point::new(piece.u[0], piece.w[1]);
                -1e-6 <= piece.w[0] && 0.0 <= piece.u[0] && 0.0 <= end.point(top).x
            }
        }
    }

    fn end(&self) -> Moment {
        self.moments[LOOKS - 1]
    }

    /// The sheet from the bending line out to `end` against a part of the punch or the ram.
    fn wedge_meets(&self, end: f64, way: Way, part: &Convex) -> bool {
        let last = self.end();
        let upper = Point::new(self.swing.zone / 2.0, self.swing.thickness);
        let at = last.point(upper) - Point::new(0.0, last.nose);
        let along = last.direction(Point::new(1.0, 0.0));
        let below = along.right();
        let own = mirrored(part, way);
        let right = clip(&own, Point::new(0.0, 0.0), Point::new(1.0, 0.0));
        let under = clip(&right, at + below * TOUCH, below);
        !under.is_empty() && point_distance(Point::new(0.0, 0.0), &under) < end + self.clearance
    }

    /// The sheet that goes on past the bending line to `end` (below 0), beside the bend's end,
    /// against a part of the die or the bed: it dips into the opening.
    fn dip_meets(&self, end: f64, way: Way, part: &Convex) -> bool {
        let last = self.end();
        let start = last.point(Point::new(0.0, 0.0));
        let tip = last.point(Point::new(end, 0.0));
        let left = tip.x.min(end);
        let own = mirrored(part, way);
        let strip = clip(&own, Point::new(left, 0.0), Point::new(1.0, 0.0));
        let strip = clip(&strip, Point::new(0.0, 0.0), Point::new(-1.0, 0.0));
        let strip = clip(&strip, Point::new(0.0, -TOUCH), Point::new(0.0, -1.0));
        let out = (start - tip).left().unit();
        let swept = clip(&strip, tip, out);
        !swept.is_empty()
    }

    /// A polygon of one side over the whole stroke.
    fn swing_meets(
        &self,
        section: &[Point<SheetFrame>],
        way: Way,
        (parts, moves): (&[Convex], Moves),
    ) -> bool {
        let reach = section.iter().map(|p| p.dot(*p)).fold(0.0, f64::max).sqrt();
        let flight = Flight {
            stroke: self,
            section,
            out: normals(section),
            way: (way, moves),
            bend: self.swing.curvature(reach),
        };
        let [first, last] = [0, STEPS].map(|step| flight.at(step));
        let parts: Vec<&Convex> = parts.iter().collect();
        flight.near(&last, &parts)
            || flight.near(&first, &parts)
            || flight.meets(&parts, (0, &first), (STEPS, &last))
    }

    /// The sheet at one of the steps of a stroke.
    fn moment(&self, step: usize) -> Moment {
        if step.is_multiple_of(STEPS / (LOOKS - 1)) {
            return self.moments[step * (LOOKS - 1) / STEPS];
        }
        self.swing.at(self.swing.last * step as f64 / STEPS as f64)
    }

    /// The ways out of the part for a punch at a moment of the stroke: up, or slanting along
    /// either side of the bend, while the part is drawn to the other.
    pub(super) fn ways_out(&self, angle: f64) -> [Point<BrakeFrame>; 3] {
        let slant = if angle > 0.0 { angle / 2.0 } else { 45.0 };
        let right = Point::new(cos_deg(slant), sin_deg(slant));
        [Point::new(0.0, 1.0), right, Point::new(-right.x, right.y)]
    }

    /// Whether a piece keeps the punch, as it is swept out, from leaving the part at a moment of
    /// the stroke.
    pub(super) fn holds(
        &self,
        piece: &Piece,
        (way, window): (Way, [f64; 2]),
        (swept, angle): (&[Convex], f64),
    ) -> bool {
        if piece.level || !piece.meets(window) || piece.w[1] <= self.swing.thickness + 1e-6 {
            return false;
        }
        let section = piece.section(window);
        let placed = placed(&section, &self.swing.at(angle), way, Moves::Down);
        let half = self.clearance / 2.0;
        let out = normals(&placed);
        let near = |part: &Convex| distance(part.sided(), (&placed, &out), half);
        3 <= section.len() && swept.iter().any(|part| near(part) < half)
    }
}

/// A polygon on its way through a stroke.
struct Flight<'a> {
    stroke: &'a Stroke,
    section: &'a [Point<SheetFrame>],
    /// Directions out of its sides.
    out: Vec<Point<SheetFrame>>,
    way: (Way, Moves),
    /// How strongly the paths of its points are curved, mm for each degree squared.
    bend: f64,
}

/// Where a polygon is at a moment: its corners, and the directions out of its sides.
type Place = (Vec<Point<BrakeFrame>>, Vec<Point<BrakeFrame>>);

impl Flight<'_> {
    fn at(&self, step: usize) -> Place {
        let moment = self.stroke.moment(step);
        let (way, moves) = self.way;
        (placed(self.section, &moment, way, moves), turned(&self.out, &moment, way))
    }

    /// Whether the polygon at a place is too near to any of the parts.
    fn near(&self, place: &Place, parts: &[&Convex]) -> bool {
        let clearance = self.stroke.clearance;
        let gap = |part: &&Convex| distance(part.sided(), (&place.0, &place.1), clearance);
        parts.iter().any(|part| gap(part) < clearance)
    }

    /// Whether the polygon meets any of the parts between two steps. Between them a point leaves
    /// its chord by an eighth of its curvature times the square of the angle at most; what is
    /// farther than that from all that lies between the two places is not met. Where this cannot
    /// be told, the time is halved; at the end of the halving the parts count as met.
    fn meets(&self, parts: &[&Convex], from: (usize, &Place), to: (usize, &Place)) -> bool {
        let angle = self.stroke.swing.last * (to.0 - from.0) as f64 / STEPS as f64;
        let enough = self.stroke.clearance + self.bend * angle * angle / 8.0;
        let apart = |part: &Convex| both_apart(part, from.1, to.1, enough);
        let left: Vec<&Convex> = parts.iter().copied().filter(|part| !apart(part)).collect();
        if left.is_empty() {
            return false;
        }
        let step = usize::midpoint(from.0, to.0);
        if step == from.0 {
            return true;
        }
        let middle = self.at(step);
        self.near(&middle, &left)
            || self.meets(&left, from, (step, &middle))
            || self.meets(&left, (step, &middle), to)
    }
}

/// Whether a part lies that far from the convex hull of two places.
fn both_apart(part: &Convex, from: &Place, to: &Place, enough: f64) -> bool {
    let places = || from.0.iter().chain(&to.0);
    let beyond = |corner: Point<BrakeFrame>, out: Point<BrakeFrame>| {
        places().all(|p| enough <= (*p - corner).dot(out))
    };
    let own = part.corners.iter().zip(&part.normals).any(|(corner, out)| beyond(*corner, *out));
    let other = |out: &Point<BrakeFrame>| {
        let far = places().map(|p| p.dot(*out)).fold(f64::NEG_INFINITY, f64::max);
        part.corners.iter().all(|corner| far + enough <= corner.dot(*out))
    };
    own || from.1.iter().any(other) || to.1.iter().any(other)
}

fn placed(
    section: &[Point<SheetFrame>],
    moment: &Moment,
    way: Way,
    moves: Moves,
) -> Vec<Point<BrakeFrame>> {
    let down = if moves == Moves::Down { moment.nose } else { 0.0 };
    let at = |p: &Point<SheetFrame>| {
        let q = moment.point(*p);
        Point::new(q.x * way, q.y - down)
    };
    let mut points: Vec<_> = section.iter().map(at).collect();
    if way < 0.0 {
        points.reverse();
    }
    points
}

/// The directions out of a polygon's sides, in the order of [`placed`].
fn turned(out: &[Point<SheetFrame>], moment: &Moment, way: Way) -> Vec<Point<BrakeFrame>> {
    let at = |d: &Point<SheetFrame>| {
        let d = moment.direction(*d);
        Point::new(d.x * way, d.y)
    };
    let mut turned: Vec<_> = out.iter().map(at).collect();
    if way < 0.0 {
        // The corners are run the other way, so each side starts at its other end.
        turned.reverse();
        turned.rotate_left(1);
    }
    turned
}

/// A tool seen with the other side to the right, where the side looked at is the left one.
fn mirrored(part: &Convex, way: Way) -> Vec<Point<BrakeFrame>> {
    let points = part.corners.iter().map(|p| Point::new(p.x * way, p.y));
    if way < 0.0 { points.rev().collect() } else { points.collect() }
}

fn extent(section: &[Point<SheetFrame>]) -> [f64; 2] {
    let wide = |[a, b]: [f64; 2], p: &Point<SheetFrame>| [a.min(p.x), b.max(p.x)];
    section.iter().fold([f64::INFINITY, f64::NEG_INFINITY], wide)
}
