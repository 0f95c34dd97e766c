//! Blanks on the grid of the layout: never smaller than they are, and hardly larger.

use blankwright::flat::unfold;
use blankwright::geom::{BlankFrame, Path, Point, Vertex};
use blankwright::sheets::grown;

use crate::bracket;

type P = Point<BlankFrame>;

fn at(x: f64, y: f64, bulge: f64) -> Vertex<BlankFrame> {
    Vertex { at: Point::new(x, y), bulge }
}

/// A ring in millimetres as a path.
fn ring(corners: &[[i64; 2]]) -> Path<BlankFrame> {
    let points: Vec<P> =
        corners.iter().map(|[x, y]| Point::new(*x as f64 / 100.0, *y as f64 / 100.0)).collect();
    Path::polygon(&points)
}

/// Points on the true outline: along straight sides, and on the arcs themselves.
fn along(path: &Path<BlankFrame>) -> Vec<P> {
    let lines = path.sides().filter(|(_, _, bulge)| *bulge == 0.0);
    let on_lines = lines.flat_map(|(a, b, _)| (0..9).map(move |i| a.toward(b, f64::from(i) / 9.0)));
    path.points(1e-5).into_iter().chain(on_lines).collect()
}

/// Every point of the outline lies inside the ring, or on it, and within 0.05 mm of it; `side` is
/// -1 for an opening, which must not grow.
fn holds(path: &Path<BlankFrame>, side: f64) {
    let around = ring(&grown(path));
    for p in along(path) {
        let inside = side * around.clearance(p);
        assert!(-1e-6 < inside, "{p:?} lies {inside} outside");
        assert!(inside < 0.05 + 1e-9, "{p:?} lies {inside} inside");
    }
    assert_eq!(around.area() > 0.0, path.area() > 0.0, "the sense is kept");
}

#[test]
fn whole_hundredths_stay_as_they_are() {
    let path = Path::polygon(&[
        P::new(0.0, 0.0),
        P::new(2750.0, 0.0),
        P::new(2750.0, 412.34),
        P::new(0.0, 412.34),
    ]);
    assert_eq!(grown(&path), [[0, 0], [275_000, 0], [275_000, 41_234], [0, 41_234]]);
}

#[test]
fn a_fraction_of_a_hundredth_rounds_outwards() {
    let path = Path::polygon(&[
        P::new(0.001, 0.0),
        P::new(99.991, 0.0),
        P::new(99.991, 10.0001),
        P::new(0.001, 10.0001),
    ]);
    assert_eq!(grown(&path), [[0, 0], [10_000, 0], [10_000, 1001], [0, 1001]]);
}

#[test]
fn arcs_that_bow_out_and_in_stay_inside() {
    let quarter = 0.414_213_562_373_095_1; // tan(90 / 4)
    // A plate of 100 by 60 with two round corners and a half-round bite of 20 in its left side.
    let outer = Path {
        vertices: vec![
            at(0.0, 0.0, 0.0),
            at(90.0, 0.0, quarter),
            at(100.0, 10.0, 0.0),
            at(100.0, 57.0, quarter),
            at(97.0, 60.0, 0.0),
            at(0.0, 60.0, 0.0),
            at(0.0, 40.0, -1.0),
            at(0.0, 20.0, 0.0),
        ],
    };
    holds(&outer, 1.0);
    let turned = Path {
        vertices: outer
            .vertices
            .iter()
            .map(|v| Vertex { at: v.at.turned(33.3) + P::new(0.123, 4.567), bulge: v.bulge })
            .collect(),
    };
    holds(&turned, 1.0);
    // A clockwise opening of 400 across: the ring runs inside of it.
    let opening = Path { vertices: vec![at(0.0, 0.0, -1.0), at(400.0, 0.0, -1.0)] };
    holds(&opening, -1.0);
    // A bow of 20 m radius.
    let bow = Path {
        vertices: vec![
            at(0.0, 0.0, 0.0),
            at(3000.0, 0.0, 0.0),
            at(3000.0, 50.0, 0.03),
            at(0.0, 50.0, 0.0),
        ],
    };
    holds(&bow, 1.0);
}

#[test]
fn sharp_corners_and_slits_stay_inside() {
    let arrow = Path::polygon(&[
        P::new(0.003, 0.007),
        P::new(300.004, 8.003),
        P::new(0.008, 16.001),
        P::new(120.002, 8.0),
    ]);
    holds(&arrow, 1.0);
}

#[test]
fn a_real_blank_stays_inside() {
    let kit = bracket::kit();
    let blank = unfold(&kit.parts[0]).unwrap();
    holds(&blank.outer.cleaned(), 1.0);
}
