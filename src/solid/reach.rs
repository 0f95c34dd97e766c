//! Whether each fastener can be set: room for its tool, for its head and for its far end.
//!
//! A tool is a nose on the fastener's axis and a body behind it. The body may stand in line, or
//! lean as far as the tool allows; one way in which nothing is in its way is enough. Where the tool
//! reaches through an opening, its body must pass through it.

use super::TOUCH;
use super::convex::{Convex, Spot, beside};
use super::overlap::Shared;
use super::scene::{Owner, Scene, Side};
use super::stand::{Stand, stands};
use crate::geom::{FaceFrame, Point};
use crate::kit::{Hole, HoleShape, Joint};
use crate::mate::{Host, clamped, container_member};
use crate::shelf::{Fastener, Shelf};
use crate::units;

/// Steps in which a body leans, degrees.
const LEAN_STEP: f64 = 15.0;

/// Directions tried at each lean.
const AROUND: usize = 24;

/// Points of an opening tried in each of its two directions.
const ACROSS: i32 = 4;

/// What of a fastener has no room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// The tool.
    Tool,
    /// The head.
    Head,
    /// What stands out on the far side.
    Far,
}

/// A fastener without room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blocked {
    /// What has none.
    pub need: Need,
    /// Where the fastener's head lies.
    pub at: Spot,
    /// What is in the way.
    pub side: Side,
    /// How deep it stands in the way, mm: for a tool's body in the way tried first.
    pub depth: f64,
}

/// A joint's fasteners and what they need.
#[derive(Clone, Copy)]
struct Setter<'a> {
    scene: &'a Scene<'a>,
    joint: &'a Joint,
    fastener: &'a Fastener,
    into: Option<&'a str>,
    /// From under the head to the far surface of all that it passes, the wall too, mm.
    passed: f64,
    /// The length of its body, mm.
    length: f64,
}

/// The fasteners of a joint that cannot be set, in the order of its pairs. `scene` is the kit's.
pub fn unreachable(scene: &Scene, shelf: &Shelf, joint: &Joint) -> Vec<Blocked> {
    let (kit, folded) = (scene.kit(), scene.folded());
    let Some(fastener) = shelf.fastener(&joint.fastener) else { return Vec::new() };
    let wall = kit.container.wall.as_ref();
    let host = Host { wall, container: shelf.container(&kit.container.id) };
    let clamped = clamped(joint, fastener, (&kit.parts, folded), host);
    // Where no length clamps, `fit.grip` tells; the shortest is good enough here.
    let grip = fastener.for_grip(clamped).or(fastener.grips.first());
    let into = joint.pairs.first().and_then(|pair| container_member(pair));
    let behind = match into {
        Some("wall") => wall.map_or(0.0, |wall| wall.thickness),
        _ => 0.0,
    };
    let length = grip.map_or(0.0, |grip| grip.length);
    let setter = Setter { scene, joint, fastener, into, passed: joint.grip + behind, length };
    let mut last = 0;
    let stands = stands(kit, folded, joint);
    stands.iter().filter_map(|stand| setter.blocked(stand, &mut last)).collect()
}

impl Setter<'_> {
    /// What of one fastener has no room, if anything. `last` is the way in which the tool of the
    /// fastener before it could stand, which often serves the next.
    fn blocked(&self, stand: &Stand, last: &mut usize) -> Option<Blocked> {
        self.head(stand).or_else(|| self.far(stand)).or_else(|| self.tool(stand, last))
    }

    fn head(&self, stand: &Stand) -> Option<Blocked> {
        let size = [self.fastener.head_diameter, self.fastener.head_height];
        let head = rod(stand.head, stand.toward, size)?;
        let found = self
            .scene
            .deepest(&head, TOUCH, |owner| !matches!(owner, Owner::KeepOut(_) | Owner::Mouth(_)));
        found.map(|found| blocked(Need::Head, stand, found))
    }

    /// Bulb, point or nut; a rail or the floor is drilled, not in the way.
    fn far(&self, stand: &Stand) -> Option<Blocked> {
        let [diameter, beyond] = self.fastener.tool.far;
        let length = self.length + beyond - self.passed;
        if length <= TOUCH {
            return None;
        }
        let through = self.into.is_some_and(|into| into != "wall");
        let far = rod(stand.head - stand.toward * self.passed, -stand.toward, [diameter, length])?;
        let counts = |owner| match owner {
            Owner::Part { .. } => true,
            Owner::Wall | Owner::Member(_) => !through,
            Owner::KeepOut(_) | Owner::Mouth(_) => false,
        };
        self.scene.deepest(&far, TOUCH, counts).map(|found| blocked(Need::Far, stand, found))
    }

    fn tool(&self, stand: &Stand, last: &mut usize) -> Option<Blocked> {
        let tool = &self.fastener.tool;
        let counts = |owner| self.in_the_way(owner);
        let nose = rod(stand.head, stand.toward, tool.nose)?;
        if let Some(found) = self.scene.deepest(&nose, TOUCH, counts) {
            return Some(blocked(Need::Tool, stand, found));
        }
        let from = stand.head + stand.toward * tool.nose[1];
        let ways = self.ways(stand, from);
        let free = |way: &Spot| {
            let end = from + *way * tool.body[1];
            let body = rod(from, *way, tool.body)?;
            let free = !self.scene.pierced([from, end], counts)
                && self.scene.deepest(&body, TOUCH, counts).is_none();
            free.then_some(())
        };
        if ways.get(*last).and_then(free).is_some() {
            return None;
        }
        if let Some(way) = ways.iter().position(|way| free(way).is_some()) {
            *last = way;
            return None;
        }
        let body = rod(from, ways.first().copied().unwrap_or(stand.toward), tool.body)?;
        let found = self.scene.deepest(&body, TOUCH, counts)?;
        Some(blocked(Need::Tool, stand, found))
    }

    fn in_the_way(&self, owner: Owner) -> bool {
        match owner {
            Owner::Part { part, .. } => !self.joint.setting.before.contains(&part),
            Owner::Wall | Owner::Member(_) => true,
            Owner::KeepOut(_) | Owner::Mouth(_) => false,
        }
    }

    /// The directions in which the body may stand: in line and leaning, or out through each point
    /// of an opening, those that pass it squarest first.
    fn ways(&self, stand: &Stand, from: Spot) -> Vec<Spot> {
        let tilt = self.fastener.tool.tilt;
        let Some((part, purpose)) = &self.joint.setting.through else {
            let leans = (tilt / LEAN_STEP).floor() as usize;
            let leaning = (1..=leans).flat_map(|i| leaning(stand.toward, LEAN_STEP * i as f64));
            return std::iter::once(stand.toward).chain(leaning).collect();
        };
        let least = units::cos_deg(tilt) - 1e-9;
        let mut ways: Vec<(f64, Spot)> = self
            .scene
            .openings(*part, purpose)
            .into_iter()
            .map(|(target, normal)| ((target - from).unit(), normal))
            .filter(|(way, _)| least <= way.dot(stand.toward))
            .map(|(way, normal)| (way.dot(normal).abs(), way))
            .collect();
        ways.sort_by(|a, b| b.0.total_cmp(&a.0));
        ways.into_iter().map(|(_, way)| way).collect()
    }
}

fn blocked(need: Need, stand: &Stand, (side, shared): (Side, Shared)) -> Blocked {
    Blocked { need, at: stand.head, side, depth: shared.depth }
}

/// A cylinder of a diameter and a length, from a point along a unit vector.
fn rod(from: Spot, along: Spot, [diameter, length]: [f64; 2]) -> Option<Convex> {
    Convex::cylinder(from, from + along * length, diameter / 2.0, 16)
}

/// Unit vectors that lean by `tilt` degrees from an axis.
fn leaning(axis: Spot, tilt: f64) -> Vec<Spot> {
    let (u, v) = beside(axis);
    let way = |i: usize| {
        let turn = 360.0 * i as f64 / AROUND as f64;
        let side = u * units::cos_deg(turn) + v * units::sin_deg(turn);
        axis * units::cos_deg(tilt) + side * units::sin_deg(tilt)
    };
    (0..AROUND).map(way).collect()
}

/// Points over a hole's opening, in its face.
pub(super) fn grid(hole: &Hole) -> Vec<Point<FaceFrame>> {
    let (along, [length, width]) = match &hole.shape {
        HoleShape::Slot(width, length, angle) | HoleShape::Rectangle(width, length, angle) => {
            (Point::new(units::cos_deg(*angle), units::sin_deg(*angle)), [*length, *width])
        }
        HoleShape::Round(_) | HoleShape::Cutout(_) => {
            (Point::new(1.0, 0.0), [hole.shape.reach() * 2.0; 2])
        }
    };
    let share = |i: i32| f64::from(i) / f64::from(2 * ACROSS + 1);
    let steps = || -ACROSS..=ACROSS;
    let at = |(i, j): (i32, i32)| {
        hole.centre + along * (length * share(i)) + along.left() * (width * share(j))
    };
    steps().flat_map(|i| steps().map(move |j| (i, j))).map(at).collect()
}
