//! A sheet while it is being filled: what lies on it, and for every form where it may still lie.

use crate::nest::core::Core;
use crate::nest::model::Rect;
use crate::nest::nfp::NoFit;
use crate::nest::ring::{Contours, Point, difference, extent, minus, plus};

/// What makes one place better than another. All are read as pairs, the first number first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Ends furthest to the left, then lowest.
    Left,
    /// Ends lowest, then furthest to the left.
    Low,
    /// Starts furthest to the left, then lowest, then ends furthest to the left.
    StartLeft,
    /// Starts lowest, then furthest to the left, then ends lowest.
    StartLow,
}

impl Rule {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Left, Self::Low, Self::StartLeft, Self::StartLow];

    /// The smaller, the better, for a form of a size at a place.
    fn key(self, at: [i64; 2], size: [i64; 2]) -> [i64; 3] {
        let [x, y] = at;
        let [end_x, end_y] = plus(at, size);
        match self {
            Self::Left => [end_x, y, end_y],
            Self::Low => [end_y, x, end_x],
            Self::StartLeft => [x, y, end_x],
            Self::StartLow => [y, x, end_y],
        }
    }
}

/// A place that is free for a form, and how good it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// The smaller, the better; comparable between forms under one rule.
    pub key: [i64; 3],
    /// Lower left corner of the form.
    pub at: [i64; 2],
}

/// How many placed parts are taken out of a free area at once.
const CHUNK: usize = 8;

/// A sheet while it is being filled.
#[derive(Debug, Clone)]
pub struct Bed<'c> {
    core: &'c Core,
    room: Rect,
    /// Forms and the lower left corners at which they lie, blocked rectangles first.
    placed: Vec<(usize, [i64; 2])>,
    /// Per form, as far as it was asked for.
    free: Vec<Option<Free>>,
}

/// Where a form may lie: an area that is a unit too large all around.
#[derive(Debug, Clone)]
struct Free {
    /// How many of the placed ones are taken out.
    seen: usize,
    contours: Contours,
}

impl<'c> Bed<'c> {
    /// An empty sheet of a stock.
    pub fn new(core: &'c Core, stock: usize) -> Self {
        Self::in_room(core, stock, core.room(stock))
    }

    /// An empty sheet on which a smaller room than the whole is to be used.
    pub fn in_room(core: &'c Core, stock: usize, room: Rect) -> Self {
        let placed = core.blocked(stock).to_vec();
        Self { core, room, placed, free: vec![None; core.form_count()] }
    }

    /// Puts a form down. Nobody checks that it is free there.
    pub fn put(&mut self, form: usize, at: [i64; 2]) {
        self.placed.push((form, at));
    }

    /// The best free place for a form under a rule.
    pub fn best(&mut self, form: usize, rule: Rule) -> Option<Spot> {
        self.catch_up(form);
        let size = self.core.form(form).size;
        let free = self.free[form].as_ref()?;
        let corners = free.contours.iter().flatten();
        let spot = |p: &Point| {
            let at = [i64::from(p.x), i64::from(p.y)];
            Spot { key: rule.key(at, size), at }
        };
        let mut spots: Vec<Spot> = corners.map(spot).collect();
        // Nearly always the first will do.
        while let Some(first) = (0..spots.len()).min_by_key(|at| spots[*at]) {
            let near = spots.swap_remove(first).at;
            if let Some(settled) = self.settle(form, near, rule) {
                return Some(settled);
            }
        }
        None
    }

    /// Whether a form may lie at a place.
    pub fn is_free(&self, form: usize, at: [i64; 2]) -> bool {
        self.is_within(form, at) && is_clear(&self.around(form, at, 0), at)
    }

    fn is_within(&self, form: usize, at: [i64; 2]) -> bool {
        let end = plus(at, self.core.form(form).size);
        (0..2).all(|k| self.room.low[k] <= at[k] && end[k] <= self.room.high[k])
    }

    /// What is placed so near that a form may overlap it within so many units of a place.
    fn around(&self, form: usize, at: [i64; 2], reach: i64) -> Vec<(&NoFit, [i64; 2])> {
        let no_fit = |&(other, there): &(usize, [i64; 2])| (self.core.no_fit(other, form), there);
        let is_near = |(no_fit, there): &(&NoFit, [i64; 2])| {
            let shift = minus(at, *there);
            let Rect { low, high } = no_fit.bounds;
            (0..2).all(|k| low[k] < shift[k] + reach && shift[k] - reach < high[k])
        };
        self.placed.iter().map(no_fit).filter(is_near).collect()
    }

    /// The best truly free place within two units of a corner of the free area.
    fn settle(&self, form: usize, near: [i64; 2], rule: Rule) -> Option<Spot> {
        let size = self.core.form(form).size;
        let others = self.around(form, near, 2);
        let mut around: Vec<Spot> = Vec::with_capacity(25);
        for dx in -2..=2 {
            for dy in -2..=2 {
                let at = plus(near, [dx, dy]);
                around.push(Spot { key: rule.key(at, size), at });
            }
        }
        around.sort_unstable();
        let is_free = |spot: &Spot| self.is_within(form, spot.at) && is_clear(&others, spot.at);
        around.into_iter().find(is_free)
    }

    /// Takes out of a form's free area what has been placed since it was last asked for.
    fn catch_up(&mut self, form: usize) {
        let count = self.placed.len();
        let free = match self.free[form].take() {
            Some(free) if free.seen == count => free,
            Some(free) if free.contours.is_empty() => Free { seen: count, ..free },
            Some(free) => self.less(form, free),
            None => self.less(form, Free { seen: 0, contours: self.whole(form) }),
        };
        self.free[form] = Some(free);
    }

    fn less(&self, form: usize, free: Free) -> Free {
        let seen = self.placed.len();
        let mut contours = free.contours;
        for some in self.placed[free.seen..].chunks(CHUNK) {
            contours = self.without(form, contours, some);
            if contours.is_empty() {
                break;
            }
        }
        Free { seen, contours }
    }

    fn without(&self, form: usize, contours: Contours, placed: &[(usize, [i64; 2])]) -> Contours {
        let area = extent(&contours);
        let mut taken: Contours = Vec::new();
        for &(other, at) in placed {
            let no_fit = self.core.no_fit(other, form);
            let low = plus(no_fit.bounds.low, at);
            let high = plus(no_fit.bounds.high, at);
            if (0..2).all(|k| low[k] < area.high[k] && area.low[k] < high[k]) {
                taken.extend(no_fit.slack.iter().map(|contour| moved(contour, at)));
            }
        }
        if taken.is_empty() {
            return contours;
        }
        difference(&contours, &taken).into_iter().flatten().collect()
    }

    /// The free area of a form on the empty sheet, a unit too large all around.
    fn whole(&self, form: usize) -> Contours {
        let size = self.core.form(form).size;
        let low = self.room.low;
        let high = minus(self.room.high, size);
        if high[0] < low[0] || high[1] < low[1] {
            return Vec::new();
        }
        let [x0, y0] = low.map(|c| (c - 1) as i32);
        let [x1, y1] = high.map(|c| (c + 1) as i32);
        let corner = Point::new;
        vec![vec![corner(x0, y0), corner(x1, y0), corner(x1, y1), corner(x0, y1)]]
    }
}

/// Whether a place lies in none of the no-fit polygons, each shifted.
fn is_clear(others: &[(&NoFit, [i64; 2])], at: [i64; 2]) -> bool {
    others.iter().all(|(no_fit, there)| !no_fit.covers(minus(at, *there)))
}

fn moved(contour: &[Point], by: [i64; 2]) -> Vec<Point> {
    let [x, y] = by.map(|c| c as i32);
    contour.iter().map(|p| Point::new(p.x + x, p.y + y)).collect()
}
