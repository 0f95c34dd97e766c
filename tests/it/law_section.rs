//! Laws of sections: what moves, turns or mirrors a section changes none of its own values; the
//! other hand has the same; what bears is never more than all; a part's section is that of its
//! legs.

use blankwright::geom::{Map2, Point, SectionFrame};
use blankwright::kit::{Bend, Part};
use blankwright::pipeline::{Built, FileKind, Only, Source, Want, build};
use blankwright::section::{
    Demand, Judge, PartSection, Section, Standard, Values, effective, thin,
};
use blankwright::units::tan_deg;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::law_parts::{Leg, Trial, profile};
use crate::law_stock::{STOCK, config, made, texts};

type P = Point<SectionFrame>;
type Map = Map2<SectionFrame, SectionFrame>;

/// Flats and corners at random.
fn section() -> impl Strategy<Value = Section> {
    let leg = (5.0..150.0_f64, prop_oneof![-150.0..-5.0_f64, 5.0..150.0_f64], 0.0..8.0_f64);
    (0.8..3.0_f64, vec(leg, 2..6))
        .prop_map(|(thickness, legs)| Section::walked(P::new(3.0, -7.0), &legs, thickness))
}

fn motion() -> impl Strategy<Value = Map> {
    (-180.0..180.0_f64, any::<bool>(), -500.0..500.0_f64, -500.0..500.0_f64).prop_map(
        |(angle, mirrored, x, y)| {
            let flip = if mirrored { -1.0 } else { 1.0 };
            let mirror = Map::new(P::new(1.0, 0.0), P::new(0.0, flip), P::new(0.0, 0.0));
            mirror.then(&Map::turn(angle)).shifted(P::new(x, y))
        },
    )
}

/// Values that do not depend on where a section lies and how it is turned.
fn own(section: &Section) -> [f64; 6] {
    let (values, thin) = (Values::of(&section.moments()), thin(section));
    let way = thin.shear_centre.distance(values.centroid);
    let [high, low] = values.principal;
    [values.area, high, low, thin.torsion, thin.warping, way]
}

/// Whether two rows agree, each within a share of its own scale.
fn alike(a: [f64; 6], b: [f64; 6]) -> bool {
    // What cancels out is held against the greatest second moment and the area.
    let (area, inertia) = (a[0], a[1]);
    let scales = [area, inertia, inertia, a[3], inertia * area, area];
    (0..6).all(|i| (a[i] - b[i]).abs() <= 1e-7 * scales[i])
}

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn motions_change_no_value_of_its_own(section in section(), map in motion()) {
        let moved = section.moved(&map);
        prop_assert!(alike(own(&section), own(&moved)), "{:?} {:?}", own(&section), own(&moved));
        let (before, after) = (Values::of(&section.moments()), Values::of(&moved.moments()));
        prop_assert!(map.point(before.centroid).distance(after.centroid) < 1e-6);
    }

    #[test]
    fn a_section_reaches_as_far_as_its_outline(
        section in section(),
        angle in 0.0..360.0_f64,
    ) {
        let way = P::new(1.0, 0.0).turned(angle);
        let half = section.thickness / 2.0;
        // Points of both faces along every piece, close enough to miss an arc by little.
        let mut farthest = f64::NEG_INFINITY;
        for piece in &section.pieces {
            for i in 0..=200 {
                let [a, b] = [f64::from(i), f64::from(i) + 1e-4].map(|i| piece.at(i / 200.0));
                let across = (b - a).unit().left() * half;
                farthest = farthest.max((a + across).dot(way)).max((a - across).dot(way));
            }
        }
        prop_assert!((section.reach(way) - farthest).abs() < 2e-3, "{farthest}");
    }

    #[test]
    fn what_bears_is_never_more_than_all(
        section in section(),
        angle in 0.0..360.0_f64,
        stress in 1.0..500.0_f64,
        (held, aisi) in (any::<bool>(), any::<bool>()),
    ) {
        let standard = if aisi { Standard::Aisi } else { Standard::En };
        let judge = Judge { standard, stress, modulus: 210_000.0, k: None };
        let toward = P::new(1.0, 0.0).turned(angle);
        let whole = Values::of(&section.moments());
        for demand in [Demand::Compression, Demand::Bending { toward, held }] {
            let bears = effective(&section, &demand, &judge);
            prop_assert!(bears.values.area <= whole.area * (1.0 + 1e-9));
            prop_assert!(bears.values.principal[0] <= whole.principal[0] * (1.0 + 1e-9));
            prop_assert!(0.0 < bears.chi && bears.chi <= 1.0);
            let mut stretches = bears.stretches.iter().flatten();
            prop_assert!(stretches.all(|(from, to, _)| from <= to));
        }
    }

    #[test]
    fn a_little_stress_leaves_all_of_a_section(section in section()) {
        let judge = Judge { standard: Standard::En, stress: 1e-4, modulus: 210_000.0, k: None };
        let bears = effective(&section, &Demand::Compression, &judge);
        let area = section.moments().area;
        // A lip that is too short bears nothing whatever the stress.
        let rows = section.pieces.iter().filter(|piece| piece.radius().is_none());
        let lengths: Vec<f64> = rows.map(|piece| piece.length()).collect();
        let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        prop_assume!(0.35 * (longest + 20.0) < shortest);
        prop_assert!((bears.values.area - area).abs() < 1e-9 * area);
    }

    /// The flats of a cut profile are its legs without the corners: outside sizes less setbacks.
    #[test]
    fn the_section_of_a_profile_is_that_of_its_legs(trial in profile()) {
        let made = made(&trial)?;
        let mut hands = made.parts();
        let (Some((left, folded, _)), Some((right, mirrored, _))) = (hands.next(), hands.next())
        else {
            return Err(TestCaseError::fail("a trial has two hands"));
        };
        let cut = PartSection::of(left, folded, 0).unwrap();
        let other = PartSection::of(right, mirrored, 1).unwrap();
        prop_assert!(alike(own(&cut.cut.section), own(&other.cut.section)));
        let pieces = &cut.cut.section.pieces;
        for pair in pieces.windows(2) {
            prop_assert!(pair[0].end().distance(pair[1].start()) < 1e-6);
        }
        if is_plain(&trial) {
            let flat = pieces.iter().filter(|piece| piece.radius().is_none());
            let found: f64 = flat.map(|piece| piece.length()).sum();
            let sizes: f64 = trial.legs.iter().map(|leg| leg.size).sum();
            let corners: f64 = left.bends.iter().map(|bend| 2.0 * setback(left, bend)).sum();
            let wanted = sizes - corners;
            prop_assert!((found - wanted).abs() < 1e-6, "{found} {wanted}");
        }
    }
}

/// Whether a profile has no flanges, no notches and no ends that are cut back.
fn is_plain(trial: &Trial) -> bool {
    let uncut = |leg: &Leg| leg.ends.iter().all(|end| *end == (0.0, 0.0));
    let bare = trial.flanges.iter().all(Option::is_none) && trial.corner.is_none();
    bare && !trial.extras && trial.legs.iter().all(uncut)
}

/// From the mould line to where a leg's flat begins: to the sharp corner up to 90 degrees, past it
/// to the tangent.
fn setback(part: &Part, bend: &Bend) -> f64 {
    let outer = bend.radius + part.thickness;
    if bend.angle <= 90.0 { tan_deg(bend.angle / 2.0) * outer } else { outer }
}

fn kit_json(spec: &str, change: (&str, &str)) -> serde_json::Value {
    let source = texts("sample-specs").into_iter().find(|s| s.name.ends_with(spec)).unwrap();
    let text = String::from_utf8(source.bytes).unwrap().replace(change.0, change.1);
    let source = Source { name: source.name, bytes: text.into_bytes() };
    let only = Only { kinds: vec![FileKind::Json], parts: Vec::new() };
    let Built { notes, files, .. } = build(&source, &STOCK, &Want::Files(only));
    let files = files.unwrap_or_else(|| panic!("{notes:#?}"));
    serde_json::from_slice(&files[0].bytes).unwrap()
}

fn shares(kit: &serde_json::Value) -> Vec<f64> {
    let screens = kit["screens"].as_array().unwrap();
    let loads = screens.iter().flat_map(|screen| screen["loads"].as_array().unwrap());
    loads.map(|load| load["share"].as_f64().unwrap()).collect()
}

/// Twice the roof's load takes twice the strength; where it goes beyond, a warning says so.
#[test]
fn a_screen_follows_its_load() {
    let foam = "thickness = 50";
    let kit = |load: &str| kit_json("kelp-hall.toml", (foam, &format!("{foam}\n\n[load]\n{load}")));
    let (once, twice) = (shares(&kit("roof = 1")), shares(&kit("roof = 2")));
    let doubled = once.iter().zip(&twice).filter(|(a, b)| (*b / *a - 2.0).abs() < 1e-9).count();
    let unchanged = once.iter().zip(&twice).filter(|(a, b)| a == b).count();
    assert_eq!((doubled, unchanged), (3, 2), "{once:?} {twice:?}");
    let told = |load: &str| {
        let kit = kit(load);
        let all = kit["findings"].as_array().unwrap().clone();
        let own: Vec<_> = all.into_iter().filter(|f| f["check"] == "load.screen").collect();
        assert!(own.iter().all(|f| f["message"].as_str().unwrap().contains("engineer decides")));
        own.into_iter().filter(|f| f["severity"] == "warning").count()
    };
    assert_eq!(told("roof = 1"), 0);
    assert_eq!(told("roof = 10\nfactor = 2"), 1, "the post is screened beyond its resistance");
    let (en, aisi) = (shares(&kit("rule = \"en-1993\"")), shares(&kit("rule = \"aisi\"")));
    assert!(en.iter().zip(&aisi).all(|(a, b)| a != b && (a / b - 1.0).abs() < 0.5));
}

/// DX51D's standard names no yield strength: nothing is screened, and that is told.
#[test]
fn a_sheet_without_a_yield_strength_is_not_screened() {
    let foam = "thickness = 50";
    let sheet = format!("{foam}\n\n[sheet]\nmaterial = \"galvanized-dx51d\"");
    let kit = kit_json("kelp-hall.toml", (foam, &sheet));
    assert!(shares(&kit).is_empty());
    let findings = kit["findings"].as_array().unwrap();
    let own: Vec<_> = findings.iter().filter(|f| f["check"] == "load.screen").collect();
    assert!(!own.is_empty());
    for finding in own {
        assert!(finding["message"].as_str().unwrap().contains("is not screened"));
        assert_eq!(finding["severity"], "note");
    }
}

/// The side frame's inner leg is 80 times as wide as thick with one lip: EN 1993-1-3 covers 60.
#[test]
fn a_flat_wider_than_the_rule_covers_is_told() {
    let kit = kit_json("kelp-hall.toml", ("", ""));
    let outside: Vec<usize> = kit["screens"]
        .as_array()
        .unwrap()
        .iter()
        .map(|screen| screen["outside"].as_array().unwrap().len())
        .collect();
    assert_eq!(outside, [0, 1, 1]);
}

fn figures(rows: &serde_json::Value) -> impl Fn(&str) -> f64 {
    let rows = rows.as_array().unwrap().clone();
    move |key| rows.iter().find(|row| row["key"] == key).unwrap()["value"].as_f64().unwrap()
}

/// By hand, beam tables: 500 kg in the middle of 102 mm, on 131 mm of 8 mm plate of S235.
/// M = 4905 N x 102 mm / 4 x 1.5 = 187616.25 N mm, W = 131 x 8² / 6 = 1397.33 mm3, stress 134.27,
/// deflection 4905 x 102³ / (48 x 210000 x 131 x 8³ / 12) = 0.0924 mm.
#[test]
fn the_threshold_bears_a_wheel_as_worked_by_hand() {
    let kit = kit_json("hall-joint.toml", ("", ""));
    let screen = &kit["screens"][0];
    assert_eq!((&screen["kind"], &screen["length"]), (&"strip".into(), &102.0.into()));
    let [own, load] = [&screen["figures"], &screen["loads"][0]["figures"]].map(figures);
    let near = |found: f64, wanted: f64| assert!((found / wanted - 1.0).abs() < 1e-4, "{found}");
    near(own("width"), 131.0);
    near(own("modulus"), 1397.333);
    near(load("moment"), 187_616.25);
    near(load("stress"), 134.267);
    near(load("deflection"), 0.092_389);
    near(screen["loads"][0]["share"].as_f64().unwrap(), 134.267 / 235.0);
}

/// By hand: half of the roof's 1.5 kN/m2 on half of the inside width of 2352 mm is 0.882 N/mm; over
/// a door of 923.5 mm that is w L² / 8 = 94027 N mm, one and a half times for stress. Half of the
/// roof test's 3000 N over 600 mm gives P (2 L - a) / 8 = 233812.5 N mm.
#[test]
fn the_head_of_a_door_bears_its_share_as_worked_by_hand() {
    let near = |found: f64, wanted: f64| assert!((found / wanted - 1.0).abs() < 1e-4, "{found}");
    for spec in ["lab-door.toml", "kelp-hall-door.toml"] {
        let kit = kit_json(spec, ("", ""));
        let loads = &kit["screens"][0]["loads"];
        near(figures(&loads[0]["figures"])("moment"), 1.5 * 94_027.0);
        near(figures(&loads[1]["figures"])("moment"), 233_812.5);
    }
}
