//! Bending by DIN 6935 and the shop's choice of die and radius.

use blankwright::shelf::{
    BendEntry, BendSource, DIN_6935, PREFERRED_RADII, compensation, correction, least_radius,
    neutral_factor, preferred_radius,
};

use crate::shelf::shelf;

/// v of DIN 6935 for radius, thickness and opening angle: the formulas evaluated by hand
/// calculator. The handbook column is a metalwork table book's, rounded to 0.1 mm, from memory.
const COMPENSATIONS: [(f64, f64, f64, f64, Option<f64>); 14] = [
    (1.0, 1.0, 90.0, -1.9187, Some(1.9)),
    (1.6, 1.5, 90.0, -2.9045, Some(2.9)),
    (2.5, 1.5, 90.0, -3.1766, Some(3.2)),
    (2.0, 2.0, 90.0, -3.8374, None),
    (2.5, 2.0, 90.0, -3.9759, Some(4.0)),
    (4.0, 2.0, 90.0, -4.4594, Some(4.5)),
    (3.0, 3.0, 90.0, -5.7561, None),
    (4.0, 3.0, 90.0, -6.0381, Some(6.0)),
    (6.0, 4.0, 90.0, -8.2566, Some(8.3)),
    (12.0, 2.0, 90.0, -7.5796, None),
    (2.5, 2.0, 120.0, -1.8467, None),
    (4.0, 3.0, 135.0, -1.818, None),
    (4.0, 3.0, 60.0, -3.3841, None),
    (2.0, 1.5, 45.0, -1.0286, None),
];

#[test]
fn compensation_agrees_with_the_standard_and_a_table_book() {
    for (radius, thickness, opening, v, handbook) in COMPENSATIONS {
        let found = compensation(radius, thickness, 180.0 - opening);
        assert!((found - v).abs() < 1e-4, "r {radius} s {thickness} {opening}: {found}");
        if let Some(handbook) = handbook {
            assert!((found + handbook).abs() <= 0.05, "r {radius} s {thickness}: {found}");
        }
    }
}

#[test]
fn flat_openings_need_no_compensation() {
    // DIN 6935: v = 0 for openings over 165 degrees; -0.360 at 165 for r = s = 2.
    assert_eq!(compensation(2.0, 2.0, 14.9), 0.0);
    assert!((compensation(2.0, 2.0, 15.0) + 0.360).abs() < 1e-3);
    // Both formulas agree at 90 degrees.
    let step = compensation(2.5, 2.0, 90.0) - compensation(2.5, 2.0, 90.0 - 1e-9);
    assert!(step.abs() < 1e-6);
}

#[test]
fn worked_examples_of_handbooks() {
    // Metalwork table book: legs 25, 20, 15, s = 2, r = 4; exact 51.081, printed 51.
    let length = 25.0 + 20.0 + 15.0 + 2.0 * compensation(4.0, 2.0, 90.0);
    assert!((length - 51.081).abs() < 1e-3);
    // Textbook: legs 50, 40, 30, r = t = 1; exact 116.163, printed 116 by a rule of thumb.
    let length = 50.0 + 40.0 + 30.0 + 2.0 * compensation(1.0, 1.0, 90.0);
    assert!((length - 116.163).abs() < 1e-3);
    // Handbook sheet: legs 655 in all, s = 3.18, r = 7: exact v = -7.3131, 640.374.
    assert!((compensation(7.0, 3.18, 90.0) + 7.3131).abs() < 1e-4);
    assert!((655.0 + 2.0 * compensation(7.0, 3.18, 90.0) - 640.374).abs() < 1e-3);
}

#[test]
fn the_correction_factor() {
    // k = 0.65 at r = s; 0.99949 at r = 5 s; 1 beyond; K is half of it.
    assert!((correction(2.0, 2.0) - 0.65).abs() < 1e-12);
    assert!((correction(10.0, 2.0) - 0.99949).abs() < 1e-5);
    assert_eq!(correction(10.01, 2.0), 1.0);
    assert!((neutral_factor(2.0, 2.0) - 0.325).abs() < 1e-12);
    // The neutral line stays in the sheet even for the sharpest bend.
    assert_eq!(correction(0.01, 2.0), 0.0);
    assert_eq!(correction(0.0, 2.0), 0.0);
}

#[test]
fn bend_deduction_is_the_compensation() {
    // BD = 2 OSSB - BA with OSSB = tan(A/2) (R + T), BA = A (R + K T); at and below 90 degrees v =
    // -BD.
    for (radius, thickness, angle) in [(2.5, 2.0, 90.0), (1.6, 1.5, 60.0), (4.0, 3.0, 22.5)] {
        let angle_rad = f64::to_radians(angle);
        let allowance = angle_rad * (radius + neutral_factor(radius, thickness) * thickness);
        let setback = series_tan(angle_rad / 2.0) * (radius + thickness);
        let deduction = 2.0 * setback - allowance;
        assert!((deduction + compensation(radius, thickness, angle)).abs() < 1e-9);
    }
}

/// Tangent by its series' ratio: independent of the library under test.
fn series_tan(x: f64) -> f64 {
    let (mut sine, mut cosine, mut term) = (0.0, 0.0, 1.0);
    for n in 0..40 {
        match n % 4 {
            0 => cosine += term,
            1 => sine += term,
            2 => cosine -= term,
            _ => sine -= term,
        }
        term *= x / f64::from(n + 1);
    }
    sine / cosine
}

#[test]
fn least_radii_of_din_6935() {
    // DIN 6935 (1975), by class of tensile strength, bends up to 120 degrees across rolling.
    for (tensile, thickness, expected) in [
        (270.0, 1.0, 1.0),
        (330.0, 1.5, 1.6),
        (390.0, 2.0, 2.5),
        (390.0, 2.5, 2.5),
        (390.0, 2.6, 3.0),
        (390.0, 3.0, 3.0),
        (390.0, 4.0, 5.0),
        (400.0, 2.0, 3.0),
        (490.0, 3.0, 4.0),
        (500.0, 2.0, 4.0),
        (640.0, 20.0, 50.0),
    ] {
        assert_eq!(least_radius(tensile, thickness, 90.0), Some(expected), "{tensile} {thickness}");
    }
    // Over 120 degrees the next column.
    assert_eq!(least_radius(330.0, 2.0, 120.0), Some(2.5));
    assert_eq!(least_radius(330.0, 2.0, 120.5), Some(3.0));
    assert_eq!(least_radius(330.0, 20.0, 135.0), None);
    assert_eq!(least_radius(641.0, 2.0, 90.0), None);
    assert_eq!(least_radius(330.0, 20.1, 90.0), None);
}

#[test]
fn preferred_radii_round_to_the_nearest_and_never_below_the_least() {
    assert_eq!(preferred_radius(2.56, 0.0), 2.5);
    assert_eq!(preferred_radius(2.2, 2.5), 2.5);
    assert_eq!(preferred_radius(500.0, 0.0), 100.0);
    assert_eq!(preferred_radius(1.0, 120.0), 120.0);
    assert!(PREFERRED_RADII.is_sorted());
}

#[test]
fn the_shop_bends_common_sheets_as_its_dies_do() {
    let shelf = shelf();
    let galvanized = shelf.material("galvanized-dx51d").unwrap();
    // Thickness, opening (8 t), radius: 0.16 V to the nearest preferred one that DIN 6935 allows.
    for (thickness, opening, radius) in
        [(1.0, 8.0, 1.2), (1.5, 12.0, 2.0), (1.9939, 16.0, 2.5), (2.0, 16.0, 2.5), (3.0, 25.0, 4.0)]
    {
        let rule = shelf.shop.bend(galvanized, thickness, 90.0);
        assert_eq!((rule.opening, rule.radius), (opening, radius), "{thickness}");
        assert_eq!(rule.k, neutral_factor(radius, thickness));
        assert_eq!(rule.k_source, DIN_6935);
        assert!(rule.least_radius <= rule.radius);
        assert!((rule.least_leg - 0.7 * opening).abs() < 1e-9);
    }
    // The angle changes neither radius nor K up to 120 degrees, fractions included.
    let at = |angle: f64| shelf.shop.bend(galvanized, 2.0, angle);
    assert_eq!((at(7.25).radius, at(7.25).k), (at(90.0).radius, at(90.0).k));
    assert_eq!(at(135.0).radius, 3.0);
    // Stainless springs to a larger radius over the same die: 0.21 * 16 = 3.36.
    let stainless = shelf.material("stainless-304").unwrap();
    assert_eq!(shelf.shop.bend(stainless, 2.0, 90.0).radius, 3.0);
    assert_eq!(shelf.shop.bend(stainless, 2.0, 90.0).least_radius, 2.0);
}

#[test]
fn a_measured_bend_wins_over_the_rule() {
    let mut shelf = shelf();
    let galvanized = shelf.material("galvanized-dx51d").unwrap().clone();
    shelf.shop.bends.push(BendEntry {
        material: galvanized.id.clone(),
        thickness: 2.0,
        opening: 16.0,
        radius: 2.7,
        k: 0.41,
        springback: None,
        note: "three brackets".to_owned(),
    });
    // 14 ga is 1.9939 mm: the same sheet within 0.05 mm.
    let rule = shelf.shop.bend(&galvanized, 1.9939, 90.0);
    assert_eq!((rule.radius, rule.k), (2.7, 0.41));
    assert_eq!(rule.k_source, "shop table: three brackets");
    // Another thickness, another radius, another material: the rule.
    assert_eq!(shelf.shop.bend(&galvanized, 1.5, 90.0).k_source, DIN_6935);
    assert_eq!(shelf.shop.bend_to(&galvanized, (2.0, 90.0), 3.0).k_source, DIN_6935);
    let mild = shelf.material("mild-steel").unwrap();
    assert_eq!(shelf.shop.bend(mild, 2.0, 90.0).k_source, DIN_6935);
    // A fixed factor replaces DIN 6935 but not the measured entry.
    shelf.shop.bend_source = BendSource::Fixed(0.42);
    assert_eq!(shelf.shop.bend(&galvanized, 2.0, 90.0).k, 0.41);
    let fixed = shelf.shop.bend(&galvanized, 1.5, 90.0);
    assert_eq!((fixed.k, fixed.k_source.as_str()), (0.42, "fixed"));
}

#[test]
fn a_wished_radius_takes_the_die_that_makes_it() {
    let shelf = shelf();
    let galvanized = shelf.material("galvanized-dx51d").unwrap();
    let rule = shelf.shop.bend_to(galvanized, (2.0, 90.0), 4.0);
    assert_eq!((rule.radius, rule.opening), (4.0, 25.0));
    assert_eq!(rule.k, neutral_factor(4.0, 2.0));
    // A radius under every fitting die's keeps to openings of four thicknesses and more.
    assert_eq!(shelf.shop.bend_to(galvanized, (2.0, 90.0), 0.5).opening, 8.0);
}
