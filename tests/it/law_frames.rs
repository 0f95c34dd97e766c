//! Law of the families that frame an opening or close one: within their ranges there is a kit, or
//! a refusal that says with numbers what stands in the way; parts never run into one another, tools
//! reach, joints fit.

use std::fmt::Write;

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::family::{faults, spec};
use crate::law_stock::config;

/// A family, where it stands, and some of its parameters with ranges of sensible wishes.
struct Family {
    name: &'static str,
    walls: &'static [&'static str],
    ranges: &'static [(&'static str, &'static str, f64, f64)],
}

const FAMILIES: [Family; 6] = [
    Family {
        name: "window",
        walls: &["left", "right", "front-end"],
        ranges: &[
            ("opening", "clear_width", 480.0, 1500.0),
            ("opening", "clear_height", 300.0, 1000.0),
            ("opening", "sill_height", 300.0, 1100.0),
            ("foam", "thickness", 0.0, 120.0),
            ("sill", "slope", 3.0, 10.0),
            ("drip", "slope", 3.0, 10.0),
        ],
    },
    Family {
        name: "vent",
        walls: &["left", "front-end"],
        ranges: &[
            ("opening", "clear_width", 450.0, 1200.0),
            ("opening", "sill_height", 300.0, 1400.0),
            ("foam", "thickness", 0.0, 120.0),
            ("blade", "angle", 42.0, 50.0),
            ("blade", "depth", 42.0, 60.0),
        ],
    },
    Family {
        name: "curtain-door",
        walls: &["left", "right"],
        ranges: &[
            ("opening", "clear_width", 700.0, 2700.0),
            ("opening", "clear_height", 1500.0, 1980.0),
            ("guide", "depth", 20.0, 80.0),
            ("sill", "slope", 2.0, 8.0),
            ("sill", "stub", 0.0, 12.0),
        ],
    },
    Family {
        name: "personnel-door",
        walls: &["left", "front-end"],
        ranges: &[
            ("leaf", "width", 650.0, 1150.0),
            ("leaf", "height", 1850.0, 2050.0),
            ("leaf", "thickness", 40.0, 60.0),
            ("foam", "thickness", 0.0, 120.0),
            ("threshold", "bevel", 12.0, 26.0),
            ("frame", "pitch", 80.0, 300.0),
        ],
    },
    Family {
        name: "pocket-plug",
        walls: &["left", "right"],
        ranges: &[
            ("plug", "play", 2.0, 8.0),
            ("plug", "recess", 16.0, 60.0),
            ("plug", "flange", 20.0, 80.0),
            ("apron", "depth", 0.0, 50.0),
        ],
    },
    Family {
        name: "doorway-stop",
        walls: &["door-end"],
        ranges: &[
            ("foam", "thickness", 34.0, 90.0),
            ("foam", "head", 34.0, 140.0),
            ("floor", "thickness", 26.0, 90.0),
            ("stop", "bed", 1.0, 4.0),
        ],
    },
];

/// Refusals that follow from the wish: no such opening, no such sheet, a rule of the trade.
const FAIR: [&str; 6] = ["require ", "opening.", "fab.sheet ", "fab.bed ", "site.", "load.screen "];

/// A sill before a fork pocket's mouth: a warning that the one who wishes for it accepts.
const MOUTH: &str = "the mouth of the container's fork pocket";

/// What is told against a spec and does not follow from its wish.
fn unfair(text: &str) -> Vec<String> {
    let is_fair =
        |fault: &String| fault.contains(MOUTH) || FAIR.iter().any(|fair| fault.starts_with(fair));
    faults(text).into_iter().filter(|fault| !is_fair(fault)).collect()
}

fn wish(family: &Family, (container, wall): (usize, usize), shares: &[Option<f64>]) -> String {
    let containers = ["20ft", "40ft", "40ft-high-cube"];
    // Only the 20 ft box has fork pockets.
    let container = if family.name == "pocket-plug" { 0 } else { container % containers.len() };
    let wall = family.walls[wall % family.walls.len()];
    let mut text =
        format!("[container]\ntype = \"{}\"\nwall = \"{wall}\"\n", containers[container]);
    let mut groups: Vec<&str> = family.ranges.iter().map(|(group, ..)| *group).collect();
    groups.dedup();
    for group in groups {
        let _ = writeln!(text, "\n[{group}]");
        for ((own, name, least, most), share) in family.ranges.iter().zip(shares) {
            if let (true, Some(share)) = (*own == group, share) {
                let value = least + (most - least) * share;
                let _ = writeln!(text, "{name} = {:?}", (value * 10.0).round() / 10.0);
            }
        }
    }
    spec(family.name, &text)
}

fn holds(text: &str) -> Result<(), TestCaseError> {
    let told = unfair(text);
    prop_assert!(told.is_empty(), "{text}\n{told:#?}");
    Ok(())
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn every_wish_makes_a_kit_or_a_fair_refusal(
        site in (0..3_usize, 0..6_usize),
        shares in prop::collection::vec(prop::option::of(0.0..1.0_f64), 6),
    ) {
        for family in &FAMILIES {
            holds(&wish(family, site, &shares))?;
        }
    }
}

/// A law of refusals alone would be empty: with nothing wished for, every family makes its kit.
#[test]
fn with_nothing_wished_for_every_family_makes_its_kit() {
    for family in &FAMILIES {
        for container in 0..3 {
            let text = wish(family, (container, 0), &[]);
            let told: Vec<String> =
                faults(&text).into_iter().filter(|fault| !fault.contains(MOUTH)).collect();
            assert!(told.is_empty(), "{text}\n{told:#?}");
        }
    }
}
