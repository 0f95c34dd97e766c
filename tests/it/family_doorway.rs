//! The doorway's foam stop against the doorway: 2340 by 2280 in a 20 ft box (generic 1CC
//! specification), 2340 by 2585 in a high cube; it must leave doors and posts alone.

use crate::family::{drawn, faults, spec};

fn stop(container: &str, rest: &str) -> String {
    let rest = format!("[container]\ntype = \"{container}\"\nwall = \"door-end\"\n\n{rest}");
    spec("doorway-stop", &rest)
}

#[test]
fn the_strips_follow_the_doorway_and_hold_the_foam() {
    for (container, height) in [("20ft", 2280.0), ("40ft-high-cube", 2585.0)] {
        let kit = drawn(&stop(container, "[foam]\nthickness = 50\n\n[floor]\nthickness = 36\n"));
        // Seats along the reveal, the side ones on 2 mm of sealant.
        assert!((kit.extent("side-stop-left", "seat", 0)[0] + 1170.0 - 2.0).abs() < 1e-6);
        assert!((kit.extent("head-stop", "seat", 2)[1] - height).abs() < 1e-6);
        assert!(kit.extent("floor-stop", "seat", 2)[0].abs() < 1e-6);
        // Under the returns there is room for the foam and the boards.
        let side = kit.extent("side-stop-left", "return", 0)[0];
        let head = kit.extent("head-stop", "return", 2)[1];
        let floor = kit.extent("floor-stop", "return", 2)[0];
        assert!((side + 1170.0 - 50.0).abs() < 1e-6, "{side}");
        assert!((height - head - 50.0).abs() < 1e-6, "{head}");
        assert!((floor - 36.0).abs() < 1e-6, "{floor}");
    }
}

#[test]
fn nothing_reaches_to_the_shut_doors_or_past_the_reveal() {
    let kit = drawn(&stop("20ft", "[doors]\ndepth = 90\n"));
    for part in ["side-stop-left", "head-stop", "floor-stop"] {
        for face in ["seat", "stop", "return"] {
            let [near, far] = kit.extent(part, face, 1);
            assert!(95.0 <= near && far <= 175.0, "{face} of {part}: {near} to {far}");
        }
    }
}

#[test]
fn the_strips_meet_in_mitres_that_leave_a_gap() {
    let kit = drawn(&stop("20ft", "[foam]\nthickness = 60\n\n[floor]\nthickness = 30\n"));
    // The side strip's stop ends above the floor strip's at its inner edge.
    let inner = |part: &str, by: usize, sign: f64| {
        let corners = kit.corners(part, "stop", 0);
        let far = corners.iter().map(|c| sign * c[by]).fold(f64::NEG_INFINITY, f64::max);
        let at = move |c: &&[f64; 3]| (sign * c[by] - far).abs() < 1e-6;
        corners.iter().filter(at).copied().collect::<Vec<_>>()
    };
    let side = inner("side-stop-left", 0, 1.0);
    let lowest = side.iter().map(|c| c[2]).fold(f64::INFINITY, f64::min);
    let floor = kit.extent("floor-stop", "stop", 2)[1];
    // The flats end at their bends: 3.5 mm short of the sharp corner on either strip.
    assert!(1.0 < lowest - floor && lowest - floor < 7.0, "{lowest} over {floor}");
}

#[test]
fn a_bare_floor_gets_feet_in_place_of_the_strip() {
    let kit = drawn(&stop("40ft", "[floor]\nthickness = 0\n"));
    assert!(kit.extent("side-stop-left", "foot", 2)[0].abs() < 1e-6);
}

#[test]
fn what_must_pass_is_asked_for() {
    let faults = faults(&stop("20ft", "[foam]\nthickness = 110\n"));
    assert!(faults.iter().any(|fault| fault.starts_with("require clear-width")), "{faults:#?}");
}
