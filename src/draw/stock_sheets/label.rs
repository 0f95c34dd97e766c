//! Where a part's number finds room inside its blank.

use super::super::text::text_width;
use crate::geom::{Path, Point, ViewFrame};

/// Heights of the numbers, largest first (ISO 3098), mm of paper.
const HEIGHTS: [f64; 3] = [3.5, 2.5, 1.8];

/// Paper kept around a number, mm.
const AROUND: f64 = 0.5;

/// Places tried along each side of the blank's extent.
const TRIED: usize = 13;

/// Where a number stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    /// Its middle.
    pub(super) at: Point<ViewFrame>,
    /// Direction of reading: 0 or 90 degrees.
    pub(super) direction: f64,
    /// Height, mm of paper.
    pub(super) height: f64,
}

/// A blank as a number sees it, sides straight.
pub(super) struct Field {
    /// Outline.
    pub(super) outer: Path<ViewFrame>,
    /// Openings a number must keep out of.
    pub(super) openings: Vec<Path<ViewFrame>>,
    /// Openings it keeps out of where there is room beside them.
    pub(super) small: Vec<Path<ViewFrame>>,
}

impl Field {
    /// The largest number that finds room, `factor` millimetres of paper to one of the sheet.
    pub(super) fn spot(&self, text: &str, factor: f64) -> Option<Spot> {
        let tried = self.places();
        HEIGHTS.iter().flat_map(|h| [(*h, 0.0), (*h, 90.0)]).find_map(|(height, direction)| {
            let width = text_width(text, height, true);
            let holds = |at: &Point<ViewFrame>, small: bool| {
                self.holds(*at, (width, height), (direction, small), factor)
            };
            let spot = tried.iter().find(|at| holds(at, true));
            let spot = spot.or_else(|| tried.iter().find(|at| holds(at, false)));
            spot.map(|at| Spot { at: *at, direction, height })
        })
    }

    /// The place farthest from every edge.
    pub(super) fn deepest(&self) -> Option<Point<ViewFrame>> {
        let places = self.places().into_iter().map(|at| (self.depth(at, true), at));
        places.max_by(|a, b| a.0.total_cmp(&b.0)).filter(|(d, _)| 0.0 < *d).map(|(_, at)| at)
    }

    /// Places in the blank's extent, the middle first.
    fn places(&self) -> Vec<Point<ViewFrame>> {
        let bounds = self.outer.bounds();
        let share = |i: usize| (i as f64 + 0.5) / TRIED as f64;
        let mut places: Vec<Point<ViewFrame>> = (0..TRIED * TRIED)
            .map(|i| {
                let (x, y) = (share(i % TRIED), share(i / TRIED));
                let extent = bounds.high - bounds.low;
                bounds.low + Point::new(extent.x * x, extent.y * y)
            })
            .collect();
        let middle = bounds.centre();
        places.sort_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)));
        places
    }

    /// Distance to the nearest edge, those of small openings too where `small`; below 0 outside of
    /// the material.
    fn depth(&self, at: Point<ViewFrame>, small: bool) -> f64 {
        let small = self.small.iter().filter(|_| small);
        let openings = self.openings.iter().chain(small).map(|path| -path.clearance(at));
        openings.fold(self.outer.clearance(at), f64::min)
    }

    /// Whether a row of discs as high as the number lies in the material.
    fn holds(
        &self,
        at: Point<ViewFrame>,
        (width, height): (f64, f64),
        (direction, small): (f64, bool),
        factor: f64,
    ) -> bool {
        let bounds = self.outer.bounds();
        let radius = (height / 2.0 + AROUND) / factor;
        let reach = (width / factor / 2.0 - radius).max(0.0);
        let along = if direction == 0.0 { bounds.width() } else { bounds.height() };
        if along < 2.0 * (reach + radius) {
            return false;
        }
        let discs = (reach / radius).ceil() as i32;
        (-discs..=discs).all(|i| {
            let by = if discs == 0 { 0.0 } else { reach * f64::from(i) / f64::from(discs) };
            let by = if direction == 0.0 { Point::new(by, 0.0) } else { Point::new(0.0, by) };
            radius <= self.depth(at + by, small)
        })
    }
}
