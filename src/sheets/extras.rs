//! What a shop may want on layers of its own: lead-ins in the waste, the places where an outline
//! stays whole to hold its part, and cuts that divide what is left of the sheet.

use super::cuts::laid;
use super::{CutRef, CutSheet, Extras, Lying, Request, Segment, Wanted};
use crate::flat::Contour;
use crate::geom::{BedFrame, Bounds, Path, Point, Vertex, side_distance};
use crate::units;

type P = Point<BedFrame>;

/// Sag of the chords that stand for arcs, mm.
const SAG: f64 = 0.02;
/// What a pierce keeps from every other contour, mm: it spatters.
const PIERCE: f64 = 1.0;
/// Shares of the length asked for that are tried for a lead-in, longest first.
const SHARES: [f64; 3] = [1.0, 0.6, 0.35];
/// Part of a hole's shorter side that a lead-in takes at most.
const OF_HOLE: f64 = 0.4;

/// The lines of the layers that the shop asks for.
pub(super) fn extras(request: &Request, sheet: &CutSheet) -> Extras {
    let work = &request.shelf.shop.sheet_work;
    let rings = Rings::of(&request.wanted, sheet);
    let mut extras = Extras::default();
    if let Some(lead) = &work.lead_in {
        let found = (0..sheet.cuts.len()).map(|index| rings.lead_in(index, lead.size));
        extras.lead_ins = found.collect();
    }
    if let Some(tab) = &work.tab {
        let outlines = rings.all.iter().filter(|ring| ring.outside);
        extras.tabs = outlines.flat_map(|ring| tabs(&ring.path, (tab.size, tab.every))).collect();
    }
    if let Some(skeleton) = &work.skeleton {
        extras.skeleton = rings.skeleton(skeleton.size, skeleton.every);
    }
    extras
}

/// A contour as it lies on the sheet.
struct Ring {
    /// From the corner at which it is begun, the material on its left.
    path: Path<BedFrame>,
    /// The same with straight sides.
    straight: Path<BedFrame>,
    bounds: Bounds<BedFrame>,
    outside: bool,
}

/// All contours of a sheet in the order of its cuts.
struct Rings {
    all: Vec<Ring>,
    size: [f64; 2],
}

impl Rings {
    fn of(wanted: &[Wanted], sheet: &CutSheet) -> Self {
        let ring = |cut: &CutRef| {
            let path = begun(wanted, &sheet.lying[cut.lying], cut);
            let straight = Path::polygon(&path.points(SAG));
            let bounds = path.bounds();
            Ring { path, straight, bounds, outside: cut.hole.is_none() }
        };
        Self { all: sheet.cuts.iter().map(ring).collect(), size: sheet.board.size }
    }

    /// The longest lead-in that stays in the waste; none where there is no room for one.
    fn lead_in(&self, index: usize, length: f64) -> Option<Segment> {
        let ring = &self.all[index];
        let (start, out) = start(&ring.path)?;
        let most = if ring.outside {
            length
        } else {
            length.min(OF_HOLE * ring.bounds.width().min(ring.bounds.height()))
        };
        let lines = SHARES.iter().map(|share| [start + out * (most * share), start]);
        lines.into_iter().find(|line| self.free(index, line))
    }

    /// Whether a lead-in crosses no contour, its pierce keeping clear of the others and on the
    /// sheet.
    fn free(&self, index: usize, [pierce, start]: &Segment) -> bool {
        let [x, y] = self.size;
        let on_sheet =
            PIERCE < pierce.x.min(pierce.y) && pierce.x < x - PIERCE && pierce.y < y - PIERCE;
        let length = pierce.distance(*start);
        // The line is tried from a little way off the contour that it leads to.
        let line = [*pierce, start.toward(*pierce, 0.02)];
        on_sheet
            && self.all.iter().enumerate().all(|(other, ring)| {
                let keep = if other == index { 0.5 * length } else { PIERCE };
                if beyond(&ring.bounds, &line, keep) {
                    return true;
                }
                ring.straight.sides().all(|(a, b, _)| {
                    !crosses(&line, &[a, b]) && keep <= side_distance(*pierce, a, b, 0.0)
                })
            })
    }

    /// Upright cuts through what is left, `clear` away from every blank.
    fn skeleton(&self, clear: f64, every: f64) -> Vec<Segment> {
        let mut lines = Vec::new();
        for step in 1.. {
            let x = every * f64::from(step);
            if self.size[0] - clear < x {
                break;
            }
            lines.extend(self.upright(x, clear));
        }
        lines
    }

    /// The free stretches of one upright line.
    fn upright(&self, x: f64, clear: f64) -> Vec<Segment> {
        let outlines = self.all.iter().filter(|ring| ring.outside);
        let mut taken: Vec<[f64; 2]> =
            outlines.filter_map(|ring| band(&ring.straight, [x - clear, x + clear])).collect();
        taken.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut from = 0.0;
        let mut free = Vec::new();
        for [low, high] in taken.into_iter().chain([[self.size[1] + clear, f64::INFINITY]]) {
            let to = (low - clear).min(self.size[1]);
            if from + clear < to {
                free.push([Point::new(x, from), Point::new(x, to)]);
            }
            from = from.max(high + clear);
        }
        free
    }
}

/// What of a ring lies between two uprights: its least and greatest y.
fn band(ring: &Path<BedFrame>, [low, high]: [f64; 2]) -> Option<[f64; 2]> {
    let mut found: Option<[f64; 2]> = None;
    for (a, b, _) in ring.sides() {
        let (left, right) = if a.x <= b.x { (a, b) } else { (b, a) };
        if high < left.x || right.x < low {
            continue;
        }
        let at = |x: f64| {
            let run = right.x - left.x;
            let share = if run > 0.0 { ((x - left.x) / run).clamp(0.0, 1.0) } else { 0.0 };
            left.y + (right.y - left.y) * share
        };
        let upright = right.x - left.x <= 0.0;
        let ends = if upright { [left.y, right.y] } else { [at(low), at(high)] };
        for y in ends {
            let [least, most] = found.unwrap_or([y, y]);
            found = Some([least.min(y), most.max(y)]);
        }
    }
    found
}

/// A contour on the sheet from the corner at which it is begun.
fn begun(wanted: &[Wanted], own: &Lying, cut: &CutRef) -> Path<BedFrame> {
    let blank = wanted[own.wanted].blank;
    let mut path = match cut.hole.map(|hole| &blank.inner[hole].contour) {
        None => laid(&blank.outer, own),
        Some(Contour::Loop(path)) => laid(path, own),
        Some(Contour::Circle(centre, diameter)) => {
            let (centre, arm) = (own.map().point(*centre), Point::new(diameter / 2.0, 0.0));
            let vertices = [centre + arm, centre - arm].map(|at| Vertex { at, bulge: -1.0 });
            Path { vertices: vertices.to_vec() }
        }
    };
    let count = path.vertices.len().max(1);
    path.vertices.rotate_left(cut.start % count);
    path
}

/// Where a contour is begun, and the direction into the waste there.
fn start(path: &Path<BedFrame>) -> Option<(P, P)> {
    let (first, last) = (path.sides().next()?, path.sides().last()?);
    let turned = |(a, b, bulge): (P, P, f64), sign: f64| {
        (b - a).unit().turned(sign * 2.0 * units::atan_deg(bulge))
    };
    let (leaving, arriving) = (turned(first, -1.0), turned(last, 1.0));
    let out = (leaving.right() + arriving.right()).unit();
    (0.5 < out.length()).then_some((first.0, out))
}

/// Whether a line keeps farther than `keep` from a box.
fn beyond(bounds: &Bounds<BedFrame>, [a, b]: &Segment, keep: f64) -> bool {
    a.x.max(b.x) + keep < bounds.low.x
        || bounds.high.x + keep < a.x.min(b.x)
        || a.y.max(b.y) + keep < bounds.low.y
        || bounds.high.y + keep < a.y.min(b.y)
}

/// Whether two lines have a point in common.
fn crosses([a, b]: &Segment, [c, d]: &Segment) -> bool {
    let side = |p: P, q: P, r: P| (q - p).cross(r - p);
    side(*a, *b, *c) * side(*a, *b, *d) <= 0.0 && side(*c, *d, *a) * side(*c, *d, *b) <= 0.0
}

/// The stretches of an outline that stay whole: one in the middle of every straight side, and more
/// where a side is long. A part has at least two where it has two sides for them.
fn tabs(path: &Path<BedFrame>, (width, every): (f64, f64)) -> Vec<Segment> {
    let mut sides: Vec<(P, P)> = path
        .sides()
        .filter(|(a, b, bulge)| *bulge == 0.0 && 8.0 * width < a.distance(*b))
        .map(|(a, b, _)| (a, b))
        .collect();
    sides.sort_by(|a, b| b.0.distance(b.1).total_cmp(&a.0.distance(a.1)));
    let long = sides.iter().take_while(|(a, b)| every <= a.distance(*b)).count();
    let on = sides.into_iter().take(long.max(2));
    on.flat_map(|(a, b)| {
        let count = (a.distance(b) / every).round().max(1.0) as usize;
        let half = (b - a).unit() * (width / 2.0);
        (0..count).map(move |i| {
            let middle = a.toward(b, (i as f64 + 0.5) / count as f64);
            [middle - half, middle + half]
        })
    })
    .collect()
}
