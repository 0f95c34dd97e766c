//! Which places of two blanks laid upon each other are worth a larger picture.

use super::super::scale::Scale;
use crate::compare::Overlay;
use crate::geom::{BlankFrame, Bounds, Path, Point};

/// Sheet shown around a difference, mm.
const AROUND: f64 = 10.0;
/// Most pictures beside each other.
const MOST: usize = 6;
/// Paper that each of the most pictures has, mm.
const CELL: (f64, f64) = (60.0, 50.0);
/// What is shown of a long and narrow difference: so many times its width, at least [`END`] mm,
/// from its end.
const TIMES: f64 = 4.0;
const END: f64 = 30.0;
/// Differences are shown in one window up to this size, mm, and one that is larger by itself.
const CLOSE: f64 = 120.0;
/// Differences of equal size to this, mm, are alike, and one of them is shown.
const ALIKE: f64 = 0.05;

pub(super) type Window = Bounds<BlankFrame>;

type Rings = [usize; 2];

/// A place to be shown larger.
#[derive(Debug, Clone)]
pub(super) struct Place {
    pub(super) window: Window,
    /// How many patches of sheet went and came there.
    rings: Rings,
    /// How many more places look the same.
    pub(super) alike: usize,
}

/// The places of an overlay, from left to right, and how many more differ than are shown.
pub(super) struct Places {
    pub(super) shown: Vec<Place>,
    pub(super) left_out: usize,
}

/// Finds the places: what stands close together is one, what is alike is shown once, the largest
/// come first. What would come out no larger than in the whole blank, at the scale `whole`, is left
/// out.
pub(super) fn places(overlay: &Overlay, whole: Scale) -> Places {
    let mut windows: Vec<(Window, Rings)> = Vec::new();
    let removed = overlay.removed.iter().map(|ring| (ring, [1, 0]));
    for (ring, mut rings) in removed.chain(overlay.added.iter().map(|ring| (ring, [0, 1]))) {
        let mut window = grown(&ended(&Path::polygon(ring).bounds()));
        let near = |other: &Window, window: &Window| {
            let both = joined(other, window);
            overlap(other, window) && both.width().max(both.height()) <= CLOSE
        };
        while let Some(index) = windows.iter().position(|other| near(&other.0, &window)) {
            let (other, more) = windows.remove(index);
            window = joined(&other, &window);
            rings = [rings[0] + more[0], rings[1] + more[1]];
        }
        windows.push((window, rings));
    }
    let scale = |window: &Window| Scale::fitting(window.width(), window.height(), CELL);
    windows.retain(|(window, _)| whole.factor() < scale(window).factor());
    let mut places: Vec<Place> = Vec::new();
    for (window, rings) in windows {
        let alike = |place: &&mut Place| place.rings == rings && alike(&place.window, &window);
        match places.iter_mut().find(alike) {
            Some(place) => place.alike += 1,
            None => places.push(Place { window, rings, alike: 0 }),
        }
    }
    let across = |place: &Place| place.window.width().max(place.window.height());
    places.sort_by(|a, b| across(b).total_cmp(&across(a)));
    let left_out = places.iter().skip(MOST).map(|place| 1 + place.alike).sum();
    places.truncate(MOST);
    let corner = |place: &Place| place.window.low;
    places.sort_by(|a, b| {
        let (a, b) = (corner(a), corner(b));
        a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))
    });
    Places { shown: places, left_out }
}

/// Of what is long and narrow, its end.
fn ended(ring: &Window) -> Window {
    let (width, height) = (ring.width(), ring.height());
    let length = |across: f64| (TIMES * across).max(END);
    let mut high = ring.high;
    high.x = high.x.min(ring.low.x + length(height));
    high.y = high.y.min(ring.low.y + length(width));
    Bounds { low: ring.low, high }
}

fn grown(window: &Window) -> Window {
    let by = Point::new(AROUND, AROUND);
    Bounds { low: window.low - by, high: window.high + by }
}

fn joined(a: &Window, b: &Window) -> Window {
    let mut both = *a;
    both.add(b.low);
    both.add(b.high);
    both
}

fn alike(a: &Window, b: &Window) -> bool {
    (a.width() - b.width()).abs() <= ALIKE && (a.height() - b.height()).abs() <= ALIKE
}

/// Whether two windows share a point.
pub(super) fn overlap(a: &Window, b: &Window) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

/// What of a polygon lies in a window; where it leaves, it runs along the border.
pub(super) fn clipped(ring: &[Point<BlankFrame>], window: &Window) -> Vec<Point<BlankFrame>> {
    let sides: [fn(&Window, Point<BlankFrame>) -> f64; 4] =
        [|w, p| p.x - w.low.x, |w, p| w.high.x - p.x, |w, p| p.y - w.low.y, |w, p| w.high.y - p.y];
    let mut points = ring.to_vec();
    for inside in sides {
        let n = points.len();
        let mut kept = Vec::new();
        for (i, b) in points.iter().enumerate() {
            let a = points[(i + n - 1) % n];
            let [from, to] = [a, *b].map(|p| inside(window, p));
            if (from < 0.0) != (to < 0.0) {
                kept.push(a.toward(*b, from / (from - to)));
            }
            if to >= 0.0 {
                kept.push(*b);
            }
        }
        points = kept;
    }
    points
}
