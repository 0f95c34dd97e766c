//! Numbers in drawing files: short, plain, and true to the last decimal asked for.

use blankwright::write::{fixed, rounded};
use proptest::prelude::*;

#[test]
fn numbers_are_short_and_plain() {
    let cases = [
        (0.0, 3, "0"),
        (-0.0, 3, "0"),
        (-0.0004, 3, "0"),
        (0.0005, 3, "0.001"),
        (-0.0005, 3, "-0.001"),
        (1.0, 3, "1"),
        (100.0, 0, "100"),
        (1.25, 1, "1.3"),
        (-1.5, 3, "-1.5"),
        (0.05, 2, "0.05"),
        (2.83464566929134, 9, "2.834645669"),
        (12_345.678_9, 8, "12345.6789"),
        (0.499_999_999_999_999_94, 0, "0"),
        (4_503_599_627_370_495.5, 0, "4503599627370496"),
        (-2.5, 0, "-3"),
        (999.9996, 3, "1000"),
        (1e15, 3, "1000000000000000"),
        (1e21, 3, "1000000000000000000000"),
        (f64::NAN, 3, "0"),
        (f64::INFINITY, 3, "0"),
    ];
    for (value, decimals, expected) in cases {
        assert_eq!(fixed(value, decimals), expected, "{value} to {decimals}");
    }
}

/// Every number of the quick way, and those next to its end, as the standard formatter has them.
#[test]
fn thousandths_are_those_of_the_standard_formatter() {
    for units in (0..=20_000).chain(980_000..1_020_000) {
        for value in [f64::from(units) / 1000.0, f64::from(-units) / 1000.0] {
            let plain = format!("{value:.3}");
            let plain = plain.trim_end_matches('0').trim_end_matches('.');
            assert_eq!(fixed(value, 3), if plain == "-0" { "0" } else { plain });
        }
    }
}

proptest! {
    #[test]
    fn text_is_the_nearest_and_has_no_exponent(value in -1e6..1e6_f64, decimals in 0_usize..9) {
        let text = fixed(value, decimals);
        let back: f64 = text.parse().expect("a number");
        let unit = 10_f64.powi(-(decimals as i32));
        // Half a unit, and what a double of that size cannot tell apart.
        let slack = unit / 2.0 + value.abs() * f64::EPSILON;
        prop_assert!((back - value).abs() <= slack, "{value} as {text}");
        prop_assert!(!text.contains('e') && text != "-0");
        prop_assert!(!text.contains('.') || !text.ends_with(['0', '.']));
        prop_assert_eq!(rounded(value, decimals), back);
    }
}
