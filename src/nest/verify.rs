//! Layouts held against the job, in double precision and without any no-fit polygon: distances
//! between true outlines edge by edge, and places in outlines by counting crossings.

use crate::nest::model::{Item, Job, Layout, Left, Placed, Ring};

/// A distance counts as kept when it falls short by less than this, hundredths of a millimetre:
/// what double precision may lose.
const TOLERANCE: f64 = 1e-3;

/// What is wrong with a layout. Sheets and parts are told by their places in the lists.
#[derive(Debug, Clone, PartialEq)]
pub enum Flaw {
    /// Two parts on a sheet lie nearer than the gap, or over each other.
    Gap {
        /// Index of the layout.
        sheet: usize,
        /// Indices of the two parts in its list.
        parts: [usize; 2],
        /// How near, hundredths; 0 where they overlap.
        distance: f64,
    },
    /// A part lies nearer to the sheet's edge than the margin.
    Margin {
        /// Index of the layout.
        sheet: usize,
        /// Index of the part in its list.
        part: usize,
        /// How near, hundredths; negative where it lies beyond.
        distance: f64,
    },
    /// A part lies nearer to a blocked rectangle than the gap.
    Blocked {
        /// Index of the layout.
        sheet: usize,
        /// Index of the part in its list.
        part: usize,
        /// Index of the rectangle in the stock's list.
        place: usize,
        /// How near, hundredths; 0 where they overlap.
        distance: f64,
    },
    /// A part lies turned or face down as its item does not allow, or there is no such item.
    Pose {
        /// Index of the layout.
        sheet: usize,
        /// Index of the part in its list.
        part: usize,
    },
    /// Placed and left do not add up to what is needed.
    Quantity {
        /// Index of the item.
        item: usize,
        /// How many are on sheets or told to be left.
        found: u32,
        /// How many are needed.
        needed: u32,
    },
    /// More sheets of a stock are cut than there are, or there is no such stock.
    Stock {
        /// Index of the stock.
        stock: usize,
        /// How many are cut.
        used: u32,
    },
}

/// All that is wrong with the layouts and the rest of a job; nothing when they can be cut.
pub fn verify(job: &Job, layouts: &[Layout], left: &[Left]) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    quantities(job, layouts, left, &mut flaws);
    stocks(job, layouts, &mut flaws);
    for (sheet, layout) in layouts.iter().enumerate() {
        if layout.stock < job.stock.len() {
            one_sheet(job, sheet, layout, &mut flaws);
        }
    }
    flaws
}

fn quantities(job: &Job, layouts: &[Layout], left: &[Left], flaws: &mut Vec<Flaw>) {
    let mut found = vec![0; job.items.len()];
    for layout in layouts {
        for placed in &layout.placed {
            if let Some(count) = found.get_mut(placed.item) {
                *count += layout.copies;
            }
        }
    }
    for rest in left.iter().filter(|rest| rest.item < job.items.len()) {
        found[rest.item] += rest.quantity;
    }
    for (item, (kind, &found)) in job.items.iter().zip(&found).enumerate() {
        if found != kind.quantity {
            flaws.push(Flaw::Quantity { item, found, needed: kind.quantity });
        }
    }
}

fn stocks(job: &Job, layouts: &[Layout], flaws: &mut Vec<Flaw>) {
    let last = layouts.iter().map(|layout| layout.stock + 1).max().unwrap_or(0);
    for stock in 0..last {
        let used = layouts.iter().filter(|l| l.stock == stock).map(|l| l.copies).sum();
        let there = match job.stock.get(stock) {
            Some(known) => known.count.unwrap_or(u32::MAX),
            None => 0,
        };
        if there < used {
            flaws.push(Flaw::Stock { stock, used });
        }
    }
}

fn one_sheet(job: &Job, sheet: usize, layout: &Layout, flaws: &mut Vec<Flaw>) {
    let mut bodies: Vec<(usize, Body)> = Vec::new();
    for (part, placed) in layout.placed.iter().enumerate() {
        let item = job.items.get(placed.item);
        if !item.is_some_and(|item| allowed(item, placed)) {
            flaws.push(Flaw::Pose { sheet, part });
        }
        if let Some(item) = item {
            bodies.push((part, Body::new(item, placed)));
        }
    }
    for (part, body) in &bodies {
        edges_of_sheet(job, (sheet, layout.stock), (*part, body), flaws);
    }
    bodies.sort_by(|a, b| a.1.low[0].total_cmp(&b.1.low[0]));
    let gap = job.gap as f64;
    for (at, (part, body)) in bodies.iter().enumerate() {
        let near = bodies[at + 1..].iter().take_while(|(_, b)| b.low[0] < body.high[0] + gap);
        for (other, second) in near {
            if let Some(distance) = body.too_near(second, gap) {
                let parts = [*part.min(other), *part.max(other)];
                flaws.push(Flaw::Gap { sheet, parts, distance });
            }
        }
    }
}

fn allowed(item: &Item, placed: &Placed) -> bool {
    let turn = item.turns.all().contains(&placed.turn);
    turn && (item.mirror || !placed.mirrored)
}

fn edges_of_sheet(
    job: &Job,
    (sheet, stock): (usize, usize),
    (part, body): (usize, &Body),
    flaws: &mut Vec<Flaw>,
) {
    let stock = &job.stock[stock];
    let to_edge = |k: usize| body.low[k].min(stock.size[k] as f64 - body.high[k]);
    let distance = to_edge(0).min(to_edge(1));
    if distance < job.margin as f64 - TOLERANCE {
        flaws.push(Flaw::Margin { sheet, part, distance });
    }
    for (place, rect) in stock.blocked.iter().enumerate() {
        let [[x0, y0], [x1, y1]] = [rect.low, rect.high];
        let block = Body::from_rings(vec![vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]]]);
        if let Some(distance) = body.too_near(&block, job.gap as f64) {
            flaws.push(Flaw::Blocked { sheet, part, place, distance });
        }
    }
}

type Point = [f64; 2];

/// A true outline where it lies.
struct Body {
    edges: Vec<(Point, Point)>,
    low: Point,
    high: Point,
    inner: Point,
}

impl Body {
    fn new(item: &Item, placed: &Placed) -> Self {
        let shape = placed.shape(&item.shape);
        Self::from_rings(std::iter::once(shape.outer).chain(shape.holes).collect())
    }

    fn from_rings(rings: Vec<Ring>) -> Self {
        let mut edges = Vec::new();
        for ring in &rings {
            let ends = ring.iter().skip(1).chain(ring.iter().take(1));
            let real = |p: &[i64; 2]| p.map(|c| c as f64);
            edges.extend(ring.iter().zip(ends).map(|(a, b)| (real(a), real(b))));
        }
        let least =
            |k: usize| edges.iter().map(|(p, _): &(Point, Point)| p[k]).fold(f64::MAX, f64::min);
        let most =
            |k: usize| edges.iter().map(|(p, _): &(Point, Point)| p[k]).fold(f64::MIN, f64::max);
        let (low, high) = ([least(0), least(1)], [most(0), most(1)]);
        let mut body = Self { edges, low, high, inner: [0.0; 2] };
        body.inner = body.some_inner_point();
        body
    }

    /// How near the other lies, if nearer than the gap.
    fn too_near(&self, other: &Self, gap: f64) -> Option<f64> {
        let apart = |k: usize| (other.low[k] - self.high[k]).max(self.low[k] - other.high[k]);
        let boxes = apart(0).max(apart(1));
        if gap <= boxes || (gap == 0.0 && 0.0 <= boxes) {
            return None;
        }
        if self.crosses(other) || self.holds(other.inner) || other.holds(self.inner) {
            return Some(0.0);
        }
        let distance = self.distance(other, gap);
        (distance < gap - TOLERANCE).then_some(distance)
    }

    fn crosses(&self, other: &Self) -> bool {
        let near = |edge: &&(Point, Point)| reaches(**edge, other, 0.0);
        self.edges
            .iter()
            .filter(near)
            .any(|&(a, b)| other.edges.iter().any(|&(c, d)| cross_properly(a, b, c, d)))
    }

    /// Distance between the two boundaries, as far as it is below the gap.
    fn distance(&self, other: &Self, gap: f64) -> f64 {
        let mut least = f64::INFINITY;
        for &(a, b) in self.edges.iter().filter(|edge| reaches(**edge, other, gap)) {
            for &(c, d) in other.edges.iter().filter(|edge| reaches(**edge, self, gap)) {
                let ends = [to_edge(a, c, d), to_edge(b, c, d), to_edge(c, a, b), to_edge(d, a, b)];
                least = ends.into_iter().fold(least, f64::min);
            }
        }
        least
    }

    /// Whether a place lies in the material, not in a hole; on the boundary either answer.
    fn holds(&self, p: Point) -> bool {
        let crossed = |(a, b): &&(Point, Point)| {
            (a[1] <= p[1]) != (b[1] <= p[1]) && p[0] < at_height(*a, *b, p[1])
        };
        self.edges.iter().filter(crossed).count() % 2 == 1
    }

    /// A place well within the material: the middle of the widest stretch of a line at a height
    /// where no corner lies.
    fn some_inner_point(&self) -> Point {
        let mut heights: Vec<f64> = self.edges.iter().map(|(a, _)| a[1]).collect();
        heights.sort_by(f64::total_cmp);
        let tallest = heights.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
        let y = tallest.map_or(0.0, |pair| (pair[0] + pair[1]) / 2.0);
        let crossed = self.edges.iter().filter(|(a, b)| (a[1] <= y) != (b[1] <= y));
        let mut xs: Vec<f64> = crossed.map(|&(a, b)| at_height(a, b, y)).collect();
        xs.sort_by(f64::total_cmp);
        let widest = xs.chunks(2).filter(|pair| pair.len() == 2);
        let widest = widest.max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
        [widest.map_or(0.0, |pair| (pair[0] + pair[1]) / 2.0), y]
    }
}

/// Whether an edge comes within a distance of the rectangle about a body.
fn reaches((a, b): (Point, Point), body: &Body, gap: f64) -> bool {
    (0..2).all(|k| a[k].min(b[k]) - gap <= body.high[k] && body.low[k] <= a[k].max(b[k]) + gap)
}

fn at_height(a: Point, b: Point, y: f64) -> f64 {
    a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
}

/// Whether the insides of two edges cross; touching is no crossing.
fn cross_properly(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| {
        (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn to_edge(p: Point, a: Point, b: Point) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let from = [p[0] - a[0], p[1] - a[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    let t = ((from[0] * along[0] + from[1] * along[1]) / square).clamp(0.0, 1.0);
    let off = [from[0] - t * along[0], from[1] - t * along[1]];
    (off[0] * off[0] + off[1] * off[1]).sqrt()
}
