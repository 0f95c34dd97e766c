//! Where to point at the items of a kit.

use super::cover::Cover;
use super::model::{Facet, Model, Spot};
use super::ring::{Dot, flat};
use super::visible::{Covers, Eye};
use crate::draw::Label;
use crate::geom::{Bounds, ViewFrame};

/// Points tried along and across each facet.
const TRIES: [usize; 2] = [9, 5];

/// Share of the picture's extent by which the texts stand off it.
const OFF: f64 = 0.06;

/// One label for each of `count` items that has a facet at all, in their order.
pub(super) fn labels(
    model: &Model,
    covers: &Covers<'_>,
    count: usize,
    bounds: &Bounds<ViewFrame>,
) -> Vec<Label> {
    let mut facets: Vec<Vec<Candidate<'_>>> = vec![Vec::new(); count];
    for (i, facet) in model.facets.iter().enumerate().filter(|(_, facet)| facet.tinted) {
        let Some(cover) = covers.of(i) else { continue };
        facets[facet.item].push(Candidate { facet, cover, room: cover.extent().room() });
    }
    let mut eye = covers.eye();
    let size = bounds.width().max(bounds.height());
    let mut labels: Vec<Label> = Vec::new();
    for (item, facets) in facets.iter().enumerate() {
        let Some(spot) = best(&mut eye, facets, &labels, size) else { continue };
        let (tip, hidden) = (flat(spot), !eye.sees(spot));
        let at = outside(tip, bounds, size * OFF);
        labels.push(Label { at, tip, hidden, text: (item + 1).to_string() });
    }
    labels
}

/// A facet on which a tip may stand.
#[derive(Debug, Clone, Copy)]
struct Candidate<'a> {
    facet: &'a Facet,
    cover: &'a Cover<'a>,
    /// No spot on it has a greater clearance.
    room: f64,
}

/// The spot for one item's tip; none when it has no facet. The roomiest facets are tried first, and
/// the others only when they could still do better.
fn best(eye: &mut Eye<'_>, facets: &[Candidate<'_>], labels: &[Label], size: f64) -> Option<Spot> {
    let most = facets.iter().fold(0.0_f64, |most, it| most.max(it.room));
    let mut least = ROOMY * most * 0.98;
    loop {
        let enough = |it: &&Candidate<'_>| least <= it.room * (1.0 + 1e-9);
        let mut spots: Vec<(f64, Spot)> =
            facets.iter().filter(enough).flat_map(|it| tries(it, least)).collect();
        spots.sort_by(|a, b| b.0.total_cmp(&a.0));
        let first = first(eye, &spots, size).filter(|clearance| least <= ROOMY * clearance);
        if first.is_some() || least == 0.0 {
            return choice(eye, &spots, labels, size);
        }
        least = if least > most / 100.0 { least / 3.0 } else { 0.0 };
    }
}

/// Share of the best clearance that is as good.
const ROOMY: f64 = 0.7;

/// The clearance of the first spot that stands clear.
fn first(eye: &mut Eye<'_>, spots: &[(f64, Spot)], size: f64) -> Option<f64> {
    spots.iter().find(|spot| open(eye, spot.1, spot.0.min(size * 0.01))).map(|spot| spot.0)
}

/// Spots weighed against each other for one label.
const BEST: usize = 24;

/// Of spots sorted by clearance, one that is seen: among those with most room around them, the one
/// farthest from the tips of the labels before. The first when none is seen.
fn choice(eye: &mut Eye<'_>, spots: &[(f64, Spot)], labels: &[Label], size: f64) -> Option<Spot> {
    let mut clear = |spot: &&(f64, Spot)| open(eye, spot.1, spot.0.min(size * 0.01));
    let Some(first) = spots.iter().find(&mut clear) else {
        let seen = spots.iter().find(|spot| eye.sees(spot.1));
        return seen.or(spots.first()).map(|spot| spot.1);
    };
    let away = |spot: Spot| {
        let tip = flat(spot);
        labels.iter().map(|label| label.tip.distance(tip)).fold(size, f64::min)
    };
    let roomy = spots.iter().filter(|spot| ROOMY * first.0 <= spot.0 && spot.0 <= first.0);
    let others = roomy.take(BEST).filter(clear).map(|spot| spot.1);
    let best = others.fold((away(first.1), first.1), |best, spot| {
        if away(spot) > best.0 + size * 0.02 { (away(spot), spot) } else { best }
    });
    Some(best.1)
}

/// Points spread over a facet, each with its distance in the picture from the facet's border;
/// none at less than `least`.
fn tries(candidate: &Candidate<'_>, least: f64) -> Vec<(f64, Spot)> {
    let (facet, cover) = (candidate.facet, candidate.cover);
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
    let share = |[low, high]: [f64; 2], i: usize, n: usize| {
        low + (high - low) * (i as f64 + 0.5) / n as f64
    };
    (0..TRIES[0] * TRIES[1])
        .map(|i| {
            let (a, b) = (i % TRIES[0], i / TRIES[0]);
            ring[0] + u * share(along, a, TRIES[0]) + v * share(across, b, TRIES[1])
        })
        .filter(|p| cover.holds(flat(*p)))
        .filter_map(|p| Some((cover.clearance(flat(p), least)?, p)))
        .collect()
}

/// Whether a spot is seen with some of what surrounds it.
fn open(eye: &mut Eye<'_>, spot: Spot, around: f64) -> bool {
    let step = |x: f64, y: f64| spot + Spot::new(x * around, y * around, 0.0);
    eye.sees(spot)
        && [step(1.0, 0.0), step(-1.0, 0.0), step(0.0, 1.0), step(0.0, -1.0)]
            .into_iter()
            .all(|p| eye.sees_near(p, around))
}

/// The point beyond the bounds on the ray from their centre through `tip`.
fn outside(tip: Dot, bounds: &Bounds<ViewFrame>, off: f64) -> Dot {
    let ray = tip - bounds.centre();
    let ray = if ray.length() > 1e-6 { ray.unit() } else { Dot::new(0.0, 1.0) };
    let (wide, tall) = (bounds.width() / 2.0 + off, bounds.height() / 2.0 + off);
    let far = (wide / ray.x.abs().max(1e-9)).min(tall / ray.y.abs().max(1e-9));
    bounds.centre() + ray * far
}
