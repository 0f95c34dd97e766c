//! Hidden lines against sight by brute force: a point of an edge is drawn when, and only when, no
//! triangle of an independent model stands in front of it.

use blankwright::draw::view::{part_from, part_view};
use blankwright::draw::{Pen, Picture};
use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::{PartFrame, Point, Point3, Pose, ViewFrame};
use blankwright::kit::{Bend, HoleShape, Part, Sense};
use blankwright::units;
use proptest::prelude::{ProptestConfig, Strategy, prop, prop_assert, proptest};

use crate::view_parts::{Fold, fold as add_leg, hole, rectangle};

type Spot = Point3<ViewFrame>;
type Dot = Point<ViewFrame>;

/// Triangles, and edges that must be seen where nothing stands before them.
#[derive(Default)]
struct Solid {
    triangles: Vec<[Spot; 3]>,
    edges: Vec<[Spot; 2]>,
    /// Outlines of the bend zones in the picture, where lines follow the curved surface.
    zones: Vec<[Dot; 2]>,
}

/// How far the two models' chords of a bend of radius 3.5 may lie apart, mm: the sag over 45 degrees.
const CURVED: f64 = 0.3;

fn flat(p: Spot) -> Dot {
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
        for ([x0, y0, x1, y1], outer) in rings {
            let corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
            for (i, &a) in corners.iter().enumerate() {
                let side = [a, corners[(i + 1) % 4]];
                let low = side.map(|(x, y)| at(x, y, 0.0));
                let high = side.map(|(x, y)| at(x, y, part.thickness));
                if outer && bent(part, index, side) {
                    continue;
                }
                self.quad([low[0], low[1], high[1], high[0]]);
                self.edges.extend([low, high]);
                let ends = [(0, i), (1, i + 1)];
                let sharp =
                    |corner: usize| !outer || !beside_bend(part, index, corners[corner % 4]);
                let upright = ends.iter().filter(|(_, corner)| sharp(*corner));
                self.edges.extend(upright.map(|(end, _)| [low[*end], high[*end]]));
            }
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

    fn hidden(&self, p: Spot) -> bool {
        self.triangles.iter().any(|triangle| in_front(triangle, p, 0.0))
    }

    /// Whether a small step aside would change what stands in front of a point.
    fn doubtful(&self, p: Spot) -> bool {
        let hidden = self.hidden(p);
        self.triangles.iter().any(|triangle| in_front(triangle, p, CURVED)) != hidden
            || self.triangles.iter().any(|triangle| in_front(triangle, p, -CURVED)) != hidden
    }
}

type View = Pose<PartFrame, ViewFrame>;

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

fn near(a: (f64, f64), b: Point<blankwright::geom::FaceFrame>) -> bool {
    Point::new(a.0, a.1).distance(b) < 1e-6
}

/// Ends of the bend zones on a face.
fn zone_ends(part: &Part, face: usize) -> Vec<[Point<blankwright::geom::FaceFrame>; 2]> {
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

fn solid(part: &Part, folded: &FoldedPart, view: &View) -> Solid {
    let mut solid = Solid::default();
    (0..part.faces.len()).for_each(|i| solid.face(part, folded, i, view));
    part.bends.iter().for_each(|bend| solid.bend(part, folded, bend, view));
    solid
}

fn off([a, b]: [Dot; 2], p: Dot) -> f64 {
    let side = b - a;
    let share = (p - a).dot(side) / side.dot(side).max(1e-12);
    p.distance(a + side * share.clamp(0.0, 1.0))
}

fn pieces(picture: &Picture) -> Vec<[Dot; 2]> {
    [Pen::Outline, Pen::Narrow]
        .iter()
        .flat_map(|pen| crate::view_isometric::pieces(picture, *pen))
        .collect()
}

/// Faults of a picture: points of edges that are seen and not drawn, or drawn and not seen.
fn faults(part: &Part) -> Vec<String> {
    let folded = fold(part);
    let view = part_view(part, &folded);
    let solid = solid(part, &folded, &view);
    let drawn = pieces(&part_from(part, &folded, &view));
    let mut faults = Vec::new();
    let along = |i: usize| (i as f64 + 0.37) / 24.0;
    for edge in &solid.edges {
        for p in (0..24).map(|i| edge[0] + (edge[1] - edge[0]) * along(i)) {
            let there = drawn.iter().any(|piece| off(*piece, flat(p)) < 2e-3);
            if !there && !solid.hidden(p) && !solid.doubtful(p) {
                faults.push(format!("{p:?} of {edge:?} is seen and not drawn"));
            }
        }
    }
    for piece in &drawn {
        for p in (0..24).map(|i| piece[0].toward(piece[1], along(i))) {
            let sources = solid.edges.iter().filter_map(|edge| upon(edge, p));
            let seen = sources.map(|q| !solid.hidden(q) || solid.doubtful(q));
            let curved = solid.zones.iter().any(|zone| off(*zone, p) < 0.5);
            if !curved && !seen.fold(false, |any, seen| any || seen) {
                faults.push(format!("{p:?} of {piece:?} is drawn and not seen"));
            }
        }
    }
    faults
}

/// The point of an edge that is seen at `p`.
fn upon(edge: &[Spot; 2], p: Dot) -> Option<Spot> {
    let side = flat(edge[1]) - flat(edge[0]);
    let share = ((p - flat(edge[0])).dot(side) / side.dot(side).max(1e-12)).clamp(0.0, 1.0);
    let q = edge[0] + (edge[1] - edge[0]) * share;
    (flat(q).distance(p) < 2e-3).then_some(q)
}

#[derive(Debug, Clone)]
struct Plan {
    root: (f64, f64),
    legs: Vec<(usize, f64, f64)>,
    further: f64,
    window: bool,
}

fn part(plan: &Plan) -> Part {
    let mut part = rectangle(2.0, plan.root.0, plan.root.1);
    let mut last = 0;
    for &(side, leg, angle) in &plan.legs {
        last = add_leg(&mut part, 0, side, Fold { leg, angle, radius: 1.5 });
    }
    if last > 0 {
        add_leg(&mut part, last, 1, Fold { leg: 15.0, angle: plan.further, radius: 1.5 });
    }
    if plan.window {
        let (w, h) = plan.root;
        hole(&mut part, 0, (w / 2.0, h / 2.0), HoleShape::Rectangle(h / 3.0, w / 3.0, 0.0));
    }
    part
}

fn plans() -> impl Strategy<Value = Plan> {
    let turn = prop::sample::select(vec![-90.0, 90.0, 35.0, -60.0, 110.0]);
    let leg = (20.0..70.0_f64, turn.clone());
    let sides = prop::sample::subsequence(vec![0_usize, 2], 0..=2);
    let root = (60.0..150.0_f64, 40.0..120.0_f64);
    (root, sides, prop::collection::vec(leg, 2), turn, prop::bool::ANY).prop_map(
        |(root, sides, legs, further, window)| {
            let legs = sides.into_iter().zip(legs).map(|(side, (leg, turn))| (side, leg, turn));
            Plan { root, legs: legs.collect(), further, window }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..<_>::default() })]

    #[test]
    fn what_is_drawn_is_what_is_seen(plan in plans()) {
        let faults = faults(&part(&plan));
        prop_assert!(faults.is_empty(), "{} faults, first: {}", faults.len(), faults[0]);
    }
}

#[test]
fn sight_by_brute_force_sees_a_lost_line() {
    let part = part(&Plan {
        root: (100.0, 60.0),
        legs: vec![(0, 40.0, 90.0)],
        further: 90.0,
        window: true,
    });
    let folded = fold(&part);
    let view = part_view(&part, &folded);
    let solid = solid(&part, &folded, &view);
    assert!(solid.edges.iter().any(|edge| solid.hidden((edge[0] + edge[1]) * 0.5)));
    assert!(solid.edges.iter().any(|edge| !solid.hidden((edge[0] + edge[1]) * 0.5)));
}
