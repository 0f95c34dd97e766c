//! Bodies are closed: every edge is run once each way, ends where its curve ends, and lies on the
//! surfaces beside it; and a STEP file says what a body has.

use std::collections::{BTreeMap, BTreeSet};

use blankwright::body::{Assembly, Axes, Body, Curve, Edge, Surface, Way, assemble, body};
use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::{FaceFrame, PartFrame, Point, Point3};
use blankwright::kit::{Face, HoleShape, Part, Sunk};
use blankwright::mesh::{self, Mesh};
use blankwright::units;
use blankwright::write::{About, step};
use proptest::prelude::*;

use crate::bracket;
use crate::law_parts::part;
use crate::law_stock::{config, head, made, make};

type Spot = Point3<PartFrame>;

/// How far a corner may lie off its curve or surface, mm.
const NEAR: f64 = 1e-7;

/// How far a point lies off a plane, a cylinder or a cone.
fn off(surface: &Surface, p: Spot) -> f64 {
    let from = |axes: &Axes| {
        let along = (p - axes.origin).dot(axes.axis);
        (along, (p - axes.origin - axes.axis * along).length())
    };
    match surface {
        Surface::Plane(axes) => from(axes).0.abs(),
        Surface::Cylinder(axes, radius) => (from(axes).1 - radius).abs(),
        Surface::Cone(axes, radius, half) => {
            let (along, away) = from(axes);
            (away - radius - along * units::tan_deg(*half)).abs()
        }
    }
}

/// The middle of an edge, which tells an arc from the other arc between its ends.
fn middle(body: &Body, edge: &Edge) -> Spot {
    let [a, b] = edge.ends.map(|end| body.corners[end]);
    let Curve::Circle(axes, radius) = edge.curve else { return (a + b) * 0.5 };
    let y = axes.axis.cross(axes.x);
    let angle = |p: Spot| units::atan2_deg((p - axes.origin).dot(y), (p - axes.origin).dot(axes.x));
    let turn = (angle(b) - angle(a)).rem_euclid(360.0);
    let turn = if edge.ends[0] == edge.ends[1] { 360.0 } else { turn };
    let half = angle(a) + turn / 2.0;
    axes.origin + (axes.x * units::cos_deg(half) + y * units::sin_deg(half)) * radius
}

/// Corners at the start and the end of a way.
fn ends(body: &Body, (edge, forward): Way) -> [usize; 2] {
    let [from, to] = body.edges[edge].ends;
    if forward { [from, to] } else { [to, from] }
}

/// That a way around lies on a surface and comes back to where it began.
fn lies(body: &Body, surface: &Surface, ways: &[Way]) {
    for (i, way) in ways.iter().enumerate() {
        let next = ways[(i + 1) % ways.len()];
        assert_eq!(ends(body, *way)[1], ends(body, next)[0], "loops close");
        let edge = &body.edges[way.0];
        let points = edge.ends.map(|end| body.corners[end]);
        let mut points = points.into_iter().chain([middle(body, edge)]);
        assert!(points.all(|p| off(surface, p) < NEAR), "{edge:?} lies off {surface:?}");
    }
}

/// All that makes a body closed and each patch a piece of its surface.
fn holds(body: &Body) {
    let mut runs = vec![[0, 0]; body.edges.len()];
    for patch in &body.patches {
        for ways in &patch.loops {
            lies(body, &patch.surface, ways);
            ways.iter().for_each(|way| runs[way.0][usize::from(way.1)] += 1);
        }
    }
    assert!(runs.iter().all(|run| *run == [1, 1]), "every edge is run once each way");
    for edge in &body.edges {
        let [a, b] = edge.ends.map(|end| body.corners[end]);
        match edge.curve {
            Curve::Line => assert!(NEAR < a.distance(b), "no line without length"),
            Curve::Circle(axes, radius) => {
                for p in [a, b] {
                    assert!((p.distance(axes.origin) - radius).abs() < NEAR);
                    assert!((p - axes.origin).dot(axes.axis).abs() < NEAR);
                }
            }
        }
    }
}

/// That every side of a triangle is run as often one way as the other, by its corners' places.
fn closed(mesh: &Mesh) {
    let mut sides: BTreeMap<[[u64; 3]; 2], i32> = BTreeMap::new();
    for three in &mesh.triangles {
        let at = three.map(|i| mesh.corners[i as usize].map(|v| (v + 0.0).to_bits()));
        for (from, to) in [(0, 1), (1, 2), (2, 0)] {
            let (from, to) = (at[from], at[to]);
            let run = if from < to { 1 } else { -1 };
            *sides.entry([from.min(to), from.max(to)]).or_default() += run;
        }
    }
    let open: Vec<_> = sides.iter().filter(|(_, runs)| **runs != 0).map(|it| it.0).collect();
    let at: Vec<_> =
        open.iter().map(|side| side.map(|end| end.map(f64::from_bits))).take(6).collect();
    assert!(open.is_empty(), "{} sides have nothing against them: {at:?}", open.len());
}

/// Euler and Poincare: corners less edges and faces, less the rings inside of faces, is twice one
/// less the handles; every hole is one handle and two such rings.
fn euler(body: &Body) -> i64 {
    body.corners.len() as i64 - body.edges.len() as i64 + body.patches.len() as i64
}

fn of(part: &Part) -> Body {
    body(part, &fold(part)).unwrap()
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn any_part_makes_a_closed_body(trial in part()) {
        for (part, folded, _) in made(&trial)?.parts() {
            let body = body(part, folded).unwrap();
            holds(&body);
            prop_assert_eq!(euler(&body), 2);
            if part.faces.iter().all(simple) {
                closed(&mesh::part(part, folded));
            }
        }
    }
}

/// Whether no two sides of a face's contours cross, which the checks ask of every part.
fn simple(face: &Face) -> bool {
    type P = Point<FaceFrame>;
    let holes = face.holes.iter().map(|hole| hole.contour().points(0.05));
    let rings: Vec<Vec<P>> = holes.chain([face.outline.points(0.05)]).collect();
    let sides: Vec<[P; 2]> = rings
        .iter()
        .flat_map(|ring| (0..ring.len()).map(|i| [ring[i], ring[(i + 1) % ring.len()]]))
        .collect();
    let side = |[a, b]: [P; 2], p: P| (b - a).unit().cross(p - a);
    let apart = |[a, b]: [P; 2], other: [P; 2]| {
        let [p, q] = other.map(|p| side([a, b], p));
        1e-6 < p.min(q) || p.max(q) < -1e-6
    };
    let meet = |one: [P; 2], two: [P; 2]| {
        let joined = one.iter().any(|a| two.iter().any(|b| a.distance(*b) < 1e-9));
        let along = |p: P| (p - one[0]).dot((one[1] - one[0]).unit());
        let [p, q] = two.map(along);
        let beyond = p.max(q) < -1e-6 || one[0].distance(one[1]) + 1e-6 < p.min(q);
        !joined && !apart(one, two) && !apart(two, one) && !beyond
    };
    (0..sides.len()).all(|i| (0..i).all(|k| !meet(sides[i], sides[k])))
}

#[test]
fn a_countersink_is_a_cone_above_what_is_left_of_the_hole() {
    for (upper, diameter) in [(true, 8.0), (false, 8.0), (true, 12.0)] {
        let mut part = bracket::kit().parts.remove(0);
        let hole = &mut part.faces[0].holes[0];
        assert!(matches!(hole.shape, HoleShape::Round(_)));
        hole.sunk = Some(Sunk { diameter, angle: 90.0, upper });
        let body = of(&part);
        holds(&body);
        assert_eq!(euler(&body), 2);
        let of_cone = |surface: &Surface| matches!(surface, Surface::Cone(..));
        assert_eq!(body.patches.iter().filter(|patch| of_cone(&patch.surface)).count(), 1);
        closed(&mesh::part(&part, &fold(&part)));
    }
}

#[test]
fn a_closed_hem_shares_the_edge_about_which_it_turns() {
    for sense in ["up", "down"] {
        let family = format!(
            "{}[[parts]]\nname = \"strip\"\ntitle = \"Strip\"\nsheet = \"plate\"\n\
             places = [{{ at = [0, 0, 0], x = [1, 0, 0], y = [0, 1, 0] }}]\n\
             [parts.profile]\nlength = 30\nroot = \"a\"\nlegs = [\n\
             {{ name = \"a\", size = 40 }},\n\
             {{ name = \"hem\", size = 12, bend = \"{sense}\", angle = 180, radius = 0 }},\n]\n",
            head(1.5),
        );
        let made = make(&family).unwrap();
        let body = of(&made.kit.parts[0]);
        holds(&body);
        closed(&mesh::part(&made.kit.parts[0], &made.folded[0]));
        assert_eq!(euler(&body), 2);
        // Two flats of six sides each, of which two carry the bend, and three of the bend.
        assert_eq!(body.patches.len(), 2 * 6 - 2 + 3);
    }
}

fn written(assembly: &Assembly) -> String {
    let about = About {
        title: "OTS-0001".to_owned(),
        author: "Saltmarsh Modular".to_owned(),
        subject: "Bracket".to_owned(),
        date: "2026-03-02".to_owned(),
    };
    String::from_utf8(step(assembly, &about)).unwrap()
}

/// ISO 10303-21, texts (from memory): apostrophes and backslashes twice, letters beyond ASCII
/// between \X2\ and \X0\ by four hexadecimal digits, those beyond that plane between \X4\ and \X0\
/// by eight.
#[test]
fn texts_are_spelled_as_the_format_asks() {
    let mut kit = bracket::kit();
    kit.title = "Tern's \\ Größe \u{1F9AD}".to_owned();
    let folded: Vec<FoldedPart> = kit.parts.iter().map(fold).collect();
    let file = written(&assemble(&kit, &folded).unwrap());
    assert!(file.is_ascii());
    assert!(
        file.contains("'Tern''s \\\\ Gr\\X2\\00F6\\X0\\\\X2\\00DF\\X0\\e \\X4\\0001F9AD\\X0\\'")
    );
}

/// Every record is numbered once, and names only records that are there.
#[test]
fn records_name_each_other() {
    let kit = bracket::kit();
    let folded: Vec<FoldedPart> = kit.parts.iter().map(fold).collect();
    let assembly = assemble(&kit, &folded).unwrap();
    let file = written(&assembly);
    let data = file.split("DATA;\n").nth(1).unwrap();
    let numbers = |text: &str| {
        let pieces = text.split('#').skip(1);
        let digits = |piece: &str| piece.chars().take_while(char::is_ascii_digit).collect();
        pieces.map(digits).map(|digits: String| digits.parse().unwrap()).collect::<Vec<usize>>()
    };
    let lines = || data.lines().filter(|line| line.starts_with('#'));
    let own: BTreeSet<usize> = lines().map(|line| numbers(line)[0]).collect();
    assert_eq!(own.len(), lines().count());
    assert!(lines().flat_map(numbers).all(|number| own.contains(&number)));
    assert!(file.contains("'2026-03-02T00:00:00'"), "the date is the kit's, not the clock's");
    assert_eq!(file, written(&assembly));
    let twice = data.matches("NEXT_ASSEMBLY_USAGE_OCCURRENCE").count();
    assert_eq!((twice, data.matches("MANIFOLD_SOLID_BREP").count()), (2, 1));
}
