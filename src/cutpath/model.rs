//! Contours, the machine's pace, and the order found.

use crate::geom::{BedFrame, Bounds, Point};

/// A closed contour to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    /// Where the laser may begin; at least one. It ends there too.
    pub starts: Vec<Point<BedFrame>>,
    /// The box around it.
    pub bounds: Bounds<BedFrame>,
    /// Its length, mm.
    pub length: f64,
    /// Whether it belongs to the first round: an inside contour in which nothing lies.
    pub first: bool,
    /// The contour that may be cut only after this one.
    pub then: Option<usize>,
}

/// The machine between cuts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Speed of moves, mm/s.
    pub rapid: f64,
    /// Small contours nearer than this are neighbours, mm.
    pub heat_distance: f64,
    /// Time from the end of one to the start of its neighbour, at least, s.
    pub heat_pause: f64,
}

/// One cut of the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Index of the contour.
    pub contour: usize,
    /// Index of its start.
    pub start: usize,
}

/// An order of cuts, from the sheet's lower left corner on.
#[derive(Debug, Clone, PartialEq)]
pub struct Tour {
    /// The cuts.
    pub steps: Vec<Step>,
    /// Way between them, mm.
    pub travel: f64,
    /// Pauses between neighbours, s.
    pub pauses: f64,
}

/// A contour longer than this has cooled where it was begun before it is closed, mm: at 200 mm/s
/// it takes more than a second.
const SMALL: f64 = 250.0;

impl Tour {
    /// An order with its way and pauses.
    pub(super) fn of(contours: &[Contour], pace: &Pace, steps: Vec<Step>) -> Self {
        let (mut travel, mut pauses) = (0.0, 0.0);
        let mut before: Option<Step> = None;
        for step in &steps {
            let way = distance(place(contours, before), place(contours, Some(*step)));
            travel += way;
            pauses += before.map_or(0.0, |before| pause(contours, pace, [before, *step], way));
            before = Some(*step);
        }
        Self { steps, travel, pauses }
    }

    /// Time between cuts, s.
    pub fn seconds(&self, pace: &Pace) -> f64 {
        self.travel / pace.rapid + self.pauses
    }

    /// Pairs of neighbours that are cut one after the other.
    pub fn hot_pairs(&self, contours: &[Contour], pace: &Pace) -> usize {
        let pairs = self.steps.windows(2);
        pairs.filter(|two| near(contours, pace, two[0].contour, two[1].contour)).count()
    }
}

/// Where the laser is before a step, or at the beginning.
pub(super) fn place(contours: &[Contour], step: Option<Step>) -> Point<BedFrame> {
    step.map_or(Point::new(0.0, 0.0), |step| contours[step.contour].starts[step.start])
}

/// Distance of two places, mm.
pub(super) fn distance(a: Point<BedFrame>, b: Point<BedFrame>) -> f64 {
    let way = b - a;
    way.dot(way).sqrt()
}

/// Time from one cut to the next, s; from the corner of the sheet without `before`.
pub(super) fn cost(contours: &[Contour], pace: &Pace, before: Option<Step>, step: Step) -> f64 {
    let way = distance(place(contours, before), place(contours, Some(step)));
    let pause = before.map_or(0.0, |before| pause(contours, pace, [before, step], way));
    way / pace.rapid + pause
}

fn pause(contours: &[Contour], pace: &Pace, [a, b]: [Step; 2], way: f64) -> f64 {
    let rest = pace.heat_pause - way / pace.rapid;
    if 0.0 < rest && near(contours, pace, a.contour, b.contour) { rest } else { 0.0 }
}

/// Whether two contours are small and close to each other.
fn near(contours: &[Contour], pace: &Pace, a: usize, b: usize) -> bool {
    let (a, b) = (&contours[a], &contours[b]);
    if SMALL < a.length || SMALL < b.length {
        return false;
    }
    let gap = |a: [f64; 2], b: [f64; 2]| (b[0] - a[1]).max(a[0] - b[1]).max(0.0);
    let across = gap([a.bounds.low.x, a.bounds.high.x], [b.bounds.low.x, b.bounds.high.x]);
    let up = gap([a.bounds.low.y, a.bounds.high.y], [b.bounds.low.y, b.bounds.high.y]);
    across * across + up * up < pace.heat_distance * pace.heat_distance
}
