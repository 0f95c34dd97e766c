//! The search for the cheapest order of bends.
//!
//! A state is the set of bends made, how the part lies and which tools are set up; the part's shape
//! depends on the set alone. From the flat blank, states are opened in the order of what their
//! order of bends costs so far and the least that the rest must cost, so the first order that is
//! whole is the cheapest. Whether a stroke can be made is found out when its turn comes, and
//! remembered.
//!
//! Up to [`EXACT`] groups of bends every order is weighed. Above, states with the most bends made
//! come first, and the search ends after [`TRIES`] strokes looked at.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::rc::Rc;

use super::cost::{Cost, at_least, handling};
use super::fit::{Hit, Obstacle, Trial};
use super::gauge;
use super::job::{Job, Unit};
use super::plan::Stop;
use super::runs::Runs;
use super::shape::{Done, Sides};
use crate::geom::{FaceFrame, PartFrame, Pose};

/// Groups of bends up to which every order is weighed.
pub(super) const EXACT: usize = 12;

/// Strokes looked at before a search above that limit is given up.
const TRIES: usize = 4000;

/// A stroke: which bends, the unit that stands for them, and which side lies at the gauge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Stroke {
    pub(super) mask: Done,
    pub(super) unit: usize,
    pub(super) gauge: usize,
}

/// Punches and dies as bits. A state keeps all that served since tools were last changed: which of
/// them is set up is left open until no other serves, so that the fewest changes are found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Tools {
    pub(super) punches: u64,
    pub(super) dies: u64,
}

impl Tools {
    const ALL: Self = Self { punches: u64::MAX, dies: u64::MAX };

    fn of(unit: &Unit) -> Self {
        let bits = |of: &[usize]| of.iter().fold(0, |bits, i| bits | 1 << i);
        Self { punches: bits(&unit.punches), dies: bits(&unit.dies) }
    }

    fn both(self, other: Self) -> Self {
        Self { punches: self.punches & other.punches, dies: self.dies & other.dies }
    }

    fn serves(self) -> bool {
        self.punches != 0 && self.dies != 0
    }

    fn holds(self, other: Self) -> bool {
        self.both(other) == other
    }
}

/// A stroke made, and what could be set up for it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Made {
    pub(super) before: Done,
    pub(super) stroke: Stroke,
    pub(super) tools: Tools,
    pub(super) changed: bool,
}

/// One of the two tools by its index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Tool {
    Punch(usize),
    Die(usize),
}

/// What is beside a bending line, and where each side can be stopped.
pub(super) struct Beside {
    pub(super) sides: Sides,
    pub(super) stops: [Option<Stop>; 2],
}

/// A state reached, and from where.
struct Reached {
    done: Done,
    lie: Option<usize>,
    tools: Tools,
    cost: Cost,
    from: Option<(usize, Made)>,
}

/// A stroke waiting for its turn: the least it comes to, what is preferred among equals, and what
/// it is. `deep` comes first where not every order is weighed.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Waiting {
    deep: Reverse<u32>,
    least: Cost,
    made: Reverse<u32>,
    /// Distance of the stop, mm.
    distance: i64,
    from: usize,
    stroke: Stroke,
    cost: Cost,
    /// Tools to change to; none until it is found that a change is needed.
    change: Option<Tools>,
}

/// What the search found.
pub(super) enum Found {
    /// The strokes in order, with the cost.
    Order(Vec<Made>, Cost),
    /// Nothing.
    Nothing,
}

/// What is known of each stroke with each tool: the lengths to set up, or what is hit.
type Fits = BTreeMap<(Done, Stroke, Tool), Result<Rc<Runs>, Hit>>;

/// The cheapest ways, with their tools, by which what is done and the stroke before was reached.
type Opened = BTreeMap<(Done, Option<usize>), Vec<(Cost, Tools)>>;

/// A search with what it has found out.
pub(super) struct Search<'j, 'a> {
    pub(super) job: &'j Job<'a>,
    beside: BTreeMap<(Done, Done), Rc<Beside>>,
    fits: Fits,
    reached: Vec<Reached>,
    opened: Opened,
    heap: BinaryHeap<Reverse<Waiting>>,
    /// Whether all orders were weighed.
    pub(super) exact: bool,
}

impl<'j, 'a> Search<'j, 'a> {
    pub(super) fn new(job: &'j Job<'a>) -> Self {
        Self {
            exact: job.units.len() <= EXACT,
            job,
            beside: BTreeMap::new(),
            fits: BTreeMap::new(),
            reached: Vec::new(),
            opened: BTreeMap::new(),
            heap: BinaryHeap::new(),
        }
    }

    /// The cheapest order.
    pub(super) fn run(&mut self) -> Found {
        let (tools, cost) = (Tools::ALL, Cost::default());
        self.reach(Reached { done: 0, lie: None, tools, cost, from: None });
        let all = self.job.all();
        while let Some(Reverse(next)) = self.heap.pop() {
            if !self.exact && TRIES < self.fits.len() {
                return Found::Nothing;
            }
            let Some(reached) = self.made(next) else { continue };
            if reached.done == all {
                return Found::Order(self.order(reached.from), reached.cost);
            }
            self.reach(reached);
        }
        Found::Nothing
    }

    /// The state after a stroke whose turn has come; none when it cannot be made, or has to wait
    /// again because tools must be changed for it.
    fn made(&mut self, next: Waiting) -> Option<Reached> {
        let before = self.reached[next.from].done;
        let unit = &self.job.units[next.stroke.unit];
        let lie = Some(unit.lies[next.stroke.gauge]);
        let done = before | next.stroke.mask;
        let held = self.reached[next.from].tools;
        if self.is_known((done, lie), next.cost, next.change.unwrap_or(held)) {
            return None;
        }
        let (tools, changed) = match next.change {
            Some(tools) => (tools, true),
            None => (self.serving(before, next.stroke, held.both(Tools::of(unit))), false),
        };
        if !tools.serves() {
            self.change(before, next, Tools::of(unit));
            return None;
        }
        let made = Made { before, stroke: next.stroke, tools, changed };
        Some(Reached { done, lie, tools, cost: next.cost, from: Some((next.from, made)) })
    }

    /// Lets a stroke wait again with the tools that serve it, where there are any.
    fn change(&mut self, before: Done, mut next: Waiting, all: Tools) {
        let tools = self.serving(before, next.stroke, all);
        if next.change.is_none() && self.reached[next.from].from.is_some() && tools.serves() {
            let one = Cost { changes: 1, ..Cost::default() };
            next.cost = next.cost.plus(one);
            next.least = next.least.plus(one);
            next.change = Some(tools);
            self.heap.push(Reverse(next));
        }
    }

    /// Which of these tools serve a stroke.
    fn serving(&mut self, before: Done, stroke: Stroke, of: Tools) -> Tools {
        let mut serving = Tools { punches: 0, dies: 0 };
        for i in (0..64).filter(|i| of.dies >> i & 1 == 1) {
            serving.dies |= u64::from(self.fit(before, stroke, Tool::Die(i)).is_ok()) << i;
        }
        if serving.dies == 0 {
            return serving;
        }
        for i in (0..64).filter(|i| of.punches >> i & 1 == 1) {
            serving.punches |= u64::from(self.fit(before, stroke, Tool::Punch(i)).is_ok()) << i;
        }
        serving
    }

    /// Whether a state was reached as cheaply with at least the same tools to choose from.
    fn is_known(&self, at: (Done, Option<usize>), cost: Cost, tools: Tools) -> bool {
        let known = self.opened.get(&at);
        known.is_some_and(|all| all.iter().any(|(c, t)| *c <= cost && t.holds(tools)))
    }

    fn order(&self, mut from: Option<(usize, Made)>) -> Vec<Made> {
        let mut order = Vec::new();
        while let Some((at, made)) = from {
            order.push(made);
            from = self.reached[at].from;
        }
        order.reverse();
        order
    }

    /// Opens a state: every stroke that leads on from it waits for its turn.
    fn reach(&mut self, reached: Reached) {
        let Reached { done, lie, tools, cost, .. } = reached;
        if self.is_known((done, lie), cost, tools) {
            return;
        }
        self.opened.entry((done, lie)).or_default().push((cost, tools));
        self.reached.push(reached);
        let from = self.reached.len() - 1;
        for (unit, mask) in self.strokes(done) {
            let beside = self.beside(done, mask, unit);
            for gauge in [0, 1] {
                self.wait(from, Stroke { mask, unit, gauge }, beside.stops[gauge].as_ref());
            }
        }
    }

    fn wait(&mut self, from: usize, stroke: Stroke, stop: Option<&Stop>) {
        let job = self.job;
        let before = &self.reached[from];
        let unit = &job.units[stroke.unit];
        let lie = job.lies[unit.lies[stroke.gauge]];
        let handled = Cost::of_handling(handling(before.lie.map(|lie| job.lies[lie]), lie));
        let cost = before.cost.plus(handled).plus(Cost::of_stop(stop));
        let done = before.done | stroke.mask;
        let dies = before.tools.dies & Tools::of(unit).dies;
        let rest = at_least(job, done, Some(lie), dies);
        let made = done.count_ones();
        self.heap.push(Reverse(Waiting {
            deep: Reverse(if self.exact { 0 } else { made }),
            least: cost.plus(rest),
            made: Reverse(made),
            distance: stop.map_or(0, |stop| stop.distance.round() as i64),
            from,
            stroke,
            cost,
            change: None,
        }));
    }

    /// The strokes that could be next: units alone, and units that lie on one line as the part is.
    fn strokes(&self, done: Done) -> Vec<(usize, Done)> {
        let units = &self.job.units;
        let left: Vec<usize> = (0..units.len()).filter(|&u| done & units[u].mask == 0).collect();
        let poses = self.job.shape.poses(done);
        let mut strokes = Vec::new();
        for &u in &left {
            let in_line = left.iter().filter(|&&v| self.with(&poses, u, v));
            let mask = in_line.fold(0, |mask, &v| mask | units[v].mask);
            let first = left.iter().find(|&&v| mask & units[v].mask != 0);
            if mask != units[u].mask && first == Some(&u) {
                strokes.push((u, mask));
            }
            strokes.push((u, units[u].mask));
        }
        strokes
    }

    fn with(&self, poses: &[Pose<FaceFrame, PartFrame>], u: usize, v: usize) -> bool {
        let (a, b) = (&self.job.units[u], &self.job.units[v]);
        u == v || (a.sense == b.sense && self.job.shape.in_line(poses, a.bends[0], b.bends[0]))
    }

    /// The bends of a stroke, the unit that names it first.
    pub(super) fn bends(&self, mask: Done, unit: usize) -> Vec<usize> {
        let first = self.job.units[unit].bends.iter().copied();
        let others = self.job.units.iter().enumerate();
        let others = others.filter(|(u, other)| *u != unit && mask & other.mask != 0);
        first.chain(others.flat_map(|(_, other)| other.bends.iter().copied())).collect()
    }

    /// What lies beside the bends of a stroke.
    pub(super) fn beside(&mut self, done: Done, mask: Done, unit: usize) -> Rc<Beside> {
        if let Some(known) = self.beside.get(&(done, mask)) {
            return Rc::clone(known);
        }
        let job = self.job;
        let poses = job.shape.poses(done);
        let sides = job.shape.sides(&poses, done, &self.bends(mask, unit));
        let stops = [0, 1].map(|side| gauge::stop(&job.shape, &sides, side, job.bench.brake));
        let beside = Rc::new(Beside { sides, stops });
        self.beside.insert((done, mask), Rc::clone(&beside));
        beside
    }

    /// Whether a stroke can be made with a tool, and what of it is set up.
    pub(super) fn fit(&mut self, done: Done, stroke: Stroke, tool: Tool) -> Result<Rc<Runs>, Hit> {
        if let Some(known) = self.fits.get(&(done, stroke, tool)) {
            return known.clone();
        }
        let beside = self.beside(done, stroke.mask, stroke.unit);
        let bench = self.job.bench;
        let trial = Trial {
            sides: &beside.sides,
            stroke: &self.job.units[stroke.unit].stroke,
            gauge: stroke.gauge,
            uncovered: bench.brake.uncovered,
        };
        let runs = match tool {
            Tool::Punch(i) => trial.punch(&bench.punches[i]),
            Tool::Die(i) => trial.die(&bench.dies[i]),
        };
        let runs = runs.map(Rc::new);
        self.fits.insert((done, stroke, tool), runs.clone());
        runs
    }

    /// Sets of bends made that were reached, those with the most first.
    pub(super) fn reached(&self) -> Vec<Done> {
        let mut sets: Vec<Done> = self.reached.iter().map(|r| r.done).collect();
        sets.sort_by_key(|done| (Reverse(done.count_ones()), *done));
        sets.dedup();
        sets
    }

    /// What a unit meets in a state with the tools that come first, and these.
    pub(super) fn obstacle(&mut self, done: Done, unit: usize) -> Option<(Hit, [usize; 2])> {
        let it = &self.job.units[unit];
        let (Some(&punch), Some(&die)) = (it.punches.first(), it.dies.first()) else {
            return Some((Hit { obstacle: Obstacle::NoTool, what: None }, [0, 0]));
        };
        let stroke = Stroke { mask: it.mask, unit, gauge: 1 };
        let tools = [Tool::Punch(punch), Tool::Die(die)];
        let hit = tools.into_iter().find_map(|tool| self.fit(done, stroke, tool).err());
        hit.map(|hit| (hit, [punch, die]))
    }
}
