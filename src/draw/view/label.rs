//! Where to point at the items of a kit.

use super::cover::Cover;
use super::model::{Facet, Model, Spot};
use super::ring::Dot;
use super::visible::Covers;
use crate::draw::Label;
use crate::geom::{Bounds, ViewFrame};

/// Points tried along and across each facet.
const TRIES: [usize; 2] = [9, 5];

/// Share of the picture's extent by which the texts stand off it.
const OFF: f64 = 0.06;

/// One label for each of `count` items that has a facet at all, in their order.
pub(super) fn labels(
    model: &Model,
    covers: &Covers,
    count: usize,
    bounds: &Bounds<ViewFrame>,
) -> Vec<Label> {
    let mut spots: Vec<Vec<(f64, Spot)>> = vec![Vec::new(); count];
    for facet in model.facets.iter().filter(|facet| facet.front() && facet.tinted) {
        spots[facet.item].extend(tries(facet));
    }
    let size = bounds.width().max(bounds.height());
    let mut labels: Vec<Label> = Vec::new();
    for (item, spots) in spots.iter_mut().enumerate() {
        spots.sort_by(|a, b| b.0.total_cmp(&a.0));
        let Some(spot) = choice(covers, spots, &labels, size) else { continue };
        let tip = Dot::new(spot.x, spot.y);
        let at = outside(tip, bounds, size * OFF);
        labels.push(Label { at, tip, text: (item + 1).to_string() });
    }
    labels
}

/// Spots weighed against each other for one label.
const BEST: usize = 24;

/// Of spots sorted by clearance, one that is seen: among those with most room around them, the one
/// farthest from the tips of the labels before. The first when none is seen.
fn choice(covers: &Covers, spots: &[(f64, Spot)], labels: &[Label], size: f64) -> Option<Spot> {
    let clear = |spot: &&(f64, Spot)| open(covers, spot.1, spot.0.min(size * 0.01));
    let seen = |spot: &&(f64, Spot)| covers.sees(spot.1);
    let first = spots.iter().find(clear).or_else(|| spots.iter().find(seen));
    let Some(first) = first else { return spots.first().map(|spot| spot.1) };
    let away = |spot: Spot| {
        let tip = Dot::new(spot.x, spot.y);
        labels.iter().map(|label| label.tip.distance(tip)).fold(size, f64::min)
    };
    let roomy = spots.iter().filter(|spot| 0.7 * first.0 <= spot.0 && spot.0 <= first.0);
    let others = roomy.take(BEST).filter(clear).map(|spot| spot.1);
    let best = others.fold((away(first.1), first.1), |best, spot| {
        if away(spot) > best.0 + size * 0.02 { (away(spot), spot) } else { best }
    });
    Some(best.1)
}

/// Points spread over a facet, each with its distance in the picture from the facet's border.
fn tries(facet: &Facet) -> Vec<(f64, Spot)> {
    let ring = &facet.loops[0];
    let n = ring.len();
    let sides = (0..n).map(|i| ring[(i + 1) % n] - ring[i]);
    let Some(longest) = sides.reduce(|a, b| if b.length() > a.length() + 1e-6 { b } else { a })
    else {
        return Vec::new();
    };
    let u = longest.unit();
    let v = facet.normal.cross(u);
    let reach = |axis: Spot| {
        let values = ring.iter().map(move |p| (*p - ring[0]).dot(axis));
        values.fold([0.0_f64; 2], |[low, high], d| [low.min(d), high.max(d)])
    };
    let (along, across) = (reach(u), reach(v));
    let cover = Cover::new(facet);
    let share = |[low, high]: [f64; 2], i: usize, n: usize| {
        low + (high - low) * (i as f64 + 0.5) / n as f64
    };
    (0..TRIES[0] * TRIES[1])
        .map(|i| {
            let (a, b) = (i % TRIES[0], i / TRIES[0]);
            ring[0] + u * share(along, a, TRIES[0]) + v * share(across, b, TRIES[1])
        })
        .filter(|p| cover.holds(Dot::new(p.x, p.y)))
        .map(|p| (cover.clearance(Dot::new(p.x, p.y)), p))
        .collect()
}

/// Whether a spot is seen with some of what surrounds it.
fn open(covers: &Covers, spot: Spot, around: f64) -> bool {
    let step = |x: f64, y: f64| spot + Spot::new(x * around, y * around, 0.0);
    covers.sees(spot)
        && [step(1.0, 0.0), step(-1.0, 0.0), step(0.0, 1.0), step(0.0, -1.0)]
            .into_iter()
            .all(|p| covers.sees_near(p, around))
}

/// The point beyond the bounds on the ray from their centre through `tip`.
fn outside(tip: Dot, bounds: &Bounds<ViewFrame>, off: f64) -> Dot {
    let ray = tip - bounds.centre();
    let ray = if ray.length() > 1e-6 { ray.unit() } else { Dot::new(0.0, 1.0) };
    let (wide, tall) = (bounds.width() / 2.0 + off, bounds.height() / 2.0 + off);
    let far = (wide / ray.x.abs().max(1e-9)).min(tall / ray.y.abs().max(1e-9));
    bounds.centre() + ray * far
}
