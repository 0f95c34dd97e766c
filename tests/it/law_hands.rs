//! Laws of hands and places: the right hand is the left one reflected in X; a part that stands
//! elsewhere is cut from the same blank and judged the same.

use blankwright::flat::{Blank, Contour};
use blankwright::fold::FoldedPart;
use blankwright::kit::{Hand, Part};
use blankwright::note::Finding;
use blankwright::pipeline::{Built, Want};
use blankwright::release::{Record, kit_json};
use blankwright::section::Strength;
use blankwright::stackup::Report;
use proptest::prelude::*;

use crate::law_parts::{Trial, part, plate};
use crate::law_stock::{Made, build_trial, config, head, made};
use crate::law_turn::{Vector, length, minus};

const NEAR: f64 = 1e-6;

/// Corners of every face and centres of every hole in the site, on both sides of the sheet.
fn spots(part: &Part, folded: &FoldedPart) -> Vec<Vec<Vector>> {
    let faces = part.faces.iter().zip(&folded.faces);
    let spots = |(face, pose): (&blankwright::kit::Face, &_)| {
        let pose = blankwright::geom::Pose::then(pose, &part.places[0]);
        let corners = face.outline.vertices.iter().map(|v| v.at);
        let centres = face.holes.iter().map(|hole| hole.centre);
        let both = corners.chain(centres).flat_map(|p| [0.0, part.thickness].map(|z| (p, z)));
        both.map(|(p, z)| pose.lifted(p, z)).map(|p| [p.x, p.y, p.z]).collect()
    };
    faces.map(spots).collect()
}

fn reflected(spots: &[Vector]) -> Vec<Vector> {
    spots.iter().map(|[x, y, z]| [-x, *y, *z]).collect()
}

/// Whether two sets of points are the same, in any order.
fn same(a: &[Vector], b: &[Vector]) -> bool {
    let has = |set: &[Vector], p: &Vector| set.iter().any(|q| length(minus(*p, *q)) < NEAR);
    a.len() == b.len() && a.iter().all(|p| has(b, p)) && b.iter().all(|p| has(a, p))
}

fn masses(made: &Made) -> Vec<f64> {
    let Made { kit, folded, blanks } = made;
    let record = Record {
        kit,
        folded,
        blanks,
        findings: &[],
        strength: &Strength::default(),
        stackup: &Report::default(),
        site: None,
        bending: &[],
        laid: None,
        files: &[],
    };
    let json: serde_json::Value = serde_json::from_slice(&kit_json(&record)).unwrap();
    json["parts"].as_array().unwrap().iter().map(|p| p["mass_kg"].as_f64().unwrap()).collect()
}

proptest! {
    #![proptest_config(config(96))]

    #[test]
    fn the_right_hand_is_the_left_one_reflected(trial in part()) {
        let made = made(&trial)?;
        let [left, right] = <[_; 2]>::try_from(made.parts().collect::<Vec<_>>()).ok().unwrap();
        prop_assert_eq!((left.0.hand, right.0.hand), (Some(Hand::Left), Some(Hand::Right)));
        for (a, b) in spots(left.0, left.1).iter().zip(&spots(right.0, right.1)) {
            prop_assert!(same(&reflected(a), b));
        }
        for (a, b) in left.0.bends.iter().zip(&right.0.bends) {
            prop_assert_eq!((a.angle, a.sense, a.radius), (b.angle, b.sense, b.radius));
        }
        let (a, b) = (left.2, right.2);
        prop_assert!((a.area - b.area).abs() < NEAR && (a.cut_length - b.cut_length).abs() < NEAR);
        prop_assert!((a.width - b.width).abs() < NEAR && (a.height - b.height).abs() < NEAR);
        prop_assert_eq!(a.pierces, b.pierces);
        let masses = masses(&made);
        prop_assert!((masses[0] - masses[1]).abs() < 1e-9);
        // Steel of 7850 kg/m3.
        prop_assert!((masses[0] - a.area * left.0.thickness * 7.85e-6).abs() < 1e-6);
    }
}

/// A part with a lid riveted to its root, both moved alike.
fn pair(trial: &Trial, by: Vector, [x, y]: [Vector; 2]) -> String {
    let place = format!("at = {by:?}, x = {x:?}, y = {y:?}");
    let z = crate::law_turn::cross(x, y);
    let lift = crate::law_turn::add(by, crate::law_turn::times(z, trial.thickness));
    let one = |text: String| text.replace("hands = \"both\"\n", "");
    let lid = format!(
        "[[parts]]\nname = \"lid\"\ntitle = \"Lid\"\nsheet = \"plate\"\n\
         plate = {{ width = 150, height = 150 }}\n\
         places = [{{ at = {lift:?}, x = {x:?}, y = {y:?} }}]\n\
         [[joints]]\nname = \"lid to piece\"\nfastener = \"rivet-4.8\"\n\
         from = {{ part = \"lid\", face = \"base\" }}\n\
         to = [{{ part = \"piece\", face = \"base\" }}]\n\
         holes = {{ grid = {{ from = [40, 40], to = [110, 120], pitch = [50, 50] }} }}\n"
    );
    head(trial.thickness) + &one(trial.part("piece", &place)) + &lid
}

/// A turn by quaternion as the images of x and y.
fn axes(q: [f64; 4]) -> [Vector; 2] {
    let size = q.iter().map(|c| c * c).sum::<f64>().sqrt();
    let [w, x, y, z] = q.map(|c| c / size);
    [
        [1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y + w * z), 2.0 * (x * z - w * y)],
        [2.0 * (x * y - w * z), 1.0 - 2.0 * (x * x + z * z), 2.0 * (y * z + w * x)],
    ]
}

/// What is told, without where in the site. Of several places that are as deep, rounding chooses.
fn told(built: &Built) -> Vec<(&'static str, String, Option<f64>)> {
    let findings = built.notes.all().iter();
    let text = |f: &Finding| match f.check {
        "fit.clash" | "fit.reach" => f.subject.clone(),
        _ => f.message.clone(),
    };
    // A tool is a prism that turns with its axis, but not about it.
    let depth = |f: &Finding| match f.check {
        "fit.reach" => None,
        _ => f.measure.map(|m| m.found),
    };
    let mut told: Vec<_> = findings
        .map(|f| (f.check, text(f), depth(f).map(|found| (found * 1e4).round() / 1e4)))
        .collect();
    told.sort_by(|a, b| (a.0, &a.1).cmp(&(b.0, &b.1)));
    told
}

fn contours(blank: &Blank) -> Vec<Vector> {
    let hole = |contour: &Contour| match contour {
        Contour::Circle(centre, d) => vec![[centre.x, centre.y, *d]],
        Contour::Loop(path) => path.vertices.iter().map(|v| [v.at.x, v.at.y, v.bulge]).collect(),
    };
    let outer = blank.outer.vertices.iter().map(|v| [v.at.x, v.at.y, v.bulge]);
    outer.chain(blank.inner.iter().flat_map(|inner| hole(&inner.contour))).collect()
}

proptest! {
    #![proptest_config(config(48))]

    #[test]
    fn a_part_that_stands_elsewhere_is_the_same_part(
        trial in plate(),
        by in [-6000.0..6000.0_f64, -900.0..900.0, -200.0..2500.0],
        turn in [0.1..1.0_f64, -1.0..1.0, -1.0..1.0, -1.0..1.0],
    ) {
        let here = pair(&trial, [0.0; 3], [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]);
        let there = pair(&trial, by, axes(turn));
        let (Ok(a), Ok(b)) = (crate::law_stock::make(&here), crate::law_stock::make(&there)) else {
            return Err(TestCaseError::reject("no room"));
        };
        prop_assert_eq!(a.kit.joints[0].pairs.len(), 9);
        for (one, other) in a.blanks.iter().zip(&b.blanks) {
            let (one, other) = (contours(one), contours(other));
            prop_assert_eq!(one.len(), other.len());
            let worst = one.iter().zip(&other).map(|(p, q)| length(minus(*p, *q)));
            prop_assert!(worst.fold(0.0, f64::max) < NEAR);
        }
        let [a, b] = [&here, &there].map(|family| told(&build_trial(family, &Want::Findings)));
        prop_assert_eq!(a, b);
    }
}
