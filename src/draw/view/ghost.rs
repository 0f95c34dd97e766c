//! The container around a kit: a strip of its wall around the opening, and its members, as thin
//! shells that hide nothing of the kit.

use super::model::{EdgeKind, Facet, Model, Spot};
use super::room::Room;
use crate::fold::FoldedPart;
use crate::geom::{Point3, Pose, SiteFrame, ViewFrame};
use crate::kit::{Kit, Wall};

/// A point of the site.
type Site = Point3<SiteFrame>;

/// How much of the container is shown beyond the kit along x, y and z, mm.
const AROUND: [f64; 3] = [300.0, 60.0, 200.0];

/// The room that the kit's parts take up in the site.
pub(super) fn room(kit: &Kit, folded: &[FoldedPart]) -> Room<SiteFrame> {
    let mut room = Room::empty();
    for (part, folded) in kit.parts.iter().zip(folded) {
        for place in &part.places {
            let seats: Vec<_> = folded.faces.iter().map(|face| face.then(place)).collect();
            room.add_part(part, &seats);
        }
    }
    room
}

/// The container's shells around the kit. What stands at X above 0, the far of two boxes, stands
/// `apart` from its place along X.
pub(super) fn container(
    kit: &Kit,
    room: &Room<SiteFrame>,
    view: &Pose<SiteFrame, ViewFrame>,
    apart: f64,
) -> Model {
    let mut shell = Shell { model: Model::default(), view };
    let around = room.grown(AROUND);
    if let Some(wall) = &kit.container.wall {
        shell.wall(wall, &around);
    }
    for member in &kit.container.members {
        let far = 0.0 < member.low.x + member.high.x;
        let away = Site::new(if far { apart } else { 0.0 }, 0.0, 0.0);
        let stands = Room { low: member.low + away, high: member.high + away };
        if let Some(part) = around.common(&stands) {
            shell.block(&part);
        }
    }
    shell.model
}

/// The piece of wall between the cuts, standing `out` mm outside its place; tinted.
pub(super) fn cut_out(wall: &Wall, out: f64, view: &Pose<SiteFrame, ViewFrame>) -> Model {
    let away = view.shifted(view.vector(Site::new(0.0, -out, 0.0)));
    let mut shell = Shell { model: Model::default(), view: &away };
    if let (Some(cuts), Some(heights)) = (wall.cuts, wall.cut_heights) {
        shell.sheet(&clipped(&profile(wall), cuts), heights, [true, true]);
    }
    shell.model.facets.iter_mut().for_each(|facet| facet.tinted = true);
    shell.model
}

/// A box that is no part of the kit, tinted.
pub(super) fn body(room: &Room<SiteFrame>, view: &Pose<SiteFrame, ViewFrame>) -> Model {
    let mut shell = Shell { model: Model::default(), view };
    shell.solid(room);
    shell.model.facets.iter_mut().for_each(|facet| facet.tinted = true);
    shell.model
}

/// The wall's cut edges as lines.
pub(super) fn cut_edges(wall: &Wall) -> Vec<Vec<Site>> {
    let (Some(cuts), Some(heights)) = (wall.cuts, wall.cut_heights) else { return Vec::new() };
    let run = clipped(&profile(wall), cuts);
    let level = |z: f64| run.iter().map(|p| Site::new(p[0], p[1], z)).collect::<Vec<_>>();
    let ends = [run.first(), run.last()].into_iter().flatten();
    let upright = ends.map(|p| heights.map(|z| Site::new(p[0], p[1], z)).to_vec());
    heights.map(level).into_iter().chain(upright).collect()
}

struct Shell<'a> {
    model: Model,
    view: &'a Pose<SiteFrame, ViewFrame>,
}

impl Shell<'_> {
    /// A facet that is seen from both sides.
    fn facet(&mut self, corners: [Site; 4]) -> usize {
        let mut ring: Vec<Spot> = corners.iter().map(|p| self.view.point(*p)).collect();
        let mut normal = (ring[1] - ring[0]).cross(ring[2] - ring[1]).unit();
        if normal.z < 0.0 {
            ring.reverse();
            normal = -normal;
        }
        let surface = self.model.surface();
        self.model.facet(Facet { loops: vec![ring], normal, item: 0, surface, tinted: false })
    }

    fn line(&mut self, a: Site, b: Site) {
        let ends = [self.view.point(a), self.view.point(b)];
        self.model.edge(ends, [0, 0], EdgeKind::Sharp);
    }

    fn block(&mut self, room: &Room<SiteFrame>) {
        let (low, high) = (room.low, room.high);
        let corner = |i: usize| {
            let pick = |bit: usize, a: f64, b: f64| if i >> bit & 1 == 0 { a } else { b };
            Site::new(pick(0, low.x, high.x), pick(1, low.y, high.y), pick(2, low.z, high.z))
        };
        for [a, b, c, d] in BOX_SIDES {
            self.facet([corner(a), corner(b), corner(c), corner(d)]);
        }
        for bit in 0..3 {
            for i in (0..8).filter(|i| i >> bit & 1 == 0) {
                self.line(corner(i), corner(i | 1 << bit));
            }
        }
    }

    /// A box whose edges know the facets that they bound, so that hidden ones are left out.
    fn solid(&mut self, room: &Room<SiteFrame>) {
        let (low, high) = (room.low, room.high);
        let corner = |i: usize| {
            let pick = |bit: usize, a: f64, b: f64| if i >> bit & 1 == 0 { a } else { b };
            Site::new(pick(0, low.x, high.x), pick(1, low.y, high.y), pick(2, low.z, high.z))
        };
        let middle = (low + high) * 0.5;
        let facets = BOX_SIDES.map(|sides| {
            let mut ring = sides.map(corner);
            let outward = |ring: &[Site; 4]| {
                let normal = (ring[1] - ring[0]).cross(ring[2] - ring[1]);
                normal.dot((ring[0] + ring[2]) * 0.5 - middle)
            };
            if outward(&ring) < 0.0 {
                ring.reverse();
            }
            let ring: Vec<Spot> = ring.iter().map(|p| self.view.point(*p)).collect();
            let normal = (ring[1] - ring[0]).cross(ring[2] - ring[1]).unit();
            let surface = self.model.surface();
            self.model.facet(Facet { loops: vec![ring], normal, item: 0, surface, tinted: true })
        });
        for bit in 0..3 {
            for i in (0..8usize).filter(|i| i >> bit & 1 == 0) {
                let ends = [i, i | 1 << bit];
                let both = |side: &[usize; 4]| ends.iter().all(|end| side.contains(end));
                let sides = BOX_SIDES.iter().enumerate().filter(|(_, side)| both(side));
                let mine: Vec<usize> = sides.map(|(side, _)| facets[side]).collect();
                let spots = ends.map(|end| self.view.point(corner(end)));
                self.model.edge(spots, [mine[0], mine[1]], EdgeKind::Sharp);
            }
        }
    }

    /// The wall's sheet around the opening; whole where none is cut.
    fn wall(&mut self, wall: &Wall, around: &Room<SiteFrame>) {
        let profile = profile(wall);
        let heights = [around.low.z.max(wall.edges[0]), around.high.z.min(wall.edges[1])];
        let widths = [around.low.x, around.high.x];
        if heights[0] >= heights[1] {
            return;
        }
        let (Some(cuts), Some(hole)) = (wall.cuts, wall.cut_heights) else {
            self.sheet(&clipped(&profile, widths), heights, [true, true]);
            return;
        };
        self.sheet(&clipped(&profile, [widths[0], cuts[0]]), heights, [true, true]);
        self.sheet(&clipped(&profile, [cuts[1], widths[1]]), heights, [true, true]);
        let middle = clipped(&profile, cuts);
        self.sheet(&middle, [heights[0], hole[0]], [false, false]);
        self.sheet(&middle, [hole[1], heights[1]], [false, false]);
    }

    /// A strip of the wall, with lines along its profile and its corners; at its two upright ends
    /// only where they are cut.
    fn sheet(&mut self, profile: &[[f64; 2]], heights: [f64; 2], ends: [bool; 2]) {
        if heights[1] - heights[0] < 1e-6 {
            return;
        }
        let at = |p: [f64; 2], z: f64| Site::new(p[0], p[1], z);
        for pair in profile.windows(2) {
            let low = [at(pair[0], heights[0]), at(pair[1], heights[0])];
            let high = [at(pair[0], heights[1]), at(pair[1], heights[1])];
            self.facet([low[0], low[1], high[1], high[0]]);
            self.line(low[0], low[1]);
            self.line(high[0], high[1]);
        }
        let last = profile.len().saturating_sub(1);
        for (i, &p) in profile.iter().enumerate() {
            let drawn = (i > 0 || ends[0]) && (i < last || ends[1]);
            if drawn {
                self.line(at(p, heights[0]), at(p, heights[1]));
            }
        }
    }
}

/// Corners of a box's sides; bit 0 of a corner's index stands for x, 1 for y, 2 for z.
const BOX_SIDES: [[usize; 4]; 6] =
    [[0, 2, 6, 4], [1, 5, 7, 3], [0, 4, 5, 1], [2, 3, 7, 6], [0, 1, 3, 2], [4, 6, 7, 5]];

/// The wall's outer face in plan: (x, y) of its corners, from left to right.
fn profile(wall: &Wall) -> Vec<[f64; 2]> {
    let half = wall.outer_flat / 2.0;
    let mut corners: Vec<[f64; 2]> = vec![[wall.ends[0], 0.0]];
    for (i, &centre) in wall.outer_flat_centres.iter().enumerate() {
        if i > 0 {
            corners.push([centre - half - wall.slope, wall.depth]);
        }
        corners.push([centre - half, 0.0]);
        corners.push([centre + half, 0.0]);
        if i + 1 < wall.outer_flat_centres.len() {
            corners.push([centre + half + wall.slope, wall.depth]);
        }
    }
    corners.push([wall.ends[1], 0.0]);
    corners.dedup_by(|b, a| b[0] <= a[0] + 1e-6);
    corners
}

/// The stretch of a profile between two x.
fn clipped(profile: &[[f64; 2]], [from, to]: [f64; 2]) -> Vec<[f64; 2]> {
    let mut kept = Vec::new();
    for pair in profile.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let (low, high) = (a[0].max(from), b[0].min(to));
        if high - low < 1e-6 {
            continue;
        }
        let at = |x: f64| [x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])];
        if kept.is_empty() {
            kept.push(at(low));
        }
        kept.push(at(high));
    }
    kept
}
