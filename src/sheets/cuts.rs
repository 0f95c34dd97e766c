//! The contours of a sheet, and the order in which they are cut.

use super::nested::holders;
use super::rings::Rings;
use super::{CutRef, Lying, Wanted};
use crate::cutpath::{Contour, Pace, Tour, order};
use crate::flat;
use crate::geom::{BedFrame, BlankFrame, Bounds, Path, Point};
use crate::nest::Effort;

/// Most places at which a contour may be begun.
const STARTS: usize = 8;

/// The cuts of a sheet in order, with their way and pauses. Where lead-ins of some length are
/// wanted, contours are begun at corners with room for them, if they have any.
pub(super) fn cuts(
    wanted: &[Wanted],
    (lying, leads): (&[Lying], Option<(&Rings, f64)>),
    pace: &Pace,
    effort: Effort,
) -> (Vec<CutRef>, Tour) {
    let (mut refs, mut contours) = contours(wanted, lying);
    if let Some((rings, length)) = leads {
        for ((cut, corners), contour) in refs.iter_mut().zip(&mut contours) {
            let index = rings.index(cut.lying, cut.hole);
            let path = &rings.all[index].path;
            let room = spread(&rings.corners(index, length));
            if !room.is_empty() {
                contour.starts = room.iter().map(|corner| path.vertices[*corner].at).collect();
                *corners = room;
            }
        }
    }
    let tour = order(&contours, pace, work(effort));
    let cuts = tour.steps.iter().map(|step| {
        let (mut cut, starts) = refs[step.contour].clone();
        cut.start = starts[step.start];
        cut
    });
    (cuts.collect(), tour)
}

/// How far and how often 2-opt looks.
fn work(effort: Effort) -> (usize, usize) {
    match effort {
        Effort::Quick => (60, 4),
        Effort::Normal => (400, 12),
        Effort::Long => (usize::MAX, 40),
    }
}

/// A contour's reference and the corners it may be begun at.
type Named = (CutRef, Vec<usize>);

/// All contours of a sheet, outlines last.
fn contours(wanted: &[Wanted], lying: &[Lying]) -> (Vec<Named>, Vec<Contour>) {
    let holders = holders(wanted, lying);
    let mut all: (Vec<Named>, Vec<Contour>) = (Vec::new(), Vec::new());
    let holes: usize = lying.iter().map(|own| wanted[own.wanted].blank.inner.len()).sum();
    let mut first_hole = Vec::with_capacity(lying.len());
    for (index, own) in lying.iter().enumerate() {
        first_hole.push(all.1.len());
        for (hole, inner) in wanted[own.wanted].blank.inner.iter().enumerate() {
            let cut = CutRef { lying: index, hole: Some(hole), start: 0 };
            let free = !holders.contains(&Some((index, hole)));
            let contour = inside(&inner.contour, own, (free, holes + index));
            all.0.push((cut, contour.1));
            all.1.push(contour.0);
        }
    }
    for (index, own) in lying.iter().enumerate() {
        let path = laid(&wanted[own.wanted].blank.outer, own);
        let (starts, corners) = starts(&path);
        let then = holders[index].map(|(holder, hole)| first_hole[holder] + hole);
        all.0.push((CutRef { lying: index, hole: None, start: 0 }, corners));
        all.1.push(Contour {
            starts,
            bounds: path.bounds(),
            length: path.length(),
            first: false,
            then,
        });
    }
    all
}

/// An inside contour, free when nothing lies in it; `outline` is cut after it.
fn inside(
    contour: &flat::Contour,
    own: &Lying,
    (free, outline): (bool, usize),
) -> (Contour, Vec<usize>) {
    let (starts, bounds, corners) = match contour {
        flat::Contour::Circle(centre, diameter) => {
            let (centre, arm) = (own.map().point(*centre), Point::new(diameter / 2.0, 0.0));
            let reach = Point::new(diameter / 2.0, diameter / 2.0);
            let bounds = Bounds { low: centre - reach, high: centre + reach };
            (vec![centre + arm], bounds, vec![0])
        }
        flat::Contour::Loop(path) => {
            let path = laid(path, own);
            let (starts, corners) = starts(&path);
            (starts, path.bounds(), corners)
        }
    };
    let length = contour.length();
    (Contour { starts, bounds, length, first: free, then: Some(outline) }, corners)
}

/// A path as it lies on the sheet, run the way it ran in the blank.
pub(super) fn laid(path: &Path<BlankFrame>, own: &Lying) -> Path<BedFrame> {
    let map = own.map();
    let path = path.cleaned().mapped(&map);
    if map.reflects() { path.reversed() } else { path }
}

/// Corners at which a contour may be begun, spread over it, and their indexes.
fn starts(path: &Path<BedFrame>) -> (Vec<Point<BedFrame>>, Vec<usize>) {
    let all: Vec<usize> = (0..path.vertices.len()).collect();
    let corners = spread(&all);
    (corners.iter().map(|&i| path.vertices[i].at).collect(), corners)
}

/// Some of the corners, spread over all.
fn spread(corners: &[usize]) -> Vec<usize> {
    let step = corners.len().div_ceil(STARTS).max(1);
    corners.iter().copied().step_by(step).collect()
}
