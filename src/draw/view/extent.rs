//! How far something extends in the picture.

use super::model::Spot;
use super::ring::{BORDER, Dot};

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
        let nothing = Self { low: [f64::INFINITY; 3], high: [f64::NEG_INFINITY; 3] };
        points.iter().fold(nothing, |extent, p| extent.with(Self::spread(p.x, p.y)))
    }

    /// Grown to hold a place.
    fn with(mut self, spread: [f64; 3]) -> Self {
        for ((low, high), at) in self.low.iter_mut().zip(&mut self.high).zip(spread) {
            (*low, *high) = (low.min(at), high.max(at));
        }
        self
    }

    /// Where a place lies along the three directions.
    fn spread(x: f64, y: f64) -> [f64; 3] {
        let (half, tall) = (0.5 * x, SQRT_3_4 * y);
        [x, half + tall, half - tall]
    }

    /// The extent of a line.
    pub(super) fn of_line([a, b]: &[Spot; 2]) -> Self {
        let (a, b) = (Self::spread(a.x, a.y), Self::spread(b.x, b.y));
        let pick =
            |least: bool| std::array::from_fn(|i| if (a[i] < b[i]) == least { a[i] } else { b[i] });
        Self { low: pick(true), high: pick(false) }
    }

    /// The extent of all of some together.
    pub(super) fn of_all<'a>(extents: impl Iterator<Item = &'a Self>) -> Self {
        extents.fold(Self::of(&[]), |all, it| Self {
            low: std::array::from_fn(|i| all.low[i].min(it.low[i])),
            high: std::array::from_fn(|i| all.high[i].max(it.high[i])),
        })
    }

    /// Where it starts from the left.
    pub(super) fn left(&self) -> f64 {
        self.low[0]
    }

    /// Its width.
    pub(super) fn width(&self) -> f64 {
        self.high[0] - self.low[0]
    }

    /// Whether it starts to the right of where another ends.
    pub(super) fn starts_after(&self, other: &Self) -> bool {
        other.high[0] + 2.0 * BORDER < self.low[0]
    }

    /// Whether it lies wholly to the left of another.
    pub(super) fn ends_before(&self, other: &Self) -> bool {
        self.high[0] + BORDER < other.low[0]
    }

    /// Whether a point of the picture may lie in it.
    pub(super) fn holds(&self, p: Dot) -> bool {
        let at = Self::spread(p.x, p.y);
        (0..3).all(|i| self.low[i] <= at[i] + BORDER && at[i] - BORDER <= self.high[i])
    }

    /// Whether a place may lie within a distance of it.
    pub(super) fn is_within(&self, distance: f64, p: Dot) -> bool {
        let at = Self::spread(p.x, p.y);
        (0..3).all(|i| self.low[i] - distance <= at[i] && at[i] <= self.high[i] + distance)
    }

    /// The radius of a circle that just may lie within.
    pub(super) fn room(&self) -> f64 {
        (0..3).map(|i| self.high[i] - self.low[i]).fold(f64::INFINITY, f64::min) / 2.0
    }

    /// Whether the two may overlap.
    pub(super) fn meets(&self, other: &Self) -> bool {
        (0..3)
            .all(|i| self.low[i] <= other.high[i] + BORDER && other.low[i] <= self.high[i] + BORDER)
    }
}

/// Square root of 3/4.
const SQRT_3_4: f64 = 0.866_025_403_784_438_6;
