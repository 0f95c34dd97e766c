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
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};
use std::rc::Rc;

use super::cost::{Cost, at_least, handling};
use super::fit::{Hit, Obstacle, Trial};
use super::gauge;
use super::job::Job;
use super::plan::Stop;
use super::runs::Runs;
use super::shape::{Done, Sides};
use crate::geom::{FaceFrame, PartFrame, Pose};

/// Groups of bends up to which every order is weighed.
pub(super) const EXACT: usize = 12;

/// Strokes looked at before a search above that limit is given up.
const TRIES: usize = 4000;

/// A stroke that could be made: which units, which side at the gauge, which tools.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Choice {
    pub(super) mask: Done,
    pub(super) unit: usize,
    pub(super) gauge: usize,
    pub(super) punch: usize,
    pub(super) die: usize,
}

/// One of the two tools by its index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Tool {
    Punch(usize),
    Die(usize),
}

/// A stroke as far as one tool has to do with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Half {
    mask: Done,
    unit: usize,
    gauge: usize,
    tool: Tool,
}

/// A stroke made.
#[derive(Debug, Clone)]
pub(super) struct Made {
    pub(super) before: Done,
    pub(super) choice: Choice,
    /// What is set up of punch and die.
    pub(super) set_up: [Rc<Runs>; 2],
}

/// What is beside a bending line, and where each side can be stopped.
pub(super) struct Beside {
    pub(super) sides: Sides,
    pub(super) stops: [Option<Stop>; 2],
}

/// A state on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    done: Done,
    lie: Option<usize>,
    tools: Option<(usize, usize)>,
}

/// A state reached, and from where.
struct Reached {
    state: State,
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
    preference: [i64; 2],
    from: usize,
    choice: Choice,
    cost: Cost,
}

/// What the search found.
pub(super) enum Found {
    /// The strokes in order, with the cost.
    Order(Vec<Made>, Cost),
    /// Nothing.
    Nothing,
}

/// A search with what it has found out.
pub(super) struct Search<'j, 'a> {
    pub(super) job: &'j Job<'a>,
    beside: BTreeMap<(Done, Done), Rc<Beside>>,
    fits: BTreeMap<(Done, Half), Result<Rc<Runs>, Hit>>,
    reached: Vec<Reached>,
    opened: BTreeSet<State>,
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
            opened: BTreeSet::new(),
            heap: BinaryHeap::new(),
        }
    }

    /// The cheapest order.
    pub(super) fn run(&mut self) -> Found {
        let start = State { done: 0, lie: None, tools: None };
        self.reach(Reached { state: start, cost: Cost::default(), from: None });
        let all = self.job.all();
        while let Some(Reverse(next)) = self.heap.pop() {
            if !self.exact && TRIES < self.fits.len() {
                return Found::Nothing;
            }
            let state = self.after(next.from, next.choice);
            if self.opened.contains(&state) {
                continue;
            }
            let before = self.reached[next.from].state.done;
            let Ok(set_up) = self.fit(before, next.choice) else { continue };
            let made = Made { before, choice: next.choice, set_up };
            let from = Some((next.from, made));
            if state.done == all {
                return Found::Order(self.order(from), next.cost);
            }
            self.reach(Reached { state, cost: next.cost, from });
        }
        Found::Nothing
    }

    fn after(&self, from: usize, choice: Choice) -> State {
        State {
            done: self.reached[from].state.done | choice.mask,
            lie: Some(self.job.units[choice.unit].lies[choice.gauge]),
            tools: Some((choice.punch, choice.die)),
        }
    }

    fn order(&self, mut from: Option<(usize, Made)>) -> Vec<Made> {
        let mut order = Vec::new();
        while let Some((at, made)) = from {
            order.push(made);
            from = self.reached[at].from.clone();
        }
        order.reverse();
        order
    }

    /// Opens a state: every stroke that leads on from it waits for its turn.
    fn reach(&mut self, reached: Reached) {
        let state = reached.state;
        if !self.opened.insert(state) {
            return;
        }
        let cost = reached.cost;
        self.reached.push(reached);
        let from = self.reached.len() - 1;
        for (unit, mask) in self.strokes(state.done) {
            let beside = self.beside(state.done, mask, unit);
            for gauge in [0, 1] {
                self.wait(from, (unit, mask, gauge), (cost, beside.stops[gauge].as_ref()));
            }
        }
    }

    fn wait(
        &mut self,
        from: usize,
        (unit, mask, gauge): (usize, Done, usize),
        (cost, stop): (Cost, Option<&Stop>),
    ) {
        let job = self.job;
        let state = self.reached[from].state;
        let lie = job.lies[job.units[unit].lies[gauge]];
        let handled = Cost::of_handling(handling(state.lie.map(|lie| job.lies[lie]), lie));
        let cost = cost.plus(handled).plus(Cost::of_stop(stop));
        let done = state.done | mask;
        let distance = stop.map_or(0, |stop| stop.distance.round() as i64);
        for &die in &job.units[unit].dies {
            let rest = at_least(job, done, Some(lie), Some(die));
            for &punch in &job.units[unit].punches {
                let changed = state.tools.is_some_and(|tools| tools != (punch, die));
                let changes = Cost { changes: u16::from(changed), ..Cost::default() };
                let cost = cost.plus(changes);
                let made = done.count_ones();
                self.heap.push(Reverse(Waiting {
                    deep: Reverse(if self.exact { 0 } else { made }),
                    least: cost.plus(rest),
                    made: Reverse(made),
                    preference: [punch as i64, distance],
                    from,
                    choice: Choice { mask, unit, gauge, punch, die },
                    cost,
                }));
            }
        }
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

    /// Whether a stroke can be made, and what of punch and die is set up.
    pub(super) fn fit(&mut self, done: Done, choice: Choice) -> Result<[Rc<Runs>; 2], Hit> {
        let Choice { mask, unit, gauge, punch, die } = choice;
        let half = |tool| Half { mask, unit, gauge, tool };
        Ok([self.half(done, half(Tool::Punch(punch)))?, self.half(done, half(Tool::Die(die)))?])
    }

    fn half(&mut self, done: Done, half: Half) -> Result<Rc<Runs>, Hit> {
        if let Some(known) = self.fits.get(&(done, half)) {
            return known.clone();
        }
        let beside = self.beside(done, half.mask, half.unit);
        let bench = self.job.bench;
        let brake = bench.brake;
        let trial = Trial {
            sides: &beside.sides,
            stroke: &self.job.units[half.unit].stroke,
            gauge: half.gauge,
            uncovered: brake.uncovered,
        };
        let runs = match half.tool {
            Tool::Punch(i) => trial.punch((&bench.punches[i], &brake.punches[i].tool.segments)),
            Tool::Die(i) => trial.die((&bench.dies[i], &brake.dies[i].tool.segments)),
        };
        let runs = runs.map(Rc::new);
        self.fits.insert((done, half), runs.clone());
        runs
    }

    /// Sets of bends made that were reached, those with the most first.
    pub(super) fn reached(&self) -> Vec<Done> {
        let mut sets: Vec<Done> = self.reached.iter().map(|r| r.state.done).collect();
        sets.sort_by_key(|done| (Reverse(done.count_ones()), *done));
        sets.dedup();
        sets
    }

    /// What a unit meets in a state, with the tools that come first.
    pub(super) fn obstacle(&mut self, done: Done, unit: usize) -> Option<(Hit, Option<Choice>)> {
        let it = &self.job.units[unit];
        let (Some(&punch), Some(&die)) = (it.punches.first(), it.dies.first()) else {
            return Some((Hit { obstacle: Obstacle::NoTool, what: None }, None));
        };
        let choice = Choice { mask: it.mask, unit, gauge: 1, punch, die };
        self.fit(done, choice).err().map(|hit| (hit, Some(choice)))
    }
}
