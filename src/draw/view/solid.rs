//! A folded part as a solid: each face a slab, each bend a band of facets on its two cylinders.

use super::broken::Gap;
use super::hole;
use super::model::{EdgeKind, Facet, Model};
use super::wall::{self, Flank, Runs};
use super::zone;
use crate::geom::{FaceFrame, Path, Pose, ViewFrame};
use crate::kit::{Hole, Part};

/// The frame of a face in the picture's space.
pub(super) type Seat = Pose<FaceFrame, ViewFrame>;

/// How finely a part is modelled, in millimetres of the part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Detail {
    /// Greatest sag of chords on holes and rounded outlines.
    pub(super) sag: f64,
    /// Holes smaller than this get narrow lines.
    pub(super) small_hole: f64,
    /// Holes smaller than this are left out.
    pub(super) least_hole: f64,
    /// Bends with a smaller outside radius show one crest instead of two tangent lines.
    pub(super) small_bend: f64,
    /// Cut edges of thinner sheet get no tint.
    pub(super) least_wall: f64,
    /// Where holes are left out, since the part will be interrupted.
    pub(super) gap: Option<Gap>,
}

/// What a piece of a part is made with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Maker {
    /// The frame of the face it belongs to.
    pub(super) seat: Seat,
    /// Sheet thickness, mm.
    pub(super) thickness: f64,
    /// The item it belongs to.
    pub(super) item: usize,
    /// How finely.
    pub(super) detail: Detail,
}

/// A face's facets.
#[derive(Debug, Clone)]
pub(super) struct Slab {
    /// The facets at z = thickness and at z = 0.
    pub(super) plates: [usize; 2],
    /// What bounds it along each side of the outline.
    flanks: Vec<Flank>,
}

/// Adds a part whose faces stand at `seats`.
pub(super) fn add(model: &mut Model, part: &Part, seats: &[Seat], item: usize, detail: &Detail) {
    let sides: Vec<_> = part.bends.iter().map(|bend| zone::sides(part, bend)).collect();
    let maker =
        |face: usize| Maker { seat: seats[face], thickness: part.thickness, item, detail: *detail };
    let mut slabs: Vec<Slab> =
        (0..part.faces.len()).map(|i| slab(model, part, i, &sides, &maker(i))).collect();
    for (bend, sides) in part.bends.iter().zip(&sides) {
        let Some([at_parent, at_child]) = *sides else { continue };
        let plates = [slabs[bend.parent].plates, slabs[bend.child].plates];
        let [start, end] = zone::add(model, bend, plates, &maker(bend.parent));
        slabs[bend.parent].flanks[at_parent] = Flank::new(start, end);
        slabs[bend.child].flanks[at_child] = Flank::new(end, start);
    }
    for (i, slab) in slabs.iter().enumerate() {
        wall::corners(model, &part.faces[i].outline, &slab.flanks, EdgeKind::Sharp, &maker(i));
    }
}

/// A face without its bends; sides that carry one are left open, to be closed by its caps.
fn slab(
    model: &mut Model,
    part: &Part,
    index: usize,
    bends: &[Option<[usize; 2]>],
    maker: &Maker,
) -> Slab {
    let face = &part.faces[index];
    let fine = |size: f64| maker.detail.sag.min(size * ROUND_SAG);
    let left_out = |it: &Hole| maker.detail.gap.is_some_and(|gap| gap.swallows(it, &maker.seat));
    let holes: Vec<(Path<FaceFrame>, f64)> = face
        .holes
        .iter()
        .filter(|it| hole::extent(it) >= maker.detail.least_hole && !left_out(it))
        .map(|it| (hole::ring(it), hole::extent(it)))
        .collect();
    let mut rings = vec![Runs::new(&face.outline, maker.detail.sag)];
    rings.extend(holes.iter().map(|(ring, size)| Runs::new(ring, fine(*size))));
    let plates = [plate(model, &rings, true, maker), plate(model, &rings, false, maker)];
    let bent = |side: usize| {
        part.bends.iter().zip(bends).any(|(bend, sides)| {
            let owner = [bend.parent, bend.child];
            sides.is_some_and(|s| (0..2).any(|i| owner[i] == index && s[i] == side))
        })
    };
    let flanks = wall::around(model, &rings[0], plates, (&bent, EdgeKind::Sharp), maker);
    for ((ring, size), runs) in holes.iter().zip(&rings[1..]) {
        let small = *size < maker.detail.small_hole;
        let kind = if small { EdgeKind::Small } else { EdgeKind::Sharp };
        let walls = wall::around(model, runs, plates, (&|_| false, kind), maker);
        wall::corners(model, ring, &walls, kind, maker);
    }
    Slab { plates, flanks }
}

/// Sag of a chord over 45 degrees, for a diameter of 1: a round hole has at least 8 chords.
const ROUND_SAG: f64 = 0.038;

/// One of the two large facets of a slab.
fn plate(model: &mut Model, rings: &[Runs], upper: bool, maker: &Maker) -> usize {
    let z = if upper { maker.thickness } else { 0.0 };
    let lifted = rings.iter().map(Runs::ring).filter(|ring| ring.len() > 2).map(|ring| {
        let mut ring: Vec<_> = ring.iter().map(|p| maker.seat.lifted(*p, z)).collect();
        if !upper {
            ring.reverse();
        }
        ring
    });
    let loops = lifted.collect();
    let normal = if upper { maker.seat.z_axis } else { -maker.seat.z_axis };
    let surface = model.surface();
    model.facet(Facet { loops, normal, item: maker.item, surface, tinted: true })
}
