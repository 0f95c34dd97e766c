//! An independent model of folded parts for the tests of the views: triangles and true edges of
//! rectangular faces with rectangular holes, bends by the contract's formula.

use blankwright::fold::FoldedPart;
use blankwright::geom::{FaceFrame, PartFrame, Point, Point3, Pose, ViewFrame};
use blankwright::kit::{Bend, HoleShape, Part, Sense};
use blankwright::units;

pub(crate) type Spot = Point3<ViewFrame>;
pub(crate) type Dot = Point<ViewFrame>;

/// Triangles, and edges that must be seen where nothing stands before them.
#[derive(Default)]
pub(crate) struct Solid {
    triangles: Vec<[Spot; 3]>,
    pub(crate) edges: Vec<[Spot; 2]>,
    /// Outlines of the bend zones in the picture, where lines follow the curved surface.
    pub(crate) zones: Vec<[Dot; 2]>,
}

/// How far the two models' chords of a bend of radius 3.5 may lie apart, mm: the sag over 45
/// degrees.
const CURVED: f64 = 0.3;

pub(crate) fn flat(p: Spot) -> Dot {
    Dot::new(p.x, p.y)
}

impl Solid {
    fn quad(&mut self, [a, b, c, d]: [Spot; 4]) {
        self.triangles.push([a, b, c]);
        self.triangles.push([a, c, d]);
    }

    /// A rectangular slab with a rectangular hole, as the rectangles around the hole.
    fn face(&mut self, part: &Part, folded: &FoldedPart, index: usize, view: &View) {
        let face = &part.faces[index];
        let at =
            |x: f64, y: f64, z: f64| view.point(folded.faces[index].lifted(Point::new(x, y), z));
        let b = face.outline.bounds();
        let mut rectangles = vec![[b.low.x, b.low.y, b.high.x, b.high.y]];
        let mut rings = vec![(rectangles[0], true)];
        if let Some(hole) = face.holes.first() {
            let HoleShape::Rectangle(width, length, _) = hole.shape else { unreachable!() };
            let (c, w, l) = (hole.centre, width / 2.0, length / 2.0);
            let [x0, y0, x1, y1] = [c.x - l, c.y - w, c.x + l, c.y + w];
            let [a0, b0, a1, b1] = rectangles[0];
            rectangles =
                vec![[a0, b0, x0, b1], [x1, b0, a1, b1], [x0, b0, x1, y0], [x0, y1, x1, b1]];
            rings.push(([x0, y0, x1, y1], false));
        }
        for [x0, y0, x1, y1] in rectangles {
            for z in [0.0, part.thickness] {
                self.quad([at(x0, y0, z), at(x1, y0, z), at(x1, y1, z), at(x0, y1, z)]);
            }
        }
        for (ring, outer) in rings {
            self.walls(part, index, (ring, outer), &at);
        }
    }

    /// The walls and edges around a rectangle, but for sides and corners at bends.
    fn walls(
        &mut self,
        part: &Part,
        index: usize,
        ([x0, y0, x1, y1], outer): ([f64; 4], bool),
        at: &dyn Fn(f64, f64, f64) -> Spot,
    ) {
        let corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        let sharp = |corner: usize| !outer || !beside_bend(part, index, corners[corner % 4]);
        for (i, &a) in corners.iter().enumerate() {
            let side = [a, corners[(i + 1) % 4]];
            let low = side.map(|(x, y)| at(x, y, 0.0));
            let high = side.map(|(x, y)| at(x, y, part.thickness));
            if !outer || !bent(part, index, side) {
                self.quad([low[0], low[1], high[1], high[0]]);
                self.edges.extend([low, high]);
            }
            let ends = [(0, i), (1, i + 1)];
            let upright = ends.iter().filter(|(_, corner)| sharp(*corner));
            self.edges.extend(upright.map(|(end, _)| [low[*end], high[*end]]));
        }
    }

    /// A bend in small steps by the contract's formula, with closed ends.
    fn bend(&mut self, part: &Part, folded: &FoldedPart, bend: &Bend, view: &View) {
        const STEPS: usize = 6;
        let along = (bend.edge[1] - bend.edge[0]).unit();
        let n = along.right();
        let (t, r) = (part.thickness, bend.radius);
        let at = |end: usize, step: usize, z: f64| {
            let turn = bend.angle * step as f64 / STEPS as f64;
            let (sin, cos) = (units::sin_deg(turn), units::cos_deg(turn));
            let (out, up) = match bend.sense {
                Sense::Up => (sin * (t + r - z), t + r - cos * (t + r - z)),
                Sense::Down => (sin * (z + r), cos * (z + r) - r),
            };
            view.point(folded.faces[bend.parent].lifted(bend.edge[end] + n * out, up))
        };
        for step in 0..STEPS {
            for z in [0.0, t] {
                let [a, b] = [at(0, step, z), at(0, step + 1, z)];
                self.quad([a, b, at(1, step + 1, z), at(1, step, z)]);
            }
            for end in [0, 1] {
                let (low, high) = ([step, step + 1].map(|s| at(end, s, 0.0)), [step, step + 1]);
                self.quad([low[0], low[1], at(end, high[1], t), at(end, high[0], t)]);
            }
        }
        for z in [0.0, t] {
            let arc = (0..=STEPS).flat_map(|s| [0, 1].map(|end| flat(at(end, s, z))));
            let arc: Vec<Dot> = arc.collect();
            let pairs = arc
                .iter()
                .enumerate()
                .flat_map(|(i, a)| arc[i + 1..].iter().map(move |b| [*a, *b]));
            self.zones.extend(pairs);
        }
    }

    pub(crate) fn hidden(&self, p: Spot) -> bool {
        self.triangles.iter().any(|triangle| in_front(triangle, p, 0.0))
    }

    /// Whether a small step aside would change what stands in front of a point.
    pub(crate) fn doubtful(&self, p: Spot) -> bool {
        let hidden = self.hidden(p);
        self.triangles.iter().any(|triangle| in_front(triangle, p, CURVED)) != hidden
            || self.triangles.iter().any(|triangle| in_front(triangle, p, -CURVED)) != hidden
    }
}

pub(crate) type View = Pose<PartFrame, ViewFrame>;

/// Whether a triangle, its sides moved out by `grown`, stands before a point by more than 1e-3 mm.
fn in_front([a, b, c]: &[Spot; 3], p: Spot, grown: f64) -> bool {
    let normal = (*b - *a).cross(*c - *a);
    if normal.z.abs() < 1e-9 * normal.length() {
        return false;
    }
    let turn = normal.z.signum();
    let inside = [(a, b), (b, c), (c, a)].iter().all(|(s, e)| {
        let side = flat(**e) - flat(**s);
        turn * side.unit().cross(flat(p) - flat(**s)) > -grown
    });
    let z = a.z - (normal.x * (p.x - a.x) + normal.y * (p.y - a.y)) / normal.z;
    inside && z > p.z + 1e-3
}

fn near(a: (f64, f64), b: Point<FaceFrame>) -> bool {
    Point::new(a.0, a.1).distance(b) < 1e-6
}

/// Ends of the bend zones on a face.
fn zone_ends(part: &Part, face: usize) -> Vec<[Point<FaceFrame>; 2]> {
    let parents = part.bends.iter().filter(|bend| bend.parent == face).map(|bend| bend.edge);
    let children = part.bends.iter().filter(|bend| bend.child == face).map(|bend| {
        let start = bend.child_start;
        [start, Point::new(start.x, start.y + bend.edge[0].distance(bend.edge[1]))]
    });
    parents.chain(children).collect()
}

fn bent(part: &Part, face: usize, [a, b]: [(f64, f64); 2]) -> bool {
    zone_ends(part, face)
        .iter()
        .any(|[p, q]| (near(a, *p) && near(b, *q)) || (near(a, *q) && near(b, *p)))
}

fn beside_bend(part: &Part, face: usize, corner: (f64, f64)) -> bool {
    zone_ends(part, face).iter().flatten().any(|p| near(corner, *p))
}

pub(crate) fn solid(part: &Part, folded: &FoldedPart, view: &View) -> Solid {
    let mut solid = Solid::default();
    (0..part.faces.len()).for_each(|i| solid.face(part, folded, i, view));
    part.bends.iter().for_each(|bend| solid.bend(part, folded, bend, view));
    solid
}
