//! Laws of the blank: its area is that of its faces and bend zones without the holes; it runs into
//! itself only where its faces do; profiles are as long as DIN 6935 says, and as long as their legs
//! when the sheet is next to nothing.

#![allow(clippy::disallowed_methods, reason = "an independent hand takes its own tangent")]

use std::f64::consts::PI;

use blankwright::flat::{Blank, Contour};
use blankwright::geom::{BlankFrame, Path};
use blankwright::kit::Part;
use blankwright::pipeline::Want;
use proptest::collection::vec;
use proptest::prelude::*;

use crate::law_fold::declared;
use crate::law_parts::{Leg, Trial, part};
use crate::law_stock::{build_trial, config, made, make_with};

type Corner = (f64, f64, f64);
type Spot = (f64, f64);

fn corners(path: &Path<BlankFrame>) -> Vec<Corner> {
    path.vertices.iter().map(|v| (v.at.x, v.at.y, v.bulge)).collect()
}

/// Area by the trapezoids under the chords and the segments over them; bulge = tan(arc / 4).
pub(crate) fn area(corners: &[Corner]) -> f64 {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let side = |(a, b): (&Corner, &Corner)| {
        let trapezoid = (a.0 - b.0) * (a.1 + b.1) / 2.0;
        let (arc, chord) = (4.0 * a.2.atan(), (b.0 - a.0).hypot(b.1 - a.1));
        if arc == 0.0 {
            return trapezoid;
        }
        let radius = chord / 2.0 / (arc / 2.0).sin();
        trapezoid + radius * radius * (arc - arc.sin()) / 2.0
    };
    sides.map(side).sum()
}

fn hole_area(contour: &Contour) -> f64 {
    match contour {
        Contour::Circle(_, diameter) => PI * diameter.powi(2) / 4.0,
        Contour::Loop(path) => -area(&corners(path)),
    }
}

fn faces(part: &Part, blank: &Blank) -> Vec<Vec<Corner>> {
    let placed = part.faces.iter().zip(&blank.faces);
    placed.map(|(face, map)| corners(&face.outline.mapped(map))).collect()
}

/// The bend zones as rectangles.
fn zones(part: &Part, blank: &Blank) -> Vec<Vec<Corner>> {
    let zone = |(bend, flat): (&_, &blankwright::flat::BlankBend)| {
        let [a, b] = flat.line.map(|p| (p.x, p.y));
        let length = (b.0 - a.0).hypot(b.1 - a.1);
        let half = declared(part, bend).allowance() / 2.0 / length;
        let out = ((b.1 - a.1) * half, (a.0 - b.0) * half);
        let corner = |p: Spot, sign: f64| (p.0 + sign * out.0, p.1 + sign * out.1, 0.0);
        vec![corner(a, -1.0), corner(a, 1.0), corner(b, 1.0), corner(b, -1.0)]
    };
    part.bends.iter().zip(&blank.bends).map(zone).collect()
}

/// Sides of an outline, arcs as short chords.
fn sides(corners: &[Corner]) -> Vec<[Spot; 2]> {
    let mut points: Vec<Spot> = Vec::new();
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let arc = 4.0 * a.2.atan();
        let count = if arc == 0.0 { 1 } else { 24 };
        // The spoke from the arc's centre, turned step by step.
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let reach = if arc == 0.0 { 0.0 } else { 0.5 / (arc / 2.0).tan() };
        let centre = ((a.0 + b.0) / 2.0 - dy * reach, (a.1 + b.1) / 2.0 + dx * reach);
        for step in 0..count {
            let (sin, cos) = (arc * f64::from(step) / f64::from(count)).sin_cos();
            let (x, y) = (a.0 - centre.0, a.1 - centre.1);
            points.push((centre.0 + x * cos - y * sin, centre.1 + x * sin + y * cos));
        }
    }
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| [*a, *b]).collect()
}

/// Distance of a point from the line through a side, signed.
fn off([a, b]: [Spot; 2], p: Spot) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    (dx * (p.1 - a.1) - dy * (p.0 - a.0)) / dx.hypot(dy).max(1e-12)
}

/// Whether two sides cross, each end of each at least a hair off the other.
fn cross(s: [Spot; 2], t: [Spot; 2]) -> bool {
    const HAIR: f64 = 1e-5;
    let apart = |a: f64, b: f64| (a < -HAIR && HAIR < b) || (b < -HAIR && HAIR < a);
    apart(off(s, t[0]), off(s, t[1])) && apart(off(t, s[0]), off(t, s[1]))
}

/// Least distance between a point and a side.
fn distance([a, b]: [Spot; 2], p: Spot) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let share = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-18);
    let share = share.clamp(0.0, 1.0);
    (p.0 - a.0 - dx * share).hypot(p.1 - a.1 - dy * share)
}

/// Whether a point lies inside, farther than a hair from the outline.
fn inside(outline: &[[Spot; 2]], p: Spot) -> bool {
    let crossings = outline.iter().filter(|[a, b]| {
        (a.1 > p.1) != (b.1 > p.1) && p.0 < a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0)
    });
    crossings.count() % 2 == 1 && outline.iter().all(|side| 1e-5 < distance(*side, p))
}

/// Whether two outlines share any of the sheet.
fn overlap(a: &[[Spot; 2]], b: &[[Spot; 2]]) -> bool {
    let middle = |outline: &[[Spot; 2]]| {
        // A point inside: half a hair in from the middle of the longest side.
        let long = |s: &&[Spot; 2]| (s[1].0 - s[0].0).hypot(s[1].1 - s[0].1);
        let [p, q] = *outline.iter().max_by(|s, t| long(s).total_cmp(&long(t))).unwrap();
        let length = (q.0 - p.0).hypot(q.1 - p.1);
        (
            (p.0 + q.0) / 2.0 - (q.1 - p.1) / length * 1e-3,
            (p.1 + q.1) / 2.0 + (q.0 - p.0) / length * 1e-3,
        )
    };
    a.iter().any(|s| b.iter().any(|t| cross(*s, *t)))
        || a.iter().any(|s| inside(b, s[0]))
        || b.iter().any(|t| inside(a, t[0]))
        || inside(b, middle(a))
        || inside(a, middle(b))
}

fn crosses_itself(outline: &[[Spot; 2]]) -> bool {
    (0..outline.len()).any(|i| (0..i).any(|j| cross(outline[i], outline[j])))
}

/// Whether sides that are not neighbours cross or touch.
fn touches_itself(outline: &[[Spot; 2]]) -> bool {
    let n = outline.len();
    let near = |s: [Spot; 2], t: [Spot; 2]| t.iter().any(|p| distance(s, *p) < 1e-5);
    let meet = |i: usize, j: usize| {
        let (s, t) = (outline[i], outline[j]);
        1 < i - j && i - j < n - 1 && (near(s, t) || near(t, s))
    };
    crosses_itself(outline) || (0..n).any(|i| (0..i).any(|j| meet(i, j)))
}

/// Whether two of the part's faces and zones need the same sheet, or a face runs into itself, as
/// where the reliefs of two bends meet at a corner.
fn faces_overlap(part: &Part, blank: &Blank) -> bool {
    let pieces: Vec<Vec<[Spot; 2]>> =
        faces(part, blank).iter().chain(&zones(part, blank)).map(|p| sides(p)).collect();
    pieces.iter().any(|piece| touches_itself(piece))
        || (0..pieces.len()).any(|i| (0..i).any(|j| overlap(&pieces[i], &pieces[j])))
}

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn the_area_is_that_of_faces_and_zones_without_holes(trial in part()) {
        for (part, _, blank) in made(&trial)?.parts() {
            let whole: f64 = faces(part, blank).iter().map(|face| area(face)).sum();
            let zones: f64 = zones(part, blank).iter().map(|zone| area(zone).abs()).sum();
            let holes: f64 = blank.inner.iter().map(|hole| hole_area(&hole.contour)).sum();
            let wanted = whole + zones - holes;
            prop_assert!((blank.area - wanted).abs() < 1e-4, "{} {wanted}", blank.area);
            prop_assert!((area(&corners(&blank.outer)) - whole - zones).abs() < 1e-4);
            let count = part.faces.iter().map(|face| face.holes.len()).sum::<usize>();
            prop_assert_eq!(blank.inner.len(), count);
            prop_assert!(count == 0 || holes > 0.0);
        }
    }

    #[test]
    fn the_blank_runs_into_itself_only_where_its_faces_do(trial in part()) {
        let mut crossing = false;
        for (part, _, blank) in made(&trial)?.parts() {
            let crosses = crosses_itself(&sides(&corners(&blank.outer)));
            prop_assert!(!crosses || faces_overlap(part, blank), "{:?}", corners(&blank.outer));
            crossing |= crosses;
        }
        // What crosses is never released.
        let built = build_trial(&trial.family(), &Want::Findings);
        let told = built.notes.all().iter().any(|finding| finding.check == "fab.outline");
        prop_assert!(!crossing || told, "{:#?}", built.notes);
    }
}

#[test]
fn the_search_for_overlaps_sees_them() {
    let square = |x: f64, y: f64| {
        sides(&[(x, y, 0.0), (x + 10.0, y, 0.0), (x + 10.0, y + 10.0, 0.0), (x, y + 10.0, 0.0)])
    };
    assert!(overlap(&square(0.0, 0.0), &square(5.0, 5.0)));
    assert!(overlap(&square(0.0, 0.0), &square(0.0, 0.0)));
    assert!(!overlap(&square(0.0, 0.0), &square(10.0, 0.0)));
    let bow = sides(&[(0.0, 0.0, 0.0), (10.0, 10.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0)]);
    assert!(crosses_itself(&bow) && !crosses_itself(&square(0.0, 0.0)));
    let round = [(5.0, 0.0, 1.0), (-5.0, 0.0, 1.0)];
    assert!((area(&round) - 25.0 * PI).abs() < 1e-9);
}

/// DIN 6935's compensation as `reference/bending.toml` writes it; beta is the opening angle.
fn din_v(radius: f64, thickness: f64, bend: f64) -> f64 {
    let beta = 180.0 - bend;
    let ratio = radius / thickness;
    let k = if ratio > 5.0 { 1.0 } else { 0.65 + 0.5 * ratio.log10() };
    let arc = PI * (180.0 - beta) / 180.0 * (radius + thickness / 2.0 * k);
    let outer = radius + thickness;
    match beta {
        b if b <= 90.0 => arc - 2.0 * outer,
        b if b <= 165.0 => arc - 2.0 * outer * ((180.0 - b) / 2.0).to_radians().tan(),
        _ => 0.0,
    }
}

#[test]
fn the_tests_own_din_6935_gives_the_handbook_values() {
    // Values of a metalwork table book, and of the formulas on stated inputs.
    let cases = [
        (1.0, 1.0, 90.0, -1.9187),
        (2.5, 1.5, 90.0, -3.1766),
        (6.0, 4.0, 90.0, -8.2566),
        (12.0, 2.0, 90.0, -7.5796),
        (2.5, 2.0, 60.0, -1.8467),
        (4.0, 3.0, 45.0, -1.818),
    ];
    for (radius, thickness, bend, v) in cases {
        assert!((din_v(radius, thickness, bend) - v).abs() < 1e-4, "{radius} {thickness} {bend}");
    }
}

fn straight(legs: Vec<Leg>, thickness: f64) -> Trial {
    let square = |leg: Leg| Leg { ends: [(0.0, 0.0); 2], ..leg };
    Trial {
        thickness,
        legs: legs.into_iter().map(square).collect(),
        root: 0,
        sides: [900.0, 0.0],
        flanges: [None, None, None, None],
        extras: false,
        corner: None,
    }
}

/// Profiles of up to five bends from 15 degrees on, where DIN 6935 compensates.
fn bent() -> impl Strategy<Value = Trial> {
    let angle = prop_oneof![15.0..90.0_f64, Just(90.0), 90.0..150.0_f64];
    let leg = (crate::law_parts::leg(), angle).prop_map(|(leg, angle)| Leg { angle, ..leg });
    (vec(leg, 2..=6), 0.8..3.0_f64).prop_map(|(legs, t)| straight(legs, t))
}

proptest! {
    #![proptest_config(config(128))]

    #[test]
    fn profiles_are_as_long_as_din_6935_says(trial in bent()) {
        let made = made(&trial)?;
        let (part, _, blank) = made.parts().next().unwrap();
        let legs: f64 = trial.legs.iter().map(|leg| leg.size).sum();
        let bends = part.bends.iter().map(|b| din_v(b.radius, part.thickness, b.angle));
        let wanted = legs + bends.sum::<f64>();
        let across = blank.width.min(blank.height);
        prop_assert!((across - wanted).abs() < 1e-6, "{across} {wanted}");
        for (bend, leg) in part.bends.iter().zip(&trial.legs[1..]) {
            prop_assert_eq!(bend.angle, leg.angle);
            prop_assert!(leg.radius.is_none_or(|radius| radius == bend.radius));
        }
    }

    #[test]
    fn next_to_no_sheet_takes_the_length_of_its_legs(trial in bent(), thin in 1e-6..1e-3_f64) {
        let trial = Trial {
            legs: trial.legs.into_iter().map(|l| Leg { radius: Some(thin), ..l }).collect(),
            ..trial
        };
        let thinned = make_with(&trial.family(), |resolved| {
            resolved.sheets.get_mut("plate").unwrap().thickness = thin;
        });
        let Ok(made) = thinned else { return Err(TestCaseError::reject("it crosses itself")) };
        let legs: f64 = trial.legs.iter().map(|leg| leg.size).sum();
        let blank = &made.blanks[0];
        // No bend takes more than 2 (r + t) from the length, or adds more than its arc, pi (r + t).
        let bound = 4.0 * PI * thin * trial.legs.len() as f64;
        prop_assert!((blank.width.min(blank.height) - legs).abs() < bound);
        prop_assert!((blank.area - legs * 900.0).abs() < 900.0 * bound);
    }
}
