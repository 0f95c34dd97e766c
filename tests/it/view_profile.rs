//! Sections across bends: shape, sizes and calls.

use std::f64::consts::PI;

use blankwright::draw::Pen;
use blankwright::draw::view::{ProfileView, profile, profiles};
use blankwright::fold::fold;
use blankwright::kit::Part;
use blankwright::units;

use crate::view_parts::{Fold, fold as add_leg, frame, rectangle, tray};

fn section(part: &Part) -> ProfileView {
    profile(part, &fold(part)).unwrap()
}

/// A root 80 long (flat) with legs of the given angles on both sides, each 40.
fn two_legs(angles: [f64; 2], radius: f64) -> Part {
    let mut part = rectangle(3.0, 200.0, 80.0);
    for (side, angle) in [(0, angles[0]), (2, angles[1])] {
        add_leg(&mut part, 0, side, Fold { leg: 40.0, angle, radius });
    }
    part
}

#[test]
fn a_flat_plate_has_no_section() {
    let part = rectangle(2.0, 100.0, 50.0);
    assert!(profile(&part, &fold(&part)).is_none());
}

#[test]
fn the_legs_of_a_frame_have_their_outside_sizes() {
    let view = section(&frame(600.0));
    // From the lip to the return; the web is 150 flat and two zones of 2 + 2 beyond.
    let mut sizes: Vec<f64> = view.legs.iter().map(|leg| leg.size).collect();
    if view.legs[0].face != 1 {
        sizes.reverse();
    }
    for (size, wanted) in sizes.iter().zip([45.0, 158.0, 64.0, 25.0]) {
        assert!((size - wanted).abs() < 1e-9, "{sizes:?}");
    }
    assert_eq!(view.legs.len(), 4);
    assert_eq!(view.bends.len(), 3);
}

#[test]
fn a_section_has_the_area_of_its_legs_and_bends() {
    for angles in [[90.0, 90.0], [90.0, -90.0], [45.0, -30.0], [135.0, 90.0], [-120.0, -60.0]] {
        for radius in [0.0, 1.0, 5.0] {
            let part = two_legs(angles, radius);
            let view = section(&part);
            let flats: f64 = angles
                .iter()
                .map(|a| 40.0 - (radius + 3.0) * units::tan_deg(a.abs().min(90.0) / 2.0))
                .sum();
            let ring = (radius + 3.0).powi(2) - radius.powi(2);
            let bends: f64 = angles.iter().map(|a| a.abs() / 360.0 * PI * ring).sum();
            let area = view.picture.areas[0].outlines[0].area();
            let wanted = 3.0 * (80.0 + flats) + bends;
            assert!((area - wanted).abs() < 1e-6, "{angles:?} {radius}: {area} for {wanted}");
        }
    }
}

#[test]
fn sizes_run_along_the_leg_to_the_sharp_corners_or_to_the_tangent() {
    for angles in [[90.0, 90.0], [90.0, -90.0], [45.0, -30.0], [135.0, 170.0], [-120.0, -60.0]] {
        let view = section(&two_legs(angles, 2.0));
        let mut outer: Vec<f64> = [view.legs[0].size, view.legs[2].size].to_vec();
        outer.sort_by(f64::total_cmp);
        assert!(outer.iter().all(|size| (size - 40.0).abs() < 1e-9), "{angles:?}: {outer:?}");
        let over = |a: f64| 5.0 * units::tan_deg(a.abs().min(90.0) / 2.0);
        let web = 80.0 + over(angles[0]) + over(angles[1]);
        assert!((view.legs[1].size - web).abs() < 1e-9);
        for leg in &view.legs {
            assert!((leg.to - leg.from).unit().dot(leg.side).abs() < 1e-9);
            assert!((leg.side.length() - 1.0).abs() < 1e-9);
        }
    }
}

#[test]
fn a_size_lies_outside_of_the_material() {
    let view = section(&frame(600.0));
    let outline = &view.picture.areas[0].outlines;
    for leg in &view.legs {
        for i in 1..10 {
            let p = leg.from.toward(leg.to, f64::from(i) / 10.0) + leg.side * 0.5;
            assert!(!crate::view_isometric::deep_inside(outline, p, 1e-3), "{leg:?}");
        }
    }
}

#[test]
fn calls_stand_at_the_bends() {
    let view = section(&two_legs([90.0, -60.0], 4.0));
    for call in &view.bends {
        assert!((call.inside.distance(call.outside) - 3.0).abs() < 1e-9);
        assert!((call.between + call.angle - 180.0).abs() < 1e-12);
        assert!((call.outside - call.inside).unit().distance(call.outward) < 1e-9);
        assert!((call.radius - 4.0).abs() < 1e-12);
    }
    let mut between: Vec<f64> = view.bends.iter().map(|call| call.between).collect();
    between.sort_by(f64::total_cmp);
    assert_eq!(between, [90.0, 120.0]);
}

#[test]
fn a_tray_has_a_section_in_each_direction() {
    let part = tray();
    let views = profiles(&part, &fold(&part));
    assert_eq!(views.iter().map(|view| view.legs.len()).collect::<Vec<_>>(), [4, 3]);
}

#[test]
fn a_hem_turns_right_back() {
    let mut part = rectangle(1.5, 300.0, 60.0);
    add_leg(&mut part, 0, 2, Fold { leg: 14.0, angle: 180.0, radius: 0.5 });
    let view = section(&part);
    let area = view.picture.areas[0].outlines[0].area();
    let wanted = 1.5 * (60.0 + 12.0) + PI / 2.0 * (4.0 - 0.25);
    assert!((area - wanted).abs() < 1e-6, "{area} for {wanted}");
    assert!((view.legs.iter().map(|leg| leg.size).fold(0.0, f64::max) - 62.0).abs() < 1e-9);
}

#[test]
fn a_split_leg_is_cut_once() {
    let mut part = crate::view_parts::plate(
        2.0,
        &[
            (0.0, 0.0),
            (90.0, 0.0),
            (90.0, 5.0),
            (110.0, 5.0),
            (110.0, 0.0),
            (200.0, 0.0),
            (200.0, 60.0),
            (0.0, 60.0),
        ],
    );
    for side in [0, 4] {
        add_leg(&mut part, 0, side, Fold { leg: 30.0, angle: 90.0, radius: 2.0 });
    }
    let views = profiles(&part, &fold(&part));
    assert_eq!(views.len(), 1);
    assert_eq!(views[0].legs.len(), 2);
}

#[test]
fn the_outline_is_closed_and_wide() {
    let view = section(&frame(600.0));
    let stroke = &view.picture.strokes[0];
    assert_eq!(stroke.pen, Pen::Outline);
    assert_eq!(stroke.line.first(), stroke.line.last());
}
