//! The parts of a job made ready for laying out: every way in which each may lie, and the no-fit
//! polygons between them.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::nest::minkowski::no_fit;
use crate::nest::model::{Item, Job, Placed, Rect, Ring, Shape};
use crate::nest::nfp::NoFit;
use crate::nest::pad::pad;
use crate::nest::ring::{Contours, bounds, minus, plus, posed, shifted};

/// A job with its forms. No-fit polygons are worked out when first asked for and kept; they are
/// the same whoever asks first.
#[derive(Debug)]
pub struct Core {
    /// What is laid out, and on what.
    pub job: Job,
    /// Per item its poses, in the order of turns, mirrored ones last.
    pub poses: Vec<Vec<Pose>>,
    forms: Vec<Form>,
    /// Per stock, the forms of its blocked rectangles and where they lie.
    blocked: Vec<Vec<(usize, [i64; 2])>>,
    pairs: Vec<OnceLock<Row>>,
}

type Row = Box<[OnceLock<NoFit>]>;

/// One way in which an item may lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pose {
    /// Index of the outline it shows. Poses that look alike share one, of other items too.
    pub form: usize,
    /// Turn, degrees counter-clockwise.
    pub turn: u16,
    /// Whether it lies face down.
    pub mirrored: bool,
    /// From the lower left corner of the form to the item's own origin.
    pub shift: [i64; 2],
}

/// An outline as it lies, the lower left corner of the rectangle about it at the origin.
#[derive(Debug)]
pub(crate) struct Form {
    /// Extent along x and y of the true outline.
    pub size: [i64; 2],
    padded: Shape,
    slack: Shape,
}

impl Core {
    /// Works out all forms.
    pub fn new(job: Job) -> Self {
        let mut maker = Maker { known: BTreeMap::new(), forms: Vec::new(), half: half(job.gap) };
        let poses = job.items.iter().map(|item| maker.poses(item)).collect();
        let blocked = job.stock.iter().map(|stock| maker.blocked(&stock.blocked)).collect();
        let forms = maker.forms;
        let pairs = forms.iter().map(|_| OnceLock::new()).collect();
        Self { job, poses, forms, blocked, pairs }
    }

    pub(crate) fn form(&self, form: usize) -> &Form {
        &self.forms[form]
    }

    /// The same with the pose itself.
    pub(crate) fn pose_of(&self, placed: &Placed) -> Option<(Pose, [i64; 2])> {
        let like = |pose: &&Pose| pose.turn == placed.turn && pose.mirrored == placed.mirrored;
        let pose = *self.poses.get(placed.item)?.iter().find(like)?;
        Some((pose, minus(placed.at, pose.shift)))
    }

    /// Extent of a form along x and y.
    pub fn form_size(&self, form: usize) -> [i64; 2] {
        self.forms[form].size
    }

    pub(crate) fn form_count(&self) -> usize {
        self.forms.len()
    }

    /// The blocked rectangles of a stock as forms with places.
    pub(crate) fn blocked(&self, stock: usize) -> &[(usize, [i64; 2])] {
        &self.blocked[stock]
    }

    /// Where on a stock the true outlines must lie: the sheet less its margin.
    pub fn room(&self, stock: usize) -> Rect {
        let size = self.job.stock[stock].size;
        let margin = self.job.margin;
        Rect { low: [margin; 2], high: size.map(|s| s - margin) }
    }

    /// Net area of an item, square hundredths.
    pub fn area(&self, item: usize) -> f64 {
        self.job.items[item].shape.area()
    }

    /// Whether an item fits a stock's room at all, in any pose, with nothing else on it.
    pub fn fits(&self, item: usize, stock: usize) -> bool {
        let room = self.room(stock);
        self.poses[item].iter().any(|pose| {
            let size = self.form(pose.form).size;
            (0..2).all(|k| size[k] <= room.high[k] - room.low[k])
        })
    }

    /// An item's pose with the lower left corner of its form at a place.
    pub fn placed(&self, item: usize, pose: Pose, at: [i64; 2]) -> Placed {
        Placed { item, at: plus(at, pose.shift), turn: pose.turn, mirrored: pose.mirrored }
    }

    /// The form of what is placed and the lower left corner of the rectangle about it; none where
    /// the item has no such pose.
    pub fn form_of(&self, placed: &Placed) -> Option<(usize, [i64; 2])> {
        let (pose, at) = self.pose_of(placed)?;
        Some((pose.form, at))
    }

    /// Shifts of one form against another at which the two just touch: the corners of their no-fit
    /// polygon.
    pub fn touching(&self, fixed: usize, moving: usize) -> Vec<[i64; 2]> {
        let corners = self.no_fit(fixed, moving).exact.iter().flatten();
        corners.map(|p| [i64::from(p.x), i64::from(p.y)]).collect()
    }

    /// Shifts of `moving` against `fixed` at which they overlap.
    pub(crate) fn no_fit(&self, fixed: usize, moving: usize) -> &NoFit {
        let row =
            self.pairs[fixed].get_or_init(|| self.forms.iter().map(|_| OnceLock::new()).collect());
        row[moving].get_or_init(|| self.work_out(fixed, moving))
    }

    fn work_out(&self, fixed: usize, moving: usize) -> NoFit {
        if moving < fixed {
            return self.no_fit(moving, fixed).opposite();
        }
        let (a, b) = (&self.forms[fixed], &self.forms[moving]);
        let exact: Contours = no_fit(&a.padded, &b.padded).into_iter().flatten().collect();
        let slack: Contours = no_fit(&a.padded, &b.slack).into_iter().flatten().collect();
        NoFit::new(exact, slack)
    }
}

/// Half the gap, rounded up.
fn half(gap: i64) -> i64 {
    (gap + 1) / 2
}

/// Finds forms that are known already.
struct Maker {
    known: BTreeMap<Vec<Ring>, usize>,
    forms: Vec<Form>,
    half: i64,
}

impl Maker {
    fn poses(&mut self, item: &Item) -> Vec<Pose> {
        let mut poses = Vec::new();
        for (turn, mirrored) in item.poses() {
            let shape = posed(&item.shape, turn, mirrored);
            let shift = bounds(&shape.outer).low.map(|c| -c);
            let form = self.form(shifted(&shape, shift));
            poses.push(Pose { form, turn, mirrored, shift });
        }
        poses
    }

    fn blocked(&mut self, rects: &[Rect]) -> Vec<(usize, [i64; 2])> {
        let one = |rect: &Rect| {
            let [w, h] = minus(rect.high, rect.low);
            let outer = vec![[0, 0], [w, 0], [w, h], [0, h]];
            (self.form(Shape { outer, holes: Vec::new() }), rect.low)
        };
        rects.iter().map(one).collect()
    }

    fn form(&mut self, shape: Shape) -> usize {
        let key = key(&shape);
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        self.forms.push(Form {
            size: bounds(&shape.outer).high,
            padded: pad(&shape, self.half),
            slack: pad(&shape, self.half - 1),
        });
        self.known.insert(key, self.forms.len() - 1);
        self.forms.len() - 1
    }
}

/// The rings, each from its least corner on, outline first, holes sorted.
fn key(shape: &Shape) -> Vec<Ring> {
    let from_least = |ring: &Ring| {
        let mut ring = ring.clone();
        let least = (0..ring.len()).min_by_key(|&i| ring[i]).unwrap_or(0);
        ring.rotate_left(least);
        ring
    };
    let mut holes: Vec<Ring> = shape.holes.iter().map(from_least).collect();
    holes.sort();
    std::iter::once(from_least(&shape.outer)).chain(holes).collect()
}
