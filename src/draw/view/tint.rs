//! Tints: every seen surface as an area, back to front.

use std::collections::BTreeSet;

use super::cover::Cover;
use super::extent::Extent;
use super::model::{Model, Spot};
use super::ring::Dot;
use super::visible::Covers;
use crate::draw::{Area, Fill};
use crate::geom::{Path, Point3};

/// Adjoining facets of one surface that are seen, painted as one area.
struct Patch {
    /// Indices of facets, in a row.
    facets: Vec<usize>,
}

/// The areas of a model back to front; none when three or more surfaces overlap in a ring, so that
/// no order of painting is right.
pub(super) fn areas(model: &Model, covers: &Covers<'_>) -> Option<Vec<Area>> {
    filled(model, covers, &|_, normal| Fill::Tint(shade(normal)))
}

/// The same with a fill of the caller's own for an item's surface with its normal.
pub(super) fn filled(
    model: &Model,
    covers: &Covers<'_>,
    fill: &dyn Fn(usize, Spot) -> Fill,
) -> Option<Vec<Area>> {
    let patches = patches(model);
    let order = sorted(&before(&patches, covers))?;
    Some(order.into_iter().map(|i| area(model, &patches[i], fill)).collect())
}

fn patches(model: &Model) -> Vec<Patch> {
    let mut patches: Vec<Patch> = Vec::new();
    let mut last = None;
    for (i, facet) in model.facets.iter().enumerate() {
        if !facet.tinted || !facet.front() {
            continue;
        }
        let here = Some((facet.surface, i));
        let quad = facet.loops[0].len() == 4;
        let joins = quad && last == Some((facet.surface, i.wrapping_sub(1)));
        match patches.last_mut().filter(|_| joins) {
            Some(patch) => patch.facets.push(i),
            None => patches.push(Patch { facets: vec![i] }),
        }
        last = here.filter(|_| quad);
    }
    patches
}

/// For each patch, those that must be painted before it.
fn before(patches: &[Patch], covers: &Covers<'_>) -> Vec<Vec<usize>> {
    let parts = |patch: &Patch| patch.facets.iter().filter_map(|&i| covers.of(i)).collect();
    let parts: Vec<Vec<&Cover<'_>>> = patches.iter().map(parts).collect();
    let extents: Vec<Extent> =
        parts.iter().map(|it| Extent::of_all(it.iter().map(|it| it.extent()))).collect();
    let mut by_start: Vec<usize> = (0..patches.len()).collect();
    by_start.sort_by(|&a, &b| extents[a].left().total_cmp(&extents[b].left()));
    let mut before = vec![Vec::new(); patches.len()];
    let mut open: Vec<usize> = Vec::new();
    for a in by_start {
        open.retain(|&b| !extents[b].ends_before(&extents[a]));
        for &b in open.iter().filter(|&&b| extents[a].meets(&extents[b])) {
            let (first, second) = (a.min(b), a.max(b));
            let [over, under] = overlap(&parts[first], &parts[second], covers.slack());
            over.then(|| before[first].push(second));
            under.then(|| before[second].push(first));
        }
        open.push(a);
    }
    before
}

/// Whether some of `a` lies over some of `b`, and whether some lies under it.
fn overlap(a: &[&Cover<'_>], b: &[&Cover<'_>], slack: f64) -> [bool; 2] {
    let mut found = [false; 2];
    for (p, q) in a.iter().flat_map(|p| b.iter().map(move |q| (p, q))) {
        if p.extent().meets(q.extent()) {
            let ahead = p.ahead_of(q);
            found[0] |= ahead > slack;
            found[1] |= ahead < -slack;
        }
    }
    found
}

/// An order in which everything comes after what must come before it; the lowest index first where
/// there is a choice. None when there is none.
fn sorted(before: &[Vec<usize>]) -> Option<Vec<usize>> {
    let mut after = vec![Vec::new(); before.len()];
    let mut waits: Vec<usize> = before.iter().map(Vec::len).collect();
    for (i, set) in before.iter().enumerate() {
        set.iter().for_each(|&earlier| after[earlier].push(i));
    }
    let mut ready: BTreeSet<usize> = (0..before.len()).filter(|&i| waits[i] == 0).collect();
    let mut order = Vec::with_capacity(before.len());
    while let Some(next) = ready.pop_first() {
        order.push(next);
        for &later in &after[next] {
            waits[later] -= 1;
            if waits[later] == 0 {
                ready.insert(later);
            }
        }
    }
    (order.len() == before.len()).then_some(order)
}

fn area(model: &Model, patch: &Patch, fill: &dyn Fn(usize, Spot) -> Fill) -> Area {
    let facets = || patch.facets.iter().map(|&i| &model.facets[i]);
    let flat = |p: &Spot| Dot::new(p.x, p.y);
    let outlines = if patch.facets.len() == 1 {
        let loops = facets().flat_map(|facet| &facet.loops);
        loops.map(|ring| Path::polygon(&ring.iter().map(flat).collect::<Vec<_>>())).collect()
    } else {
        // The facets of a wall or of a bend are quads in a row: [a, b, c, d] from side ad to bc.
        let mut ahead: Vec<Dot> = facets().map(|facet| flat(&facet.loops[0][0])).collect();
        let mut back: Vec<Dot> = facets().map(|facet| flat(&facet.loops[0][3])).collect();
        if let Some(last) = facets().next_back() {
            ahead.push(flat(&last.loops[0][1]));
            back.push(flat(&last.loops[0][2]));
        }
        ahead.extend(back.into_iter().rev());
        vec![Path::polygon(&ahead)]
    };
    let normal = facets().fold(Spot::new(0.0, 0.0, 0.0), |sum, facet| sum + facet.normal).unit();
    let item = model.facets[patch.facets[0]].item;
    Area { outlines, fill: fill(item, normal) }
}

/// Percent of black: light comes over the viewer's left shoulder.
pub(super) fn shade(normal: Spot) -> u8 {
    let light: Spot = Point3::new(-0.45, 0.8, 0.4).unit();
    let lit = normal.dot(light).max(0.0);
    (DARKEST * (1.0 - lit) + 2.0).round() as u8
}

/// Tint of a face that gets no light, percent.
const DARKEST: f64 = 26.0;
