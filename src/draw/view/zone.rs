//! A bend as a solid: facets on the inner and the outer cylinder, and caps at its two ends.

use super::model::{EdgeKind, Facet, Model, Spot};
use super::solid::{Maker, Seat};
use crate::geom::Point3;
use crate::kit::{Bend, Part, Sense};
use crate::units;

/// Below this radius, mm, a cylinder is a line.
const NO_RADIUS: f64 = 1e-6;

/// The sides of the parent's and of the child's outline on which a bend stands.
pub(super) fn sides(part: &Part, bend: &Bend) -> Option<[usize; 2]> {
    let parent = part.faces[bend.parent].outline.side_between(bend.edge)?;
    let child = part.faces[bend.child].outline.side_between(bend.child_edge())?;
    Some([parent, child])
}

/// The cross-section of a bend zone, turned step by step from the parent to the child.
pub(super) struct Section {
    /// Directions of the sheet's +z at each step, in the picture's space.
    ups: Vec<Spot>,
    /// Height of the arc's centre above the parent's underside.
    centre: f64,
    /// The parent's +z.
    up: Spot,
}

impl Section {
    /// The section of a bend whose parent stands at `seat`.
    pub(super) fn new(bend: &Bend, thickness: f64, seat: &Seat, steps: usize) -> Self {
        let out = (bend.edge[1] - bend.edge[0]).unit().right();
        let (up, out) = (seat.z_axis, seat.vector(Point3::new(out.x, out.y, 0.0)));
        let (sign, centre) = match bend.sense {
            Sense::Up => (1.0, thickness + bend.radius),
            Sense::Down => (-1.0, -bend.radius),
        };
        let turned = |i: usize| {
            let angle = sign * bend.angle * i as f64 / steps as f64;
            up * units::cos_deg(angle) - out * units::sin_deg(angle)
        };
        Self { ups: (0..=steps).map(turned).collect(), centre, up }
    }

    /// Number of steps.
    pub(super) fn steps(&self) -> usize {
        self.ups.len() - 1
    }

    /// The point at height `z` of the sheet at a step, from a point `base` of the parent-side edge
    /// on the parent's underside.
    pub(super) fn point(&self, base: Spot, step: usize, z: f64) -> Spot {
        base + self.up * self.centre + self.ups[step] * (z - self.centre)
    }

    /// Radius of the surface at height `z`.
    pub(super) fn radius(&self, z: f64) -> f64 {
        (z - self.centre).abs()
    }

    /// The sheet's +z in the middle between a step and the next.
    fn between(&self, step: usize) -> Spot {
        (self.ups[step] + self.ups[step + 1]).unit()
    }
}

/// Adds a bend between the plates of its parent and of its child; gives the caps at the start and
/// at the end of its edge.
pub(super) fn add(
    model: &mut Model,
    bend: &Bend,
    plates: [[usize; 2]; 2],
    maker: &Maker,
) -> [usize; 2] {
    let outside = bend.radius + maker.thickness;
    let small = outside < maker.detail.small_bend;
    let step = if small { 45.0 } else { 15.0 };
    let steps = 2 * (bend.angle / step / 2.0).ceil().max(1.0) as usize;
    let section = Section::new(bend, maker.thickness, &maker.seat, steps);
    let base = bend.edge.map(|p| maker.seat.lifted(p, 0.0));
    let caps = [cap(model, &section, base, maker), cap(model, &section, [base[1], base[0]], maker)];
    for (side, z) in [maker.thickness, 0.0].into_iter().enumerate() {
        let band =
            Band { section: &section, base, z, plates: plates.map(|p| p[side]), caps, small };
        if section.radius(z) < NO_RADIUS {
            band.line(model);
        } else {
            band.facets(model, maker.item);
        }
    }
    caps
}

/// The end of a bend at `base[0]`, seen from outside; its loop turns the right way round for the
/// start of the bend when `base` runs along it, for the end when it runs back.
fn cap(model: &mut Model, section: &Section, base: [Spot; 2], maker: &Maker) -> usize {
    let normal = (base[0] - base[1]).unit();
    let arc = |z: f64| (0..=section.steps()).map(move |i| section.point(base[0], i, z));
    let mut ring: Vec<Spot> = arc(0.0).collect();
    ring.extend(arc(maker.thickness).rev());
    ring.dedup();
    let surface = model.surface();
    model.facet(Facet { loops: vec![ring], normal, item: maker.item, surface, tinted: true })
}

/// One of the two cylinders of a bend.
struct Band<'a> {
    section: &'a Section,
    base: [Spot; 2],
    z: f64,
    /// The parent's and the child's plate on this side of the sheet.
    plates: [usize; 2],
    caps: [usize; 2],
    /// Whether one crest stands for the two tangent lines.
    small: bool,
}

impl Band<'_> {
    fn across(&self, step: usize) -> [Spot; 2] {
        self.base.map(|base| self.section.point(base, step, self.z))
    }

    /// A cylinder without radius: the two plates meet in a corner.
    fn line(&self, model: &mut Model) {
        model.edge(self.across(0), self.plates, EdgeKind::Sharp);
    }

    fn facets(&self, model: &mut Model, item: usize) {
        let steps = self.section.steps();
        let surface = model.surface();
        let upper = self.z > 0.0;
        let first = model.facets.len();
        for i in 0..steps {
            let ([a, d], [b, c]) = (self.across(i), self.across(i + 1));
            let ring = if upper { vec![a, b, c, d] } else { vec![d, c, b, a] };
            let out = self.section.between(i);
            let normal = if upper { out } else { -out };
            model.facet(Facet { loops: vec![ring], normal, item, surface, tinted: true });
        }
        for i in 0..steps {
            let ([a, d], [b, c]) = (self.across(i), self.across(i + 1));
            model.edge([a, b], [self.caps[0], first + i], EdgeKind::Sharp);
            model.edge([d, c], [self.caps[1], first + i], EdgeKind::Sharp);
            if i > 0 {
                model.edge([a, d], [first + i - 1, first + i], EdgeKind::Smooth);
            }
        }
        let seam = if self.small { EdgeKind::Smooth } else { EdgeKind::Tangent };
        model.edge(self.across(0), [self.plates[0], first], seam);
        model.edge(self.across(steps), [first + steps - 1, self.plates[1]], seam);
        if self.small {
            model.edge(self.across(steps / 2), self.plates, EdgeKind::Crest);
        }
    }
}
