//! How far a facet covers a line in the picture.

use super::model::{Facet, Spot};
use super::ring::{BORDER, Dot, crosses, crossings, to_side, turns};

/// The extent of something along three directions of the picture: x, and across each of the two
/// receding axes of an isometric view, along which most edges run.
#[derive(Debug, Clone, Copy)]
pub(super) struct Extent {
    low: [f64; 3],
    high: [f64; 3],
}

impl Extent {
    /// The extent of some points.
    pub(super) fn of(points: &[Spot]) -> Self {
        let mut extent = Self { low: [f64::INFINITY; 3], high: [f64::NEG_INFINITY; 3] };
        for p in points {
            let half = 0.5 * p.x;
            let tall = SQRT_3_4 * p.y;
            for (i, value) in [p.x, half + tall, half - tall].into_iter().enumerate() {
                extent.low[i] = extent.low[i].min(value);
                extent.high[i] = extent.high[i].max(value);
            }
        }
        extent
    }

    /// Whether the two may overlap.
    pub(super) fn meets(&self, other: &Self) -> bool {
        (0..3)
            .all(|i| self.low[i] <= other.high[i] + BORDER && other.low[i] <= self.high[i] + BORDER)
    }
}

/// Square root of 3/4.
const SQRT_3_4: f64 = 0.866_025_403_784_438_6;

/// A line on its way past the facets that may hide it.
#[derive(Debug)]
pub(super) struct Sight {
    /// The line.
    pub(super) line: [Spot; 2],
    /// Its extent.
    pub(super) reach: Extent,
    /// Stretches found hidden, as shares of its length.
    pub(super) hidden: Vec<[f64; 2]>,
    cuts: Vec<f64>,
}

impl Sight {
    /// A line of which nothing is hidden so far.
    pub(super) fn new(line: [Spot; 2]) -> Self {
        Self { line, reach: Extent::of(&line), hidden: Vec::new(), cuts: Vec::new() }
    }
}

/// A facet that covers what lies behind it.
#[derive(Debug)]
pub(super) struct Cover {
    /// The facet's loops in the picture, each with its extent.
    loops: Vec<(Vec<Dot>, Extent)>,
    /// z = plane[0] x + plane[1] y + plane[2].
    plane: [f64; 3],
}

impl Cover {
    /// The cover of a facet that is not seen edge on.
    pub(super) fn new(facet: &Facet) -> Self {
        let n = facet.normal;
        let (x, y) = (-n.x / n.z, -n.y / n.z);
        let offset = facet.loops[0].first().map_or(0.0, |p| p.z - x * p.x - y * p.y);
        let flat = |ring: &Vec<Spot>| ring.iter().map(|p| Dot::new(p.x, p.y)).collect();
        let loops = facet.loops.iter().map(|ring| (flat(ring), Extent::of(ring))).collect();
        Self { loops, plane: [x, y, offset] }
    }

    /// The extent of the whole facet.
    pub(super) fn extent(&self) -> &Extent {
        &self.loops[0].1
    }

    /// How far a point lies behind the facet's plane.
    pub(super) fn depth(&self, p: Spot) -> f64 {
        self.height(Dot::new(p.x, p.y)) - p.z
    }

    /// Whether a point of the picture lies on the facet, its border included.
    pub(super) fn holds(&self, p: Dot) -> bool {
        on(self.loops.iter(), p)
    }

    /// How far this facet lies ahead of another where both are seen in the same place: the greatest
    /// distance found, negative when it lies behind, 0 when they do not overlap. Holes count as
    /// filled.
    pub(super) fn ahead_of(&self, other: &Self) -> f64 {
        let (mine, theirs) = (&self.loops[0].0, &other.loops[0].0);
        let mut most = 0.0_f64;
        let mut weigh = |p: Dot| {
            let ahead = self.height(p) - other.height(p);
            if ahead.abs() > most.abs() {
                most = ahead;
            }
        };
        let within = |ring: &[Dot], p: Dot| turns(ring, p) == Some(true);
        mine.iter().filter(|p| within(theirs, **p)).for_each(|p| weigh(*p));
        theirs.iter().filter(|p| within(mine, **p)).for_each(|p| weigh(*p));
        let middle = mine.iter().fold(Dot::new(0.0, 0.0), |sum, p| sum + *p);
        let middle = middle * (1.0 / mine.len() as f64);
        if within(mine, middle) && within(theirs, middle) {
            weigh(middle);
        }
        let mut before = mine[mine.len() - 1];
        for &p in mine {
            crosses(theirs, &[before, p], &mut weigh);
            before = p;
        }
        most
    }

    /// Height of the facet's plane towards the viewer.
    fn height(&self, p: Dot) -> f64 {
        self.plane[0] * p.x + self.plane[1] * p.y + self.plane[2]
    }

    /// Distance in the picture from a point to the nearest border of the facet.
    pub(super) fn clearance(&self, p: Dot) -> f64 {
        let rings = self.loops.iter().flat_map(|(ring, _)| {
            ring.iter().enumerate().map(move |(i, a)| (*a, ring[(i + 1) % ring.len()]))
        });
        rings.map(|(a, b)| to_side(p, a, b)).fold(f64::INFINITY, f64::min)
    }

    /// Adds the stretches of a line, as shares of its length, that lie behind the facet by more
    /// than `slack` somewhere.
    pub(super) fn hide(&self, sight: &mut Sight, slack: f64) {
        let Some([from, to]) = self.behind(&sight.line, slack) else { return };
        let flat = sight.line.map(|p| Dot::new(p.x, p.y));
        sight.cuts.clear();
        sight.cuts.extend([from, to]);
        for (ring, _) in self.loops.iter().filter(|(_, reach)| reach.meets(&sight.reach)) {
            crossings(ring, &flat, &mut sight.cuts);
        }
        sight.cuts.retain(|t| from <= *t && *t <= to);
        sight.cuts.sort_by(f64::total_cmp);
        for pair in sight.cuts.windows(2).filter(|pair| pair[0] < pair[1]) {
            let middle = flat[0].toward(flat[1], (pair[0] + pair[1]) / 2.0);
            if self.covers(middle, &sight.reach) {
                sight.hidden.push([pair[0], pair[1]]);
            }
        }
    }

    /// Whether a point of a line of the given extent is covered.
    fn covers(&self, p: Dot, extent: &Extent) -> bool {
        on(self.loops.iter().filter(|(_, reach)| reach.meets(extent)), p)
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

/// Whether a point lies within or on rings taken together (even-odd).
fn on<'a>(rings: impl Iterator<Item = &'a (Vec<Dot>, Extent)>, p: Dot) -> bool {
    let mut inside = false;
    for (ring, _) in rings {
        match turns(ring, p) {
            None => return true,
            Some(odd) => inside ^= odd,
        }
    }
    inside
}
