//! One part's bends made ready for the search: what is bent together, with which tools, how far,
//! and how the part lies on the machine for it.

use super::bench::Bench;
use super::collide::Stroke;
use super::force::{air_bending_force, springback};
use super::shape::{Done, Shape};
use super::swing::Swing;
use crate::geom::{Point, Point3};
use crate::kit::{Part, Sense, Side};
use crate::shelf::{Material, Shop};
use crate::units::atan2_deg;

/// Rounding of a punch's radius against the bend's, mm.
const SAME_RADIUS: f64 = 0.01;

/// Punches and dies beyond this number are not looked at.
const MOST_TOOLS: usize = 64;

/// Bends that are always made together: on one line of one parent, alike in everything.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub(super) bends: Vec<usize>,
    /// The same as bits.
    pub(super) mask: Done,
    pub(super) sense: Sense,
    pub(super) stroke: Stroke,
    pub(super) springback: f64,
    pub(super) springback_source: String,
    /// Indices of the shop's punches that fit, as the shop prefers them.
    pub(super) punches: Vec<usize>,
    /// Indices of the dies that fit.
    pub(super) dies: Vec<usize>,
    /// The orientation with the parent's side at the gauge, and with the child's: indices.
    pub(super) lies: [usize; 2],
}

/// How a part lies on the machine: the side up, and the direction in the blank's plane that points
/// to the gauge, degrees from the root face's x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lie {
    pub(super) side: Side,
    pub(super) direction: f64,
}

/// A part with the shop that is to bend it.
pub(super) struct Job<'a> {
    pub(super) shape: Shape<'a>,
    pub(super) bench: &'a Bench<'a>,
    pub(super) shop: &'a Shop,
    pub(super) material: &'a Material,
    pub(super) units: Vec<Unit>,
    pub(super) lies: Vec<Lie>,
}

impl<'a> Job<'a> {
    pub(super) fn new(
        part: &'a Part,
        bench: &'a Bench<'a>,
        shop: &'a Shop,
        material: &'a Material,
    ) -> Self {
        let shape = Shape::new(part);
        let mut job = Self { shape, bench, shop, material, units: Vec::new(), lies: Vec::new() };
        for bends in job.together() {
            let unit = job.unit(bends);
            job.units.push(unit);
        }
        job
    }

    /// All bends as bits.
    pub(super) fn all(&self) -> Done {
        self.units.iter().fold(0, |all, unit| all | unit.mask)
    }

    /// Bends of one parent on one line.
    fn together(&self) -> Vec<Vec<usize>> {
        let bends = &self.shape.part.bends;
        let flat = self.shape.poses(0);
        let mut units: Vec<Vec<usize>> = Vec::new();
        for (i, bend) in bends.iter().enumerate() {
            let same = |unit: &Vec<usize>| {
                let first = unit[0];
                bends[first].parent == bend.parent
                    && bends[first].sense == bend.sense
                    && self.shape.in_line(&flat, first, i)
            };
            match units.iter_mut().find(|unit| same(unit)) {
                Some(unit) => unit.push(i),
                None => units.push(vec![i]),
            }
        }
        units
    }

    fn unit(&mut self, bends: Vec<usize>) -> Unit {
        let part = self.shape.part;
        let bend = &part.bends[bends[0]];
        let t = part.thickness;
        let rule = self.shop.bend_to(self.material, (t, bend.angle), bend.radius);
        let shape = (bend.angle, bend.radius);
        let (springback, springback_source) = springback(self.shop, self.material, t, shape);
        let swing = Swing {
            thickness: t,
            zone: self.shape.zones[bends[0]],
            neutral: t - bend.k * t,
            half_opening: rule.opening / 2.0,
            last: bend.angle + springback,
        };
        let [punches, dies] = self.tools(&swing, bend.radius, rule.opening);
        Unit {
            mask: bends.iter().fold(0, |mask, bend| mask | 1 << bend),
            lies: self.lies_of(bends[0]),
            sense: bend.sense,
            bends,
            stroke: Stroke::new(swing, self.bench.brake.clearance),
            springback,
            springback_source,
            punches,
            dies,
        }
    }

    /// Punches and dies whose angle, radius and strength fit.
    fn tools(&self, swing: &Swing, radius: f64, opening: f64) -> [Vec<usize>; 2] {
        let brake = self.bench.brake;
        let per_metre = air_bending_force(brake, self.material, swing.thickness, 1000.0, opening);
        let open = 180.0 - swing.last;
        let reachable = swing.last <= brake.angle;
        let fits = |angle: f64, bears: f64| reachable && angle <= open && per_metre <= bears;
        let punches = brake.punches.iter().enumerate().take(MOST_TOOLS).filter(|(_, punch)| {
            fits(punch.angle, punch.tool.force_per_metre) && punch.radius <= radius + SAME_RADIUS
        });
        let dies =
            brake.dies.iter().enumerate().filter(|(_, die)| {
                fits(die.angle, die.tool.force_per_metre) && die.opening == opening
            });
        [punches.map(|(i, _)| i).collect(), dies.map(|(i, _)| i).collect()]
    }

    /// How the part lies for a bend, with the parent's side at the gauge and with the child's.
    fn lies_of(&mut self, bend: usize) -> [usize; 2] {
        let it = &self.shape.part.bends[bend];
        let out = (it.edge[1] - it.edge[0]).unit().right();
        let out: Point3<_> = self.shape.poses(0)[it.parent].vector(Point3::new(out.x, out.y, 0.0));
        let side = match it.sense {
            Sense::Up => Side::Upper,
            Sense::Down => Side::Under,
        };
        [-1.0, 1.0].map(|sign| {
            let out: Point<crate::geom::PartFrame> = Point::new(out.x * sign, out.y * sign);
            self.lie(Lie { side, direction: atan2_deg(out.y, out.x) })
        })
    }

    fn lie(&mut self, lie: Lie) -> usize {
        let same = |other: &Lie| {
            other.side == lie.side && turn_between(other.direction, lie.direction) < 0.05
        };
        if let Some(at) = self.lies.iter().position(same) {
            return at;
        }
        self.lies.push(lie);
        self.lies.len() - 1
    }
}

/// The angle between two directions, 0 to 180 degrees.
pub(super) fn turn_between(a: f64, b: f64) -> f64 {
    let turn = (a - b).rem_euclid(360.0);
    turn.min(360.0 - turn)
}

/// The angle between two lines, 0 to 90 degrees.
pub(super) fn lines_between(a: f64, b: f64) -> f64 {
    let turn = turn_between(a, b);
    turn.min(180.0 - turn)
}
