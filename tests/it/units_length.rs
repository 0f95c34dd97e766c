//! Quantities as people type them.

use blankwright::units::{
    Quantity, check_angle, check_length, in_inches, in_mm, number, quoted, read_angle, read_length,
    read_quantity,
};
use proptest::prelude::*;

fn mm(text: &str) -> f64 {
    read_length(text).unwrap_or_else(|misread| panic!("{misread}"))
}

#[test]
fn lengths_in_every_notation() {
    // 1 in = 25.4 mm and 1 ft = 12 in exactly (1959 agreement); fractions worked by hand.
    for (text, expected) in [
        ("2750 mm", 2750.0),
        ("2750mm", 2750.0),
        ("  2.5 mm ", 2.5),
        (".5 mm", 0.5),
        ("2.4 m", 2400.0),
        ("12 cm", 120.0),
        ("9 ft", 2743.2),
        ("7 ft 6 in", 2286.0),
        ("7ft6in", 2286.0),
        ("7' 6\"", 2286.0),
        ("7'-6 1/2\"", 2298.7),
        ("7 ft 6-1/2 in", 2298.7),
        ("5-1/2 in", 139.7),
        ("5 1/2 in", 139.7),
        ("5.5 in", 139.7),
        ("3/16 in", 4.7625),
        ("11/64 in", 4.365625),
        ("0.0785 in", 1.9939),
        ("1-1/8 in", 28.575),
        ("-12 mm", -12.0),
        ("-5-1/2 in", -139.7),
        ("0 mm", 0.0),
        ("1 km", f64::NAN),
    ] {
        if expected.is_nan() {
            assert!(read_length(text).is_err(), "{text}");
        } else {
            assert!((mm(text) - expected).abs() < 1e-9, "{text} reads as {}", mm(text));
        }
    }
}

#[test]
fn gauges_and_angles() {
    assert_eq!(read_quantity("14 ga"), Ok(Quantity::Gauge(14)));
    assert_eq!(read_quantity("14ga"), Ok(Quantity::Gauge(14)));
    assert_eq!(read_quantity("5 deg"), Ok(Quantity::Angle(5.0)));
    assert_eq!(read_angle("22.5 deg"), Ok(22.5));
    assert_eq!(read_angle("-4°"), Ok(-4.0));
    assert!(read_quantity("14.5 ga").is_err());
    assert!(read_quantity("-14 ga").is_err());
    assert!(read_angle("361 deg").is_err());
    assert!(read_angle("5").is_err());
    assert!(read_angle("5 mm").is_err());
    assert!(read_length("14 ga").is_err());
    assert!(read_length("5 deg").is_err());
}

#[test]
fn what_is_refused_says_why_and_what_is_allowed() {
    for (text, why) in [
        ("2750", "has no unit"),
        ("", "is empty"),
        ("mm", "does not begin with a number"),
        ("nan mm", "does not begin with a number"),
        ("inf mm", "does not begin with a number"),
        ("1e300 mm", "has the unknown unit `e`"),
        ("5 mm x", "goes on behind its unit"),
        ("5 mm 3 mm", "goes on behind its unit"),
        ("5,5 mm", "holds a comma"),
        ("5..5 mm", "cannot be read"),
        ("5. mm", "cannot be read"),
        ("1/0 in", "holds a fraction"),
        ("1.5/2 in", "holds a fraction"),
        ("5-3/2 in", "mixes a number and a fraction wrongly"),
        ("5.5-1/2 in", "mixes a number and a fraction wrongly"),
        ("7 ft 12 in", "12 or more inches"),
        ("7 ft 6", "other than inches"),
        ("7 ft 6 mm", "other than inches"),
        ("7 ft 6 in 3", "other than inches"),
        ("3 furlong", "has the unknown unit `furlong`"),
        ("--5 mm", "does not begin with a number"),
        ("+5 mm", "holds `+`"),
        ("5\u{0007} mm", "holds"),
        ("1001 m", "longer than one kilometre"),
        ("９ ft", "holds"),
    ] {
        let misread = read_length(text).expect_err(text);
        assert!(misread.why.contains(why), "{text}: {}", misread.why);
        assert!(misread.to_string().contains("allowed: 2750 mm"), "{text}: {misread}");
    }
    let nines = "9".repeat(400) + " mm";
    assert!(read_length(&nines).is_err());
}

#[test]
fn bare_numbers_are_bounded() {
    assert_eq!(check_length(2750.0), Ok(2750.0));
    assert!(check_length(f64::NAN).is_err());
    assert!(check_length(f64::INFINITY).is_err());
    assert!(check_length(1e300).is_err());
    assert!(check_length(-1e300).is_err());
    assert!(check_angle(f64::NAN).is_err());
    assert!(check_angle(360.5).is_err());
}

#[test]
fn numbers_for_people() {
    assert_eq!(number(2750.0, 2), "2750");
    assert_eq!(number(0.1 + 0.2, 3), "0.3");
    assert_eq!(number(-0.0001, 2), "0");
    assert_eq!(number(-1.5, 2), "-1.5");
    assert_eq!(number(100.0, 0), "100");
    assert_eq!(in_mm(1.9939), "1.99 mm");
    assert_eq!(in_inches(139.7), "5.5 in");
    assert_eq!(quoted("a\nb\u{1b}[31m"), "`a\\nb\\u{1b}[31m`");
    assert_eq!(quoted(&"x".repeat(50)).len(), 45);
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused_without_a_panic(text in "\\PC{0,40}") {
        let _ = read_quantity(&text);
    }

    #[test]
    fn any_likely_text_is_read_or_refused(text in "[0-9./ -]{0,8}(mm|in|ft|m|ga|deg|'|\")?[0-9 /-]{0,5}(in)?") {
        if let Ok(Quantity::Length(mm)) = read_quantity(&text) {
            prop_assert!(mm.is_finite());
        }
    }

    #[test]
    fn sixteenths_are_exact(feet in 0u32..40, inches in 0u32..12, sixteenths in 1u32..16) {
        let text = format!("{feet} ft {inches}-{sixteenths}/16 in");
        let expected = f64::from((feet * 12 + inches) * 16 + sixteenths) * 1.5875;
        prop_assert!((mm(&text) - expected).abs() < 1e-9);
    }
}
