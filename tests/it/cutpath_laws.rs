//! The order of cuts on random sheets: nothing is cut before what must come before it, nothing is
//! left out, and the order found is never worse than always taking the nearest.

use blankwright::cutpath::{Contour, Pace, Step, Tour, nearest, order};
use blankwright::geom::{Bounds, Point};

use proptest::prelude::*;

const PACE: Pace = Pace { rapid: 1000.0, heat_distance: 12.0, heat_pause: 0.5 };

/// A square of this side about a place; it may be begun at its corners.
fn square(x: f64, y: f64, side: f64) -> Contour {
    let (low, high) = (Point::new(x, y), Point::new(x + side, y + side));
    Contour {
        starts: vec![low, Point::new(x + side, y), high, Point::new(x, y + side)],
        bounds: Bounds { low, high },
        length: 4.0 * side,
        first: false,
        then: None,
    }
}

/// Parts of 100 by 100 in a row of random places with holes; some parts lie in an opening of the
/// part before.
fn sheet() -> impl Strategy<Value = Vec<Contour>> {
    let part = (0.0..2800.0_f64, 0.0..1300.0_f64, 0..6_usize, any::<bool>());
    proptest::collection::vec(part, 1..14).prop_map(|parts| {
        let mut contours: Vec<Contour> = Vec::new();
        let mut opening: Option<usize> = None;
        for (x, y, holes, nested) in parts {
            let first_hole = contours.len();
            let outline = first_hole + holes;
            for hole in 0..holes {
                let at = x + 10.0 + 14.0 * hole as f64;
                contours.push(Contour {
                    first: true,
                    then: Some(outline),
                    ..square(at, y + 40.0, 6.0)
                });
            }
            let then = opening.filter(|_| nested);
            contours.push(Contour { then, ..square(x, y, 100.0) });
            if let Some(opening) = then {
                contours[opening].first = false;
            }
            opening = (0 < holes).then_some(first_hole);
        }
        contours
    })
}

fn keeps_the_rules(contours: &[Contour], tour: &Tour) {
    let mut places = vec![None; contours.len()];
    for (place, step) in tour.steps.iter().enumerate() {
        assert!(places[step.contour].replace(place).is_none(), "cut twice");
        assert!(step.start < contours[step.contour].starts.len());
    }
    for (index, contour) in contours.iter().enumerate() {
        let place = places[index].expect("every contour is cut");
        if let Some(then) = contour.then {
            assert!(Some(place) < places[then], "{then} is cut before {index}");
        }
        let later = contours.iter().enumerate().filter(|(_, other)| !other.first);
        if contour.first {
            assert!(later.map(|(other, _)| places[other]).all(|other| Some(place) < other));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn rules_hold_and_the_way_is_no_longer_than_the_nearest(contours in sheet()) {
        let first = nearest(&contours, &PACE);
        keeps_the_rules(&contours, &first);
        for work in [(10, 2), (usize::MAX, 20)] {
            let tour = order(&contours, &PACE, work);
            keeps_the_rules(&contours, &tour);
            prop_assert!(tour.seconds(&PACE) <= first.seconds(&PACE) + 1e-9);
            prop_assert_eq!(&tour, &order(&contours, &PACE, work));
        }
    }
}

/// The way of a tour, added up again.
fn way(contours: &[Contour], steps: &[Step]) -> f64 {
    let mut at = Point::new(0.0, 0.0);
    let mut way = 0.0;
    for step in steps {
        let next = contours[step.contour].starts[step.start];
        way += at.distance(next);
        at = next;
    }
    way
}

#[test]
fn a_row_of_holes_is_cut_along_the_row() {
    // Ten holes in a row, listed in a muddle: the way is the row's length from the corner on.
    let muddle = [3, 9, 0, 6, 1, 8, 2, 7, 4, 5];
    let hole = |i: &i32| Contour { first: true, ..square(100.0 * f64::from(*i), 0.0, 6.0) };
    let contours: Vec<Contour> = muddle.iter().map(hole).collect();
    let tour = order(&contours, &PACE, (usize::MAX, 20));
    assert!((way(&contours, &tour.steps) - tour.travel).abs() < 1e-9);
    assert!(tour.travel <= 900.0 + 1e-9, "{}", tour.travel);
    assert_eq!(tour.pauses, 0.0);
}

#[test]
fn neighbours_are_not_cut_in_a_row_where_others_can_come_between() {
    // Two pairs of holes 5 mm apart, the pairs 200 mm from each other.
    let places = [0.0, 11.0, 200.0, 211.0];
    let contours: Vec<Contour> =
        places.iter().map(|x| Contour { first: true, ..square(*x, 0.0, 6.0) }).collect();
    let cool = order(&contours, &PACE, (usize::MAX, 20));
    assert_eq!((cool.hot_pairs(&contours, &PACE), cool.pauses), (0, 0.0));
    // With no pause asked for the pairs are cut one after the other: less way, more heat.
    let hot_pace = Pace { heat_pause: 0.0, ..PACE };
    let hot = order(&contours, &hot_pace, (usize::MAX, 20));
    assert_eq!(hot.hot_pairs(&contours, &PACE), 2);
    assert!(hot.travel < cool.travel);
    // Two alone cannot be parted: the laser rests between them, its move counted.
    let two = order(&contours[..2], &PACE, (usize::MAX, 20));
    assert!((two.pauses + two.travel / PACE.rapid - 0.5).abs() < 0.01, "{two:?}");
}
