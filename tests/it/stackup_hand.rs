//! The stack-up against stacks worked by hand and chances known in closed form.

use std::f64::consts::PI;

use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::Point3;
use blankwright::kit::{HoleShape, Kit, Part};
use blankwright::shelf::{Shelf, Spread, Tolerance, laser_limit};
use blankwright::stackup::{Advice, Stack, Tally};

use crate::stackup_kits::{FOOT, REACH, exact, hat, hole, kit, plate, shelf};

/// Distance between the hat's holes for one mm of each bend line too far out, and for one radian of
/// each angle too much, worked by hand for one side.
///
/// Base to web, about the arc's axis at x = 50, z = 4: the foot's hole stands 27 - 4 above it and
/// swings inward by that; half the zone's growth, (2 + 0.325 * 2) / 2 a radian, goes inward too.
/// Its line makes the base longer. Web to foot, axis at z = 24: the hole stands 27 - 24 above and
/// swings outward; half the growth goes inward. Its line makes the web longer and the foot shorter.
const GROWTH: f64 = (2.0 + 0.325 * 2.0) / 2.0;
const ANGLES: [f64; 2] = [-(27.0 - 4.0) - GROWTH, (27.0 - 24.0) - GROWTH];
const LINES: [f64; 2] = [1.0, -1.0];

fn folded(kit: &Kit) -> Vec<FoldedPart> {
    kit.parts.iter().map(fold).collect()
}

/// A hat on a plate, both with holes of 5 for a pin of 4.8: clearance 0.2.
fn hat_on_plate() -> Kit {
    let holes = [(-REACH, 20.0), (REACH, 20.0)];
    kit(vec![hat("A", 5.0), plate("B", FOOT + 1.0, &holes, 5.0)], 4.8)
}

/// Distance between the hat's two holes, mm, folded as it is.
fn distance(part: &Part) -> f64 {
    let folded = fold(part);
    let at = |face: usize| folded.faces[face].point(Point3::new(20.0, 20.0, 1.0));
    (at(4) - at(2)).length()
}

/// The hat with one bend's angle too large by degrees and its line too far out by mm, drawn anew.
fn bent(bend: usize, angle: f64, line: f64) -> Part {
    let mut part = hat("A", 5.0);
    let bend = &mut part.bends[bend];
    let grown = GROWTH * angle * PI / 180.0;
    let out = (bend.edge[1] - bend.edge[0]).unit().right();
    bend.edge = bend.edge.map(|p| p + out * (line - grown));
    bend.child_start.x += line + grown;
    bend.angle += angle;
    part
}

#[test]
fn the_hand_worked_shares_are_those_of_the_fold() {
    let nominal = distance(&hat("A", 5.0));
    assert!((nominal - 2.0 * REACH).abs() < 1e-9, "{nominal}");
    for bend in 0..4 {
        let angle = (distance(&bent(bend, 1e-4, 0.0)) - nominal) / (1e-4 * PI / 180.0);
        let line = (distance(&bent(bend, 0.0, 1e-4)) - nominal) / 1e-4;
        let which = bend % 2;
        assert!((angle - ANGLES[which]).abs() < 1e-3, "{bend}: {angle}");
        assert!((line - LINES[which]).abs() < 1e-6, "{bend}: {line}");
    }
}

/// Variance of the difference of the two distances between holes, summed by hand: two sides of the
/// hat, two holes in each part, and the stretch of both parts. A blank that is too long by a share
/// grows its feet's places by that share of the flat way: base 50, webs 20, and 16 of a foot; the
/// web's 20 go upward.
fn variance(t: &Tolerance) -> f64 {
    let sigma = |limit: f64| t.spread.deviation(limit);
    let angle = sigma(t.bend_angle) * PI / 180.0;
    let bends = |shares: [f64; 2], sigma: f64| {
        2.0 * shares.iter().map(|share| (share * sigma).powi(2)).sum::<f64>()
    };
    let stretch = sigma(t.stretch) * 1e-3;
    bends(ANGLES, angle)
        + bends(LINES, sigma(t.bend_line))
        + 4.0 * sigma(t.hole_position).powi(2)
        + (2.0 * (50.0 + 16.0) * stretch).powi(2)
        + (2.0 * REACH * stretch).powi(2)
}

/// Chance that a normal variate stays within so many deviations: 0.6827, 0.9545, 0.9973 for 1, 2, 3
/// (any table), by Simpson's rule.
fn within(deviations: f64) -> f64 {
    let density = |x: f64| (-x * x / 2.0).exp() / (2.0 * PI).sqrt();
    let (steps, width) = (2000, deviations / 2000.0);
    let weight = |i: usize| if i == 0 || i == steps { 1.0 } else { 2.0 + 2.0 * (i % 2) as f64 };
    2.0 * (0..=steps).map(|i| weight(i) * density(i as f64 * width)).sum::<f64>() * width / 3.0
}

fn tally(kit: &Kit, shelf: &Shelf, builds: u64) -> Tally {
    Stack::of(kit, &folded(kit), shelf).builds(1, 0..builds)
}

/// Share of builds in which the only joint passed, with its standard error.
fn built(kit: &Kit, shelf: &Shelf, builds: u64) -> (f64, f64) {
    let share = tally(kit, shelf, builds).joints[0] as f64 / builds as f64;
    (share, (share * (1.0 - share) / builds as f64).sqrt())
}

fn tolerances() -> Tolerance {
    Tolerance { hole_position: 0.15, bend_angle: 0.5, bend_line: 0.2, stretch: 0.2, ..exact() }
}

/// A hat's two holes on a plate's two: the plate is shifted until both are off by half the
/// difference of the distances, and each may be off by 0.2.
#[test]
fn a_hand_worked_stack_is_met_by_both_methods() {
    let (kit, shelf) = (hat_on_plate(), shelf(tolerances()));
    let half = variance(&tolerances()).sqrt() / 2.0;
    // By hand: angles 2 (24.325^2 + 1.675^2) 0.002909^2 = 0.0101, lines 4 * 0.0667^2 = 0.0178,
    // holes 4 * 0.05^2 = 0.01, stretches 0.0002: 0.0380, of which half the root.
    assert!((half - 0.0975).abs() < 1e-4, "{half}");
    let stack = Stack::of(&kit, &folded(&kit), &shelf);
    let joint = &stack.report().joints[0];
    assert!((joint.deviation - half).abs() < 1e-5, "{} {half}", joint.deviation);
    assert!((joint.clearance - 0.2).abs() < 1e-12);
    let one = within(0.2 / half);
    for chance in stack.fasteners() {
        assert!((chance - one).abs() < 1e-4, "{chance} {one}");
    }
    // Both pass or neither; the product of the two is what the report promises at least.
    assert!((joint.chance - one * one).abs() < 2e-4, "{}", joint.chance);
    let (share, error) = built(&kit, &shelf, 20_000);
    assert!((share - one).abs() < 4.0 * error, "{share} +- {error}, {one}");
}

/// Evenly spread errors never add up to more than the sum of their limits.
#[test]
fn a_clearance_of_the_worst_case_is_never_missed() {
    let tolerance = Tolerance { spread: Spread::Uniform, stretch: 0.0, ..tolerances() };
    let angle = 0.5 * PI / 180.0;
    let worst: f64 = 2.0 * (ANGLES[0].abs() + ANGLES[1].abs()) * angle + 4.0 * 0.2 + 4.0 * 0.15;
    let holes = [(-REACH, 20.0), (REACH, 20.0)];
    let wide = |clearance: f64| {
        let plate = plate("B", FOOT + 1.0, &holes, 4.8 + 2.0 * clearance);
        kit(vec![hat("A", 4.8), plate], 4.8)
    };
    // Holes are also off along y; the fitter turns the plate, which takes all of that.
    let (share, _) = built(&wide(worst / 2.0 + 1e-3), &shelf(tolerance.clone()), 20_000);
    assert!(share == 1.0, "{share}");
    let (share, _) = built(&wide(worst / 8.0), &shelf(tolerance), 20_000);
    assert!(share < 0.95, "{share}");
}

/// Four fasteners at the corners of a square and one in its middle: the middle one is off by its
/// own two holes less the mean of all five, evenly in all directions, so that its distance follows
/// Rayleigh's law.
#[test]
fn the_middle_of_a_square_follows_rayleigh() {
    let holes = [(-80.0, -80.0), (80.0, -80.0), (80.0, 80.0), (-80.0, 80.0), (0.0, 0.0)];
    for position in [0.15, 0.3, 0.45] {
        let tolerance = Tolerance { hole_position: position, ..exact() };
        let kit = kit(vec![plate("A", 0.0, &holes, 5.1), plate("B", 2.0, &holes, 4.9)], 4.8);
        let shelf = shelf(tolerance);
        let variance = 2.0 * (position / 3.0_f64).powi(2) * (1.0 - 1.0 / 5.0);
        let chance = 1.0 - (-0.2_f64.powi(2) / (2.0 * variance)).exp();
        let stack = Stack::of(&kit, &folded(&kit), &shelf);
        assert!((stack.fasteners()[4] - chance).abs() < 1e-5, "{position}: {chance}");
        let passed = tally(&kit, &shelf, 20_000).fasteners[4] as f64 / 20_000.0;
        let error = (chance * (1.0 - chance) / 20_000.0).sqrt();
        assert!((passed - chance).abs() < 4.0 * error, "{position}: {passed} {chance}");
        // A corner's turn about the middle is taken up too: 4/5 left outward, 4/5 - 1/4 across.
        let corner = stack.offsets()[2];
        let own = 2.0 * (position / 3.0_f64).powi(2);
        assert!((corner[0] - own * 0.675).abs() < 1e-5 * own, "{corner:?}");
        assert!((corner[1] - own * 0.125).abs() < 1e-5 * own, "{corner:?}");
    }
}

/// One fastener alone: the parts are shifted until it passes, where its holes are large enough.
#[test]
fn one_fastener_always_passes_but_for_the_size_of_its_holes() {
    let one = || vec![plate("A", 0.0, &[(30.0, 0.0)], 5.0), plate("B", 2.0, &[(30.0, 0.0)], 4.9)];
    let kit = kit(one(), 4.8);
    let loose = shelf(Tolerance { hole_position: 0.5, ..exact() });
    assert_eq!(built(&kit, &loose, 1000).0, 1.0);
    // Clearance 0.15 mm, its deviation sqrt(0.1^2 + 0.1^2) / 2 with holes +- 0.3 mm.
    let sized = shelf(Tolerance { hole_size: Some(0.3), ..exact() });
    let chance = (1.0 + within(0.15 / (0.1 / 2.0_f64.sqrt()))) / 2.0;
    let (share, error) = built(&kit, &sized, 20_000);
    assert!((share - chance).abs() < 4.0 * error, "{share} {chance}");
}

#[test]
fn without_tolerance_all_pass() {
    let kit = hat_on_plate();
    let stack = Stack::of(&kit, &folded(&kit), &STILL);
    let report = stack.report();
    assert_eq!((report.joints[0].chance, report.joints[0].deviation), (1.0, 0.0));
    assert_eq!(report.joints[0].advice, Advice::Reached);
    assert_eq!(tally(&kit, &STILL, 50).joints, [50]);
}

static STILL: std::sync::LazyLock<Shelf> = std::sync::LazyLock::new(|| shelf(exact()));

/// A slot along the stack lets the hole off by half of what it is longer than wide; across, by
/// nothing.
#[test]
fn a_slot_gives_along_its_length() {
    let half = variance(&tolerances()).sqrt() / 2.0;
    for (direction, more) in [(0.0, 0.1), (90.0, 0.0)] {
        let mut kit = hat_on_plate();
        let shape = || HoleShape::Slot(5.0, 5.2, direction);
        kit.parts[1].faces[0].holes =
            vec![hole(1, (-REACH, 20.0), shape()), hole(2, (REACH, 20.0), shape())];
        let shelf = shelf(tolerances());
        let chances = Stack::of(&kit, &folded(&kit), &shelf).fasteners();
        let chance = within((0.2 + more) / half);
        assert!((chances[0] - chance).abs() < 1e-4, "{direction}: {} {chance}", chances[0]);
        let (share, error) = built(&kit, &shelf, 20_000);
        assert!((share - chance).abs() < 4.0 * error, "{direction}: {share} {chance}");
    }
}

/// What is advised does reach the target, and a tenth less does not.
#[test]
fn the_advised_hole_is_the_smallest() {
    let (kit, shelf) = (hat_on_plate(), shelf(tolerances()));
    let advice = Stack::of(&kit, &folded(&kit), &shelf).report().joints[0].advice.clone();
    let Advice::Widen { part, hole: Some(diameter), slot: Some([width, length, angle]), .. } =
        advice
    else {
        panic!("{advice:?}");
    };
    // The hat's foot lies across: its x is the stack's direction, either way.
    assert_eq!((part.as_str(), width, angle.abs() % 180.0), ("A", 5.0, 0.0));
    let chance = |shape: HoleShape| {
        let mut kit = hat_on_plate();
        for (face, number) in [(2, 1), (4, 2)] {
            kit.parts[0].faces[face].holes = vec![hole(number, (20.0, 20.0), shape.clone())];
        }
        Stack::of(&kit, &folded(&kit), &shelf).report().joints[0].chance
    };
    assert!(0.995 <= chance(HoleShape::Round(diameter)), "{diameter}");
    assert!(chance(HoleShape::Round(diameter - 0.1)) < 0.995, "{diameter}");
    assert!(0.995 <= chance(HoleShape::Slot(5.0, length, angle)), "{length}");
    assert!(chance(HoleShape::Slot(5.0, length - 0.1, angle)) < 0.995, "{length}");
}

/// Three sheets on one pin: each hole off by itself. Two discs that meet a third need not share a
/// point with it, so that the chance is at most that of every two.
#[test]
fn three_sheets_are_tried_together() {
    let holes = [(-80.0, -80.0), (80.0, -80.0), (80.0, 80.0), (-80.0, 80.0)];
    let sheet = |number: &str, height: f64| plate(number, height, &holes, 5.0);
    let kit = kit(vec![sheet("A", 0.0), sheet("B", 2.0), sheet("C", 4.0)], 4.8);
    let shelf = shelf(Tolerance { hole_position: 0.25, ..exact() });
    let chances = Stack::of(&kit, &folded(&kit), &shelf).fasteners();
    let tally = tally(&kit, &shelf, 5000);
    for (passed, chance) in tally.fasteners.iter().zip(chances) {
        let share = *passed as f64 / 5000.0;
        // The linear method counts a build twice in which two of the three pairs miss.
        assert!(chance < share + 0.02 && share < chance + 0.08, "{share} {chance}");
    }
}

/// The errors that stand for a class meet its row: two holes a distance apart, sqrt(2 p^2 + (s
/// L)^2).
#[test]
fn place_and_stretch_meet_the_class() {
    // ISO 9013:2017, class 1, sheets over 1 to 3.15 mm (common practice): 0.25 at 35 to 125 mm,
    // 0.65 at 2 to 4 m.
    assert_eq!(
        (laser_limit(1, 5.0), laser_limit(1, 100.0), laser_limit(1, 3000.0)),
        (0.15, 0.25, 0.65)
    );
    assert_eq!((laser_limit(2, 5.0), laser_limit(2, 9000.0)), (0.6, 1.4));
    let (place, stretch) = (Tolerance::class_position(1), Tolerance::class_stretch(1));
    assert!((place - 0.1768).abs() < 1e-4 && (stretch - 0.2).abs() < 1e-12, "{place} {stretch}");
    for middle in [80.0, 220.0, 650.0, 1500.0, 3000.0, 5000.0] {
        let both = (2.0 * place * place + (stretch * middle / 1000.0).powi(2)).sqrt();
        assert!((both - laser_limit(1, middle)).abs() < 0.075, "{middle}: {both}");
    }
}
