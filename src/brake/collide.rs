//! Whether a part meets tools, ram or bed while it is bent.
//!
//! What moves with one side of the bend turns in the plane across the bending line and keeps its
//! place along it. So each piece is seen along the line once, as a convex polygon, and moved in the
//! plane over the whole stroke.
//!
//! - *Pieces that stand out of the sheet* keep the shop's clearance. Nothing is missed between two
//!   angles looked at: from one angle the stroke goes on only as far as no point can have moved by
//!   more than the distance found, less half the clearance.
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
use crate::geom::{Bounds, BrakeFrame, Point};
use crate::units::{cos_deg, sin_deg};

/// How deep the sheet may share space with the tool that touches it, mm: rounding of outlines.
const TOUCH: f64 = 0.1;

/// Which side of the bending line: 1 towards the gauge, -1 towards the operator.
pub(super) type Way = f64;

/// Distances above this are not worked out exactly, mm.
const ENOUGH: f64 = 5.0;

/// How many moments of a stroke are looked at to find what comes near at all.
const LOOKS: usize = 9;

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
        let reach = section.iter().map(|p| p.length()).fold(0.0, f64::max);
        let speed = self.swing.speed(reach);
        let swept = self.swept(section, (way, moves), speed);
        let near: Vec<&Convex> =
            parts.iter().filter(|part| overlap(&swept, &part.bounds)).collect();
        if near.is_empty() {
            return false;
        }
        let out = normals(section);
        let gap = |moment: &Moment| {
            let placed = placed(section, moment, way, moves);
            let out = turned(&out, moment, way);
            let gap = |part: &&Convex| distance(part.sided(), (&placed, &out), ENOUGH);
            near.iter().map(gap).fold(f64::INFINITY, f64::min)
        };
        if gap(&self.end()) < self.clearance {
            return true;
        }
        let mut angle = 0.0;
        while angle < self.swing.last {
            let gap = gap(&self.swing.at(angle));
            if gap < self.clearance {
                return true;
            }
            angle += (gap - self.clearance / 2.0) / speed;
        }
        false
    }

    /// A box around all that a polygon passes in the stroke, and the clearance around it. Between
    /// two moments looked at, no point is farther from where it is at one of them than it can move
    /// in half the time.
    fn swept(
        &self,
        section: &[Point<SheetFrame>],
        (way, moves): (Way, Moves),
        speed: f64,
    ) -> Bounds<BrakeFrame> {
        let mut bounds = Bounds::empty();
        for moment in &self.moments {
            placed(section, moment, way, moves).into_iter().for_each(|p| bounds.add(p));
        }
        let more = speed * self.swing.last / (LOOKS - 1) as f64 / 2.0 + self.clearance;
        let more = Point::new(more, more);
        Bounds { low: bounds.low - more, high: bounds.high + more }
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

/// Whether two boxes share points.
fn overlap(a: &Bounds<BrakeFrame>, b: &Bounds<BrakeFrame>) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

fn extent(section: &[Point<SheetFrame>]) -> [f64; 2] {
    let wide = |[a, b]: [f64; 2], p: &Point<SheetFrame>| [a.min(p.x), b.max(p.x)];
    section.iter().fold([f64::INFINITY, f64::NEG_INFINITY], wide)
}
