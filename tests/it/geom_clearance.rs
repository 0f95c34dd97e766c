//! Clearance of points to outlines with arcs, against shapes whose answer is plain.

use blankwright::geom::{BlankFrame, Path, Point, Vertex};
use proptest::prelude::{prop_assert, proptest};

type P = Point<BlankFrame>;

fn vertex(x: f64, y: f64, bulge: f64) -> Vertex<BlankFrame> {
    Vertex { at: P::new(x, y), bulge }
}

/// Two half circles make a circle of radius 10 about (3, 4).
fn circle() -> Path<BlankFrame> {
    Path { vertices: vec![vertex(-7.0, 4.0, 1.0), vertex(13.0, 4.0, 1.0)] }
}

/// A slot 40 long and 10 wide about the origin.
fn slot() -> Path<BlankFrame> {
    let corners = [(-15.0, -5.0, 0.0), (15.0, -5.0, 1.0), (15.0, 5.0, 0.0), (-15.0, 5.0, 1.0)];
    Path { vertices: corners.map(|(x, y, bulge)| vertex(x, y, bulge)).to_vec() }
}

/// A square with a quarter circle bitten out of its upper right corner.
fn bitten() -> Path<BlankFrame> {
    let bite = 1.0 - std::f64::consts::SQRT_2;
    let corners = [
        (0.0, 0.0, 0.0),
        (20.0, 0.0, 0.0),
        (20.0, 10.0, bite),
        (10.0, 20.0, 0.0),
        (0.0, 20.0, 0.0),
    ];
    Path { vertices: corners.map(|(x, y, bulge)| vertex(x, y, bulge)).to_vec() }
}

proptest! {
    #[test]
    fn a_circle_is_cleared_by_radius_less_distance(x in -20.0..20.0, y in -20.0..20.0) {
        let p = P::new(x, y);
        let expected = 10.0 - p.distance(P::new(3.0, 4.0));
        prop_assert!((circle().clearance(p) - expected).abs() < 1e-9);
        prop_assert!((circle().reversed().clearance(p) - expected).abs() < 1e-9);
    }

    #[test]
    fn a_slot_is_cleared_by_radius_less_distance_to_its_middle(x in -40.0..40.0, y in -20.0..20.0) {
        let p = P::new(x, y);
        let nearest = P::new(p.x.clamp(-15.0, 15.0), 0.0);
        let expected = 5.0 - p.distance(nearest);
        prop_assert!((slot().clearance(p) - expected).abs() < 1e-9);
    }

    #[test]
    fn a_bite_takes_away_what_lies_within_its_circle(x in 0.5..19.5, y in 0.5..19.5) {
        let p = P::new(x, y);
        let from_bite = p.distance(P::new(20.0, 20.0)) - 10.0;
        let edges = x.min(y).min(20.0 - x).min(20.0 - y);
        let clearance = bitten().clearance(p);
        prop_assert!((clearance > 0.0) == (from_bite > 0.0));
        if from_bite > 0.0 {
            prop_assert!(clearance <= from_bite + 1e-9 && edges.min(from_bite) <= clearance + 1e-9);
        }
    }
}
