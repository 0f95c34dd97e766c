//! What stacks up: the instances of parts that fasteners hold together, the bends on the way to
//! their holes, and every error that is carried.

use std::collections::BTreeMap;
use std::ops::Range;

use super::bend::{Fold, folds};
use super::gate::{Flat, Gate, Region};
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, Point, Point3, Pose, SiteFrame};
use crate::kit::{Hole, HoleShape, Joint, JointMember, Kit, Part};
use crate::shelf::{Shelf, Spread, Tolerance};

/// An instance of a part with the bends that lead to its joined holes.
#[derive(Debug)]
pub(super) struct Body {
    /// Index of the part.
    pub(super) part: usize,
    /// Where its root stands when nothing is off.
    pub(super) root: Pose<FaceFrame, SiteFrame>,
    /// Parents before children.
    pub(super) folds: Vec<Fold>,
    /// Middle of its joined holes, about which the fitter turns it.
    pub(super) centre: Point3<SiteFrame>,
}

/// A hole that a fastener goes through.
#[derive(Debug)]
pub(super) struct Bore {
    /// Index of the body.
    pub(super) body: usize,
    /// The fold whose child face it is in; none for the root.
    pub(super) fold: Option<usize>,
    /// Centre in the middle of the sheet, in the face's frame.
    pub(super) at: Point3<FaceFrame>,
    /// The same in the site.
    pub(super) place: Point3<SiteFrame>,
    /// How it moves in the site for each mm a metre that its blank is too long.
    pub(super) stretch: Point3<SiteFrame>,
    /// The face's x and y in the plane of its pin's joint.
    pub(super) turn: [Flat; 2],
    /// Room for the pin.
    pub(super) gate: Gate,
}

/// One fastener through two or more holed sheets.
#[derive(Debug)]
pub(super) struct Pin {
    /// In the plane of the joint: the first face's x and y; then its normal. In the site.
    pub(super) axes: [Point3<SiteFrame>; 3],
    /// Its holes in the order of the joint's members.
    pub(super) bores: Range<usize>,
    /// Every two of them.
    pub(super) pairs: Range<usize>,
}

/// Two holes of one pin.
#[derive(Debug)]
pub(super) struct Pair {
    /// The pin.
    pub(super) pin: usize,
    /// The two holes; offsets are those of the second from the first.
    pub(super) bores: [usize; 2],
    /// How far apart they may lie.
    pub(super) region: Region,
}

/// Standard deviations of the errors, and the fitter's give.
#[derive(Debug, Clone, Copy)]
pub(super) struct Deviations {
    /// A hole's centre along either axis, mm.
    pub(super) position: f64,
    /// A blank's length, mm a metre.
    pub(super) stretch: f64,
    /// A bend's angle, degrees.
    pub(super) angle: f64,
    /// A bend line's place, mm.
    pub(super) line: f64,
    /// How far a bend gives, degrees.
    pub(super) give: f64,
    /// Whether errors lie evenly within their limits.
    pub(super) uniform: bool,
}

/// Everything the two methods work on.
#[derive(Debug)]
pub(super) struct Model {
    pub(super) bodies: Vec<Body>,
    pub(super) bores: Vec<Bore>,
    pub(super) pins: Vec<Pin>,
    pub(super) pairs: Vec<Pair>,
    /// For each joint of the kit its pins; none where only one sheet has holes.
    pub(super) joints: Vec<Range<usize>>,
    pub(super) deviations: Deviations,
}

impl Model {
    /// Gathers it from a kit.
    pub(super) fn of(kit: &Kit, folded: &[FoldedPart], shelf: &Shelf) -> Self {
        let tolerance = &shelf.shop.tolerance;
        let mut gather = Gather::new(kit, folded, tolerance);
        gather.stand_bodies();
        for joint in &kit.joints {
            gather.joint(joint);
        }
        for body in 0..gather.model.bodies.len() {
            let places = gather.model.bores.iter().filter(|bore| bore.body == body);
            let (count, sum) = places.fold((0.0, Point3::new(0.0, 0.0, 0.0)), |(n, sum), bore| {
                (n + 1.0, sum + bore.place)
            });
            gather.model.bodies[body].centre = sum * (1.0 / f64::max(count, 1.0));
        }
        gather.model
    }
}

/// A joint's holes found in the kit's parts.
#[derive(Clone, Copy)]
struct Found<'a> {
    part: usize,
    place: usize,
    face: usize,
    hole: &'a Hole,
}

struct Gather<'a> {
    kit: &'a Kit,
    folded: &'a [FoldedPart],
    tolerance: &'a Tolerance,
    /// For each part, its holes by id with their faces.
    holes: Vec<BTreeMap<&'a str, (usize, &'a Hole)>>,
    /// The body of each instance.
    bodies: BTreeMap<(usize, usize), usize>,
    model: Model,
}

impl<'a> Gather<'a> {
    fn new(kit: &'a Kit, folded: &'a [FoldedPart], tolerance: &'a Tolerance) -> Self {
        let by_id = |part: &'a Part| {
            let faces = part.faces.iter().enumerate();
            let holes = faces.flat_map(|(i, face)| face.holes.iter().map(move |hole| (i, hole)));
            holes.map(|(face, hole)| (hole.id.as_str(), (face, hole))).collect()
        };
        let deviation = |limit: f64| tolerance.spread.deviation(limit);
        let deviations = Deviations {
            position: deviation(tolerance.hole_position),
            stretch: deviation(tolerance.stretch),
            angle: deviation(tolerance.bend_angle),
            line: deviation(tolerance.bend_line),
            give: tolerance.give,
            uniform: tolerance.spread == Spread::Uniform,
        };
        let model = Model {
            bodies: Vec::new(),
            bores: Vec::new(),
            pins: Vec::new(),
            pairs: Vec::new(),
            joints: Vec::new(),
            deviations,
        };
        let holes = kit.parts.iter().map(by_id).collect();
        Self { kit, folded, tolerance, holes, bodies: BTreeMap::new(), model }
    }

    /// The holes of one fastener, in the order of the joint's members.
    fn found(&self, pair: &[JointMember]) -> Vec<Found<'a>> {
        let found = pair.iter().filter_map(|member| {
            let JointMember::Hole { part, place, hole } = member else { return None };
            let (face, hole) = *self.holes[*part].get(hole.as_str())?;
            Some(Found { part: *part, place: *place, face, hole })
        });
        found.collect()
    }

    /// Every instance that is joined to another one, with the bends towards its joined faces.
    fn stand_bodies(&mut self) {
        let mut faces: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for pair in self.kit.joints.iter().flat_map(|joint| &joint.pairs) {
            let found = self.found(pair);
            for hole in found.iter().filter(|_| 2 <= found.len()) {
                faces.entry((hole.part, hole.place)).or_default().push(hole.face);
            }
        }
        for ((part, place), mut used) in faces {
            used.sort_unstable();
            used.dedup();
            let it = &self.kit.parts[part];
            let root = self.folded[part].faces[0].then(&it.places[place]);
            let folds = folds(it, &self.folded[part], &it.places[place], &used);
            self.bodies.insert((part, place), self.model.bodies.len());
            let centre = root.shift;
            self.model.bodies.push(Body { part, root, folds, centre });
        }
    }

    fn joint(&mut self, joint: &Joint) {
        let first = self.model.pins.len();
        let fastener = self.kit.fasteners.iter().find(|f| f.id == joint.fastener);
        let diameter = fastener.map_or(0.0, |fastener| fastener.diameter);
        for pair in &joint.pairs {
            let found = self.found(pair);
            if 2 <= found.len() {
                self.pin(&found, diameter);
            }
        }
        self.model.joints.push(first..self.model.pins.len());
    }

    fn pin(&mut self, found: &[Found], diameter: f64) {
        let pose = |hole: &Found| {
            self.folded[hole.part].faces[hole.face]
                .then(&self.kit.parts[hole.part].places[hole.place])
        };
        let first = pose(&found[0]);
        let axes = [first.x_axis, first.y_axis, first.z_axis];
        let bores: Vec<Bore> =
            found.iter().map(|hole| self.bore(hole, &pose(hole), diameter, &axes)).collect();
        let model = &mut self.model;
        let (pin, start, pairs) = (model.pins.len(), model.bores.len(), model.pairs.len());
        for i in 0..bores.len() {
            for j in i + 1..bores.len() {
                let region = Region::of(&bores[i].gate, &bores[j].gate);
                model.pairs.push(Pair { pin, bores: [start + i, start + j], region });
            }
        }
        let pairs = pairs..model.pairs.len();
        model.pins.push(Pin { axes, bores: start..start + bores.len(), pairs });
        model.bores.extend(bores);
    }

    fn bore(
        &self,
        found: &Found,
        pose: &Pose<FaceFrame, SiteFrame>,
        diameter: f64,
        axes: &[Point3<SiteFrame>; 3],
    ) -> Bore {
        let Found { part, place, face, hole } = *found;
        let body = self.bodies[&(part, place)];
        let it = &self.model.bodies[body];
        let fold = it.folds.iter().position(|fold| fold.face == face);
        let at = Point3::new(hole.centre.x, hole.centre.y, self.kit.parts[part].thickness / 2.0);
        let (start, shift) = fold.map_or((Point::new(0.0, 0.0), None), |fold| {
            (it.folds[fold].start, Some(it.folds[fold].stretch))
        });
        let from = hole.centre - start;
        let inside = pose.vector(Point3::new(from.x, from.y, 0.0)) * 1e-3;
        let width = match hole.shape {
            HoleShape::Round(width) => width,
            HoleShape::Slot(width, ..) | HoleShape::Rectangle(width, ..) => width,
            HoleShape::Cutout(_) => 2.0 * hole.shape.reach(),
        };
        let spread = self.tolerance.spread.deviation(self.tolerance.size_of(width));
        let turn = |v: Point<FaceFrame>| -> Flat {
            let v = pose.vector(Point3::new(v.x, v.y, 0.0));
            [v.dot(axes[0]), v.dot(axes[1])]
        };
        Bore {
            body,
            fold,
            at,
            place: pose.point(at),
            stretch: shift.map_or(inside, |shift| shift + inside),
            turn: [turn(Point::new(1.0, 0.0)), turn(Point::new(0.0, 1.0))],
            gate: Gate::of(&hole.shape, diameter, spread, turn),
        }
    }
}
