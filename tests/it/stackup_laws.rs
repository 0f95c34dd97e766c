//! Laws of the stack-up on whole kits: the two methods agree, hands are alike, wider holes never
//! hurt, and how the work is shared out changes nothing.

#![allow(clippy::disallowed_methods, reason = "the sample kits are files")]

use std::fs;
use std::sync::LazyLock;

use blankwright::kit::{HoleShape, JointMember};
use blankwright::note::Severity;
use blankwright::pipeline::{self, Source, Stock, Trial, Want};
use blankwright::shelf::{Shelf, Spread, Tolerance};
use blankwright::stackup::{Report, Stack, TARGET, Tally};
use proptest::prelude::*;

use crate::cli_bench::{Bench, call_with};
use crate::law_stock::{Made, STOCK, beside, build_trial, config, head, make_spec};
use crate::stackup_kits::{exact, kit, plate, shelf};

/// Builds of a Monte Carlo here: two for every hundred of a real one.
const BUILDS: u64 = 1500;

/// The widest of the sample kits.
static HALL: LazyLock<Made> = LazyLock::new(|| {
    make_spec(&fs::read_to_string(beside("sample-specs/kelp-hall.toml")).unwrap())
});

/// The shop's tolerances doubled, so that many joints miss.
fn rough(spread: Spread) -> Shelf {
    let shop = &STOCK.shelf.shop.tolerance;
    shelf(Tolerance {
        hole_position: 2.5 * shop.hole_position,
        stretch: 2.0 * shop.stretch,
        bend_angle: 3.0 * shop.bend_angle,
        bend_line: 2.0 * shop.bend_line,
        spread,
        ..shop.clone()
    })
}

/// Every offset's variances and every fastener's chance, within four standard errors; the joints no
/// less often than promised.
#[test]
fn the_two_methods_agree_on_a_kit() {
    let shelf = rough(Spread::Normal);
    let stack = Stack::of(&HALL.kit, &HALL.folded, &shelf);
    let tally = stack.builds(7, 0..BUILDS);
    let n = BUILDS as f64;
    for (sums, meant) in tally.squares.iter().zip(stack.offsets()) {
        for axis in [0, 2] {
            let built = sums[axis] as f64 * 1e-12 / n;
            // Variance of a normal sample's variance: 2 v^2 / n; and second order, which is small.
            let error = meant[axis] * (2.0 / n).sqrt();
            assert!((built - meant[axis]).abs() < 4.0 * error + 2e-5, "{built} {}", meant[axis]);
        }
    }
    let mut missed = 0;
    for (passed, chance) in tally.fasteners.iter().zip(stack.fasteners()) {
        let error = (chance * (1.0 - chance) / n).sqrt() + 1.0 / n;
        let built = *passed as f64 / n;
        assert!((built - chance).abs() < 4.0 * error, "{built} {chance}");
        missed += usize::from(chance < 0.99);
    }
    assert!(20 < missed, "{missed}");
    for (joint, passed) in stack.report().joints.iter().zip(&tally.joints) {
        let built = *passed as f64 / n;
        let error = (built * (1.0 - built) / n).sqrt() + 1.0 / n;
        assert!(joint.chance < built + 4.0 * error, "{}: {built} {}", joint.name, joint.chance);
    }
}

/// Sums of many even errors are nearly normal, which the linear method takes them for.
#[test]
fn even_errors_have_the_same_variances() {
    let shelf = rough(Spread::Uniform);
    let stack = Stack::of(&HALL.kit, &HALL.folded, &shelf);
    let tally = stack.builds(8, 0..BUILDS);
    for (sums, meant) in tally.squares.iter().zip(stack.offsets()) {
        let built = sums[0] as f64 * 1e-12 / BUILDS as f64;
        let error = meant[0] * (2.0 / BUILDS as f64).sqrt();
        assert!((built - meant[0]).abs() < 4.0 * error + 1e-4, "{built} {}", meant[0]);
    }
}

/// All but the same: the flats that the drip is riveted to do not stand evenly about the opening.
#[test]
fn both_hands_have_the_same_chances() {
    let shelf = rough(Spread::Normal);
    let report = Stack::of(&HALL.kit, &HALL.folded, &shelf).report();
    let mut hands = 0;
    for left in &report.joints {
        let Some(name) = left.name.strip_suffix(", left") else { continue };
        let name = format!("{name}, right");
        let right = report.joints.iter().find(|joint| joint.name == name).unwrap();
        assert!(
            (left.chance - right.chance).abs() < 1e-5,
            "{name} {} {}",
            left.chance,
            right.chance
        );
        assert!((left.deviation - right.deviation).abs() < 1e-5, "{name}");
        assert!((left.gap - right.gap).abs() < 1e-3, "{name}");
        hands += 1;
    }
    assert!(8 < hands, "{hands}");
}

#[test]
fn wider_holes_never_lower_a_chance() {
    let shelf = rough(Spread::Normal);
    let mut made = HALL.kit.clone();
    let mut before = vec![0.0; made.joints.len()];
    for _ in 0..5 {
        let report = Stack::of(&made, &HALL.folded, &shelf).report();
        for (joint, before) in report.joints.iter().zip(&mut before) {
            assert!(*before <= joint.chance + 1e-12, "{}", joint.name);
            *before = joint.chance;
        }
        let holes = made.parts.iter_mut().flat_map(|part| &mut part.faces);
        for hole in holes.flat_map(|face| &mut face.holes) {
            if let HoleShape::Round(diameter) = &mut hole.shape {
                *diameter += 0.1;
            }
        }
    }
    assert!(before.iter().sum::<f64>() / before.len() as f64 > 0.8, "{before:?}");
}

#[test]
fn any_split_of_the_builds_counts_the_same() {
    let stack = Stack::of(&HALL.kit, &HALL.folded, &STOCK.shelf);
    let whole = stack.builds(3, 0..40);
    for cut in [1, 17, 39] {
        let mut sum: Tally = stack.no_builds();
        sum.merge(&stack.builds(3, cut..40));
        sum.merge(&stack.builds(3, 0..cut));
        assert_eq!(sum, whole);
    }
    assert_ne!(stack.builds(4, 0..40).squares, whole.squares);
    assert_ne!(stack.builds(3, 40..80).squares, whole.squares);
}

/// The program's own way, on one thread and on three.
#[test]
fn threads_change_no_byte() {
    let written = ["1", "3"].map(|jobs| {
        let bench = Bench::new();
        let out = bench.path("out");
        let spec = beside("sample-specs/kelp-hall.toml");
        let words =
            ["blankwright", "draw", spec.to_str().unwrap(), "--only", "json", "--builds", "1200"];
        let more = ["--jobs", jobs, "--out", out.to_str().unwrap()];
        let ran = call_with(&[&words[..], &more[..]].concat(), &|data, notes| {
            let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
            let stock = Stock::read(&data.families, &shelf, notes)?;
            Some(Box::new(move |source: &Source, want: &Want, trial: &Trial| {
                pipeline::build_tried(source, &stock, want, trial)
            }))
        });
        fs::read_to_string(out.join("OSK-0101/kit.json")).unwrap_or_else(|_| panic!("{}", ran.err))
    });
    assert_eq!(written[0], written[1]);
    let kit: serde_json::Value = serde_json::from_str(&written[0]).unwrap();
    assert_eq!(kit["stackup"]["builds"], 1200);
    let joints = kit["stackup"]["joints"].as_array().unwrap();
    assert_eq!(joints.len(), kit["joints"].as_array().unwrap().len());
    assert!(joints.iter().all(|joint| joint["built"][0].as_f64().unwrap() <= 1.0));
    assert!(joints.iter().all(|joint| joint["built_least"].as_f64().unwrap() < 1.0));
    let findings = kit["findings"].as_array().unwrap();
    let tried = findings.iter().filter(|f| f["check"] == "fit.stackup" && f["severity"] == "note");
    let tried: Vec<_> = tried.map(|f| f["message"].as_str().unwrap()).collect();
    assert!(tried.len() == 1 && tried[0].contains("built 1200 times"), "{tried:?}");
}

/// Nothing has to meet where only one sheet has a hole.
#[test]
fn holes_into_the_container_are_drilled_in_place() {
    let report = Stack::of(&HALL.kit, &HALL.folded, &STOCK.shelf).report();
    for (joint, told) in HALL.kit.joints.iter().zip(&report.joints) {
        let holes = |pair: &Vec<JointMember>| {
            pair.iter().filter(|member| matches!(member, JointMember::Hole { .. })).count()
        };
        assert_eq!(told.in_place, joint.pairs.iter().all(|pair| holes(pair) < 2), "{}", joint.name);
        assert!(!told.in_place || told.chance == 1.0);
        assert!(TARGET <= told.chance, "{}: {}", told.name, told.chance);
    }
    let rows = report.rows();
    assert!(rows.iter().any(|row| row[5] == "drilled in place"));
    assert!(rows.iter().all(|row| row.iter().all(|cell| !cell.is_empty())));
}

/// Two plates with a row of rivets; `size` is that of the hole under the head.
fn riveted(size: &str) -> String {
    let part = |name: &str, z: f64| {
        format!(
            "\n[[parts]]\nname = \"{name}\"\ntitle = \"{name}\"\nsheet = \"plate\"\n\
             [parts.plate]\nwidth = 1200\nheight = 60\n\
             [[parts.places]]\nat = [0, 0, {z}]\nx = [1, 0, 0]\ny = [0, 1, 0]\n"
        )
    };
    format!(
        "{}{}{}\n[[joints]]\nname = \"cover to base\"\nfastener = \"rivet-4.8\"\n\
         from = {{ part = \"cover\", face = \"base\"{size} }}\n\
         to = [{{ part = \"base\", face = \"base\" }}]\n\
         holes = {{ row = {{ from = [30, 30], to = [1170, 30], pitch = 100 }} }}\n",
        head(2.0),
        part("base", 0.0),
        part("cover", 2.0)
    )
}

#[test]
fn a_row_in_two_tight_holes_is_warned_of_and_a_wide_one_is_not() {
    let told = |family: &str| {
        let built = build_trial(family, &Want::Findings);
        let errors: Vec<_> =
            built.notes.all().iter().filter(|f| f.severity == Severity::Error).collect();
        assert!(errors.is_empty(), "{errors:#?}\n{family}");
        built.notes.all().iter().filter(|f| f.check == "fit.stackup").cloned().collect::<Vec<_>>()
    };
    let tight = told(&riveted(", size = { hole = \"clearance\" }"));
    assert_eq!(tight.len(), 1, "{tight:#?}");
    assert_eq!((tight[0].severity, tight[0].subject.as_str()), (Severity::Warning, "j1"));
    assert!(tight[0].help.contains(" mm hole") && tight[0].help.contains("of OTS-0701-02"));
    assert!(tight[0].message.contains("length of OTS-0701-0"), "{}", tight[0].message);
    // Without a word the sheet under the head has the wider hole.
    assert_eq!(told(&riveted("")), []);
}

proptest! {
    #![proptest_config(config(24))]

    /// Any pattern of holes in two plates, with any of the errors a plate has.
    #[test]
    fn plates_at_random_pass_as_often_as_told(
        holes in prop::collection::vec((-800.0..800.0_f64, -800.0..800.0_f64), 1..9),
        sizes in [4.85..5.6_f64, 4.85..5.3_f64],
        (position, stretch, size) in (0.05..0.5_f64, 0.0..0.5_f64, 0.0..0.15_f64),
    ) {
        let tolerance =
            Tolerance { hole_position: position, stretch, hole_size: Some(size), ..exact() };
        let parts = vec![plate("A", 0.0, &holes, sizes[0]), plate("B", 2.0, &holes, sizes[1])];
        let kit = kit(parts, 4.8);
        let shelf = shelf(tolerance);
        let folded: Vec<_> = kit.parts.iter().map(blankwright::fold::fold).collect();
        let stack = Stack::of(&kit, &folded, &shelf);
        let (n, tally) = (2000.0, stack.builds(5, 0..2000));
        for (passed, chance) in tally.fasteners.iter().zip(stack.fasteners()) {
            let error = (chance * (1.0 - chance) / n).sqrt() + 1.0 / n;
            prop_assert!((*passed as f64 / n - chance).abs() < 4.0 * error, "{passed} {chance}");
        }
        let (built, told) = (tally.joints[0] as f64 / n, stack.report().joints[0].chance);
        let error = (built * (1.0 - built) / n).sqrt() + 1.0 / n;
        prop_assert!(told < built + 4.0 * error, "{told} {built}");
    }
}

/// The report of the hall's kit as if so many of so many builds had passed at every joint.
fn counted(passed: u64, builds: u64) -> Report {
    let stack = Stack::of(&HALL.kit, &HALL.folded, &STOCK.shelf);
    let (mut report, mut tally) = (stack.report(), stack.no_builds());
    tally.builds = builds;
    tally.joints.fill(passed);
    report.tried(&tally, 1);
    report
}

/// The chance of at least `passed` passes, summed term by term.
fn tail(passed: u64, builds: u64, chance: f64) -> f64 {
    let mut term = chance.powf(builds as f64);
    let mut sum = term;
    for failed in 1..=builds - passed {
        term *= (builds - failed + 1) as f64 / failed as f64 * (1.0 - chance) / chance;
        sum += term;
    }
    sum
}

/// Clopper and Pearson: a chance at the bound gives as many passes in one run of twenty.
#[test]
fn the_bound_is_the_chance_that_one_run_in_twenty_would_flatter() {
    let least = |passed, builds| counted(passed, builds).joints[0].trial.unwrap().least;
    let cases = [(1, 1), (1, 50), (7, 9), (120, 400), (1990, 2000), (1999, 2000), (2000, 2000)];
    for (passed, builds) in cases {
        let bound = least(passed, builds);
        let found = tail(passed, builds, bound);
        assert!((found - 0.05).abs() < 1e-9, "{passed} of {builds}: {bound}, {found}");
    }
    assert!((least(1, 50) - (1.0 - 0.95_f64.powf(0.02))).abs() < 1e-12);
    assert!((least(100_000, 100_000) - (1.0 - 2.9957 / 1e5)).abs() < 1e-8);
    assert_eq!(least(0, 10), 0.0);
}

/// Where every build passed, nothing is told to be certain.
#[test]
fn a_run_of_passes_is_told_as_what_it_bears_out() {
    let report = counted(2000, 2000);
    let words = report.tried_words().unwrap();
    for part in ["built 2000 times", "2000 of 2000", "at least 99.85 % at 95 %"] {
        assert!(words.contains(part), "{part} is not in: {words}");
    }
    let meeting = report.joints.iter().filter(|joint| !joint.in_place).count();
    assert!(words.contains(&format!("{meeting} joints")), "{words}");
    for (joint, row) in report.joints.iter().zip(report.rows()) {
        assert_eq!(row[6], if joint.in_place { "-" } else { "at least 99.85 %" });
    }
    let some = counted(1990, 2000);
    assert!(some.tried_words().unwrap().contains("1990 of 2000; at least 99.15 %"));
    assert!(some.rows().iter().any(|row| row[6] == "99.5 % +- 0.16"), "{:?}", some.rows());
    assert_eq!(Stack::of(&HALL.kit, &HALL.folded, &STOCK.shelf).report().tried_words(), None);
}
