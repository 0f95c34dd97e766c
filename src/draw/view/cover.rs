//! How far a facet covers a line in the picture.

use super::common::Common;
use super::extent::Extent;
use super::model::{Facet, Spot};
use super::ring::{BORDER, Dot, clip, crosses, crossings, flat, is_convex, to_ring, turns};

/// A facet that lies ahead of another by more than this in one place, mm, does so everywhere: parts
/// that touch or press into each other do not by so much.
const EVIDENT: f64 = 20.0;

/// A line on its way past the facets that may hide it.
#[derive(Debug)]
pub(super) struct Sight {
    /// The line.
    pub(super) line: [Spot; 2],
    /// Where it starts in the picture.
    pub(super) start: Dot,
    /// From its start to its end in the picture.
    pub(super) along: Dot,
    /// Its length in the picture.
    pub(super) length: f64,
    /// Its extent.
    pub(super) reach: Extent,
    /// How far back it reaches.
    pub(super) deepest: f64,
    /// Stretches found hidden, as shares of its length.
    pub(super) hidden: Vec<[f64; 2]>,
    cuts: Vec<f64>,
}

impl Sight {
    /// A sight of nothing yet.
    pub(super) fn new() -> Self {
        let origin = Spot::new(0.0, 0.0, 0.0);
        let line = [origin, origin];
        let (start, along) = (flat(origin), flat(origin));
        let (reach, hidden, cuts) = (Extent::of(&line), Vec::new(), Vec::new());
        Self { line, start, along, length: 0.0, reach, deepest: 0.0, hidden, cuts }
    }

    /// Turns to a line of which nothing is hidden so far.
    pub(super) fn turn_to(&mut self, line: [Spot; 2]) {
        self.line = line;
        self.start = flat(line[0]);
        self.along = flat(line[1]) - self.start;
        self.length = self.along.length();
        self.reach = Extent::of_line(&line);
        self.deepest = line[0].z.min(line[1].z);
        self.hidden.clear();
    }

    /// Whether one facet alone hides all of it.
    pub(super) fn is_lost(&self) -> bool {
        self.hidden.last().is_some_and(|[from, to]| *from <= 0.0 && 1.0 <= *to)
    }
}

/// A facet that covers what lies behind it.
#[derive(Debug)]
pub(super) struct Cover<'a> {
    /// The facet's loops.
    loops: &'a [Vec<Spot>],
    /// The first of them, with its extent.
    outer: (&'a [Spot], Extent),
    /// The others, with their extents, from left to right.
    holes: Vec<(&'a [Spot], Extent)>,
    /// The greatest width of these.
    widest: f64,
    /// z = plane[0] x + plane[1] y + plane[2].
    plane: [f64; 3],
    /// Whether its outer loop is known to have no corner that turns inwards.
    convex: bool,
}

impl<'a> Cover<'a> {
    /// The cover of a facet that is not seen edge on.
    pub(super) fn new(facet: &'a Facet) -> Self {
        let n = facet.normal;
        let (x, y) = (-n.x / n.z, -n.y / n.z);
        let outer = &facet.loops[0];
        let holes = facet.loops[1..].iter().map(|ring| (ring.as_slice(), Extent::of(ring)));
        let mut holes: Vec<(&[Spot], Extent)> = holes.collect();
        holes.sort_by(|a, b| a.1.left().total_cmp(&b.1.left()));
        let offset = outer.first().map_or(0.0, |p| p.z - x * p.x - y * p.y);
        Self {
            loops: &facet.loops,
            outer: (outer, Extent::of(outer)),
            widest: holes.iter().map(|(_, it)| it.width()).fold(0.0, f64::max),
            holes,
            plane: [x, y, offset],
            convex: is_convex(outer),
        }
    }

    /// The loops, without such holes as lie to the left or to the right of an extent.
    fn rings(&self, reach: &Extent) -> impl Iterator<Item = &(&'a [Spot], Extent)> {
        let (left, reach) = (reach.left() - self.widest - 2.0 * BORDER, *reach);
        let from = self.holes.partition_point(|(_, it)| it.left() < left);
        let near = self.holes[from..].iter().take_while(move |(_, it)| !it.starts_after(&reach));
        std::iter::once(&self.outer).chain(near)
    }

    /// The extent of the whole facet.
    pub(super) fn extent(&self) -> &Extent {
        &self.outer.1
    }

    /// How far a point lies behind the facet's plane.
    pub(super) fn depth(&self, p: Spot) -> f64 {
        self.height(flat(p)) - p.z
    }

    /// Whether a point of the picture lies on the facet, its border included.
    pub(super) fn holds(&self, p: Dot) -> bool {
        self.outer.1.holds(p) && self.encloses(p)
    }

    /// How far this facet lies ahead of another where both are seen in the same place: the greatest
    /// distance found, negative when it lies behind, 0 when they do not overlap. Holes count as
    /// filled.
    pub(super) fn ahead_of(&self, other: &Self) -> f64 {
        let (mine, theirs) = (&self.loops[0], &other.loops[0]);
        let mut most = 0.0_f64;
        let mut weigh = |p: Dot| {
            let ahead = self.height(p) - other.height(p);
            if ahead.abs() > most.abs() {
                most = ahead;
            }
            ahead.abs()
        };
        if self.convex && other.convex {
            Common::new(mine, theirs).corners().iter().for_each(|p| _ = weigh(*p));
            return most;
        }
        let within = |it: &Self, p: &Spot| {
            let p = flat(*p);
            it.outer.1.holds(p) && turns(&it.loops[0], p) == Some(true)
        };
        let ours = mine.iter().filter(|p| within(other, p));
        for p in ours.chain(theirs.iter().filter(|p| within(self, p))) {
            if weigh(flat(*p)) > EVIDENT {
                return most;
            }
        }
        let middle = mine.iter().fold(Spot::new(0.0, 0.0, 0.0), |sum, p| sum + *p);
        let middle = middle * (1.0 / mine.len() as f64);
        if within(self, &middle) && within(other, &middle) && weigh(flat(middle)) > EVIDENT {
            return most;
        }
        let mut before = mine[mine.len() - 1];
        for &p in mine {
            if Extent::of_line(&[before, p]).meets(&other.outer.1) {
                crosses(theirs, &[flat(before), flat(p)], &mut |p| _ = weigh(p));
            }
            before = p;
        }
        most
    }

    /// Height of the facet's plane towards the viewer.
    fn height(&self, p: Dot) -> f64 {
        self.plane[0] * p.x + self.plane[1] * p.y + self.plane[2]
    }

    /// Distance in the picture from a point to the nearest border of the facet; none when it is
    /// less than `least`.
    pub(super) fn clearance(&self, p: Dot, least: f64) -> Option<f64> {
        let mut found = f64::INFINITY;
        for (ring, extent) in std::iter::once(&self.outer).chain(&self.holes) {
            if extent.is_within(found, p) {
                found = found.min(to_ring(p, ring));
            }
            if found < least {
                return None;
            }
        }
        Some(found)
    }

    /// Adds the stretches of a line, as shares of its length, that lie behind the facet by more
    /// than `slack` somewhere.
    pub(super) fn hide(&self, sight: &mut Sight, slack: f64) {
        let Some([from, to]) = self.behind(&sight.line, slack) else { return };
        let (mut from, mut to) = (from, to);
        if self.convex {
            let Some(stretch) = clip(&self.loops[0], sight, [from, to]) else { return };
            if self.holes.is_empty() {
                sight.hidden.push(stretch);
                return;
            }
            [from, to] = stretch;
        }
        let mut cuts = std::mem::take(&mut sight.cuts);
        cuts.clear();
        cuts.extend([from, to]);
        for (ring, _) in self.rings(&sight.reach).filter(|(_, reach)| reach.meets(&sight.reach)) {
            crossings(ring, sight, &mut cuts);
        }
        cuts.retain(|t| from <= *t && *t <= to);
        cuts.sort_unstable_by(f64::total_cmp);
        for pair in cuts.windows(2).filter(|pair| pair[0] < pair[1]) {
            let middle = sight.start + sight.along * ((pair[0] + pair[1]) / 2.0);
            if self.holds(middle) {
                sight.hidden.push([pair[0], pair[1]]);
            }
        }
        sight.cuts = cuts;
    }

    /// Whether a point lies within or on the loops taken together (even-odd).
    fn encloses(&self, p: Dot) -> bool {
        let mut inside = false;
        let here = Extent::of(&[Spot::new(p.x, p.y, 0.0)]);
        for (ring, _) in self.rings(&here).filter(|(_, reach)| reach.holds(p)) {
            match turns(ring, p) {
                None => return true,
                Some(odd) => inside ^= odd,
            }
        }
        inside
    }

    /// The stretch of a line that lies behind the facet's plane.
    fn behind(&self, line: &[Spot; 2], slack: f64) -> Option<[f64; 2]> {
        let level = |d: f64| if d.abs() <= slack { 0.0 } else { d };
        let (a, b) = (level(self.depth(line[0])), level(self.depth(line[1])));
        match (a > 0.0, b > 0.0) {
            (false, false) => None,
            (true, false) if b < 0.0 => Some([0.0, a / (a - b)]),
            (false, true) if a < 0.0 => Some([a / (a - b), 1.0]),
            _ => Some([0.0, 1.0]),
        }
    }
}
