//! Walls laid out, nominal and by survey.

use blankwright::note::{Notes, Severity};
use blankwright::resolve::{SurveyFit, WallLayout, lay_out};
use blankwright::shelf::{Container, WallName};
use blankwright::spec::{self, Spec};
use proptest::prelude::*;

use crate::shelf::shelf;

fn container(id: &str) -> Container {
    shelf().container(id).unwrap().clone()
}

fn spec(from: &str, more: &str, centres: &[f64]) -> Spec {
    let text = format!(
        "kit = \"SKB-0914\"\ntemplate = \"overhead-door\"\nrevision = \"A\"\ndate = \"2025-03-14\"\n\
         [container]\ntype = \"20ft\"\n[container.survey]\nfrom = \"{from}\"\n{more}\n\
         centres = {centres:?}\n"
    );
    let mut notes = Notes::default();
    let spec = spec::parse("survey.toml", &text, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    spec.unwrap()
}

fn surveyed(from: &str, more: &str, centres: &[f64]) -> (Option<WallLayout>, Notes) {
    let spec = spec(from, more, centres);
    let mut notes = Notes::default();
    let wall = lay_out(&container("20ft"), WallName::Left, Some(&spec), &mut notes);
    (wall, notes)
}

fn fit(wall: &WallLayout) -> &SurveyFit {
    wall.survey.as_ref().unwrap()
}

fn codes(notes: &Notes) -> Vec<&'static str> {
    notes.all().iter().map(|f| f.check).collect()
}

#[test]
fn a_nominal_wall_between_its_rails() {
    let mut notes = Notes::default();
    let wall = lay_out(&container("40ft-high-cube"), WallName::Left, None, &mut notes).unwrap();
    assert!(notes.is_empty());
    assert_eq!(wall.pitch, 278.0);
    assert_eq!(wall.outer_flat_centres.len(), 43);
    assert_eq!(wall.outer_flat_centres[0], 96.0);
    assert_eq!(wall.outer_flat_centres[42], 11868.0 - 96.0);
    // Bottom rail 12.5 above the fittings' underside and 162 high, floor at 170; top rail 60 under
    // the inside height of 2698.
    assert_eq!(wall.edges, [12.5 + 162.0 - 170.0, 2638.0]);
    assert_eq!(wall.ceiling, 2698.0);
    assert_eq!(wall.rail_inside, 60.0);
    let rail = wall.members.iter().find(|m| m.name == "top side rail").unwrap();
    assert_eq!((rail.low.y, rail.high.y, rail.low.z, rail.high.z), (0.0, 60.0, 2638.0, 2698.0));
    assert!(!rail.hollow);
    for member in &wall.members {
        let low = member.low.x < member.high.x && member.low.y < member.high.y;
        assert!(low && member.low.z < member.high.z, "{member:?}");
    }
}

#[test]
fn the_tunnel_lies_at_the_front_end_of_either_wall() {
    let high_cube = container("40ft-high-cube");
    let tunnel = |name: WallName| {
        let wall = lay_out(&high_cube, name, None, &mut Notes::default()).unwrap();
        let tunnel = wall.members.into_iter().find(|m| m.hollow).unwrap();
        assert_eq!(tunnel.name, "gooseneck tunnel");
        [tunnel.low, tunnel.high].map(|p| [p.x, p.y, p.z])
    };
    // 11868 between posts of 162: the container's ends at -162 and 12030; ground at -170. Across
    // 2432 between the walls' outer faces.
    let y = [(2432.0 - 1029.0) / 2.0, (2432.0 + 1029.0) / 2.0];
    let left = [[-162.0, y[0], -170.0], [3353.0 - 162.0, y[1], -50.0]];
    assert_eq!(tunnel(WallName::Left), left);
    let right = [[12030.0 - 3353.0, y[0], -170.0], [12030.0, y[1], -50.0]];
    assert_eq!(tunnel(WallName::Right), right);
    // Seen from the front: in the middle of 2114.
    assert_eq!(tunnel(WallName::FrontEnd)[0][0], (2114.0 - 1029.0) / 2.0);
}

#[test]
fn pockets_of_a_20_ft_are_2050_apart() {
    let wall = lay_out(&container("20ft"), WallName::Right, None, &mut Notes::default()).unwrap();
    let pockets: Vec<_> = wall.members.iter().filter(|m| m.name == "fork pocket").collect();
    assert_eq!(pockets.len(), 2);
    assert_eq!(pockets[1].low.x - pockets[0].low.x, 2050.0);
    assert!(pockets.iter().all(|p| p.hollow && p.high.x - p.low.x == 355.0));
    // Within the bottom rail.
    let rail = wall.members.iter().find(|m| m.name == "bottom side rail").unwrap();
    assert!(pockets.iter().all(|p| rail.low.z < p.low.z && p.high.z < rail.high.z));
}

#[test]
fn the_door_end_has_no_wall() {
    let mut notes = Notes::default();
    assert!(lay_out(&container("20ft"), WallName::DoorEnd, None, &mut notes).is_none());
    assert_eq!(codes(&notes), ["wall.no-wall"]);
}

#[test]
fn exact_readings_give_pitch_and_phase_back() {
    // Every third flat of a wall with pitch 279 and its first flat at 80.
    let centres: Vec<f64> = (0..21).step_by(3).map(|k| 80.0 + 279.0 * f64::from(k)).collect();
    let (wall, notes) = surveyed("left", "", &centres);
    assert!(notes.is_empty(), "{notes:#?}");
    let wall = wall.unwrap();
    let fit = fit(&wall);
    assert!((fit.pitch - 279.0).abs() < 1e-9 && (fit.first - 80.0).abs() < 1e-9);
    assert!(fit.spread < 1e-9);
    // 80 + 279 * 20 = 5660, half a flat more is 5696, within 5734.
    assert_eq!(wall.outer_flat_centres.len(), 21);
    assert_eq!(
        fit.readings.iter().map(|r| r.flat.unwrap()).collect::<Vec<_>>(),
        [0, 3, 6, 9, 12, 15, 18]
    );
    // The inner flats take the difference, so that the corrugation adds up to the pitch.
    assert!((wall.corrugation.pitch() - 279.0).abs() < 1e-9);
    assert_eq!(wall.corrugation.outer_flat, 72.0);
}

#[test]
fn least_squares_by_hand() {
    // Residuals 1, -2, 1 on k = 0, 1, 2 about 87 + 278 k are orthogonal to 1 and k: the fit is
    // unmoved and the residuals are those. Spread sqrt(6 / 3).
    let (wall, _) = surveyed("left", "", &[88.0, 363.0, 644.0]);
    let wall = wall.unwrap();
    let fit = fit(&wall);
    assert!((fit.pitch - 278.0).abs() < 1e-9 && (fit.first - 87.0).abs() < 1e-9, "{fit:?}");
    let residuals: Vec<f64> = fit.readings.iter().map(|r| r.residual).collect();
    for (found, expected) in residuals.iter().zip([1.0, -2.0, 1.0]) {
        assert!((found - expected).abs() < 1e-9);
    }
    assert!((fit.spread - 2f64.sqrt()).abs() < 1e-9);
    assert!(fit.readings.iter().all(|r| !r.outlier));
}

#[test]
fn readings_from_the_right_post_are_turned_round() {
    let from_left: Vec<f64> = (0..21).step_by(4).map(|k| 80.0 + 279.0 * f64::from(k)).collect();
    let length = 5730.0;
    let from_right: Vec<f64> = from_left.iter().map(|x| length - x).collect();
    let (left, _) = surveyed("left", "length = 5730", &from_left);
    let (right, notes) = surveyed("right", "length = 5730", &from_right);
    assert!(notes.is_empty(), "{notes:#?}");
    let (left, right) = (left.unwrap(), right.unwrap());
    assert_eq!(right.length, length);
    for (a, b) in left.outer_flat_centres.iter().zip(&right.outer_flat_centres) {
        assert!((a - b).abs() < 1e-9);
    }
}

#[test]
fn an_outlier_is_flagged_at_its_place_and_left_out() {
    let mut centres: Vec<f64> = (0..21).step_by(2).map(|k| 87.0 + 278.0 * f64::from(k)).collect();
    centres[4] += 12.0;
    let (wall, notes) = surveyed("left", "", &centres);
    let wall = wall.unwrap();
    assert_eq!(codes(&notes), ["survey.outlier"]);
    let finding = &notes.all()[0];
    assert_eq!(finding.severity, Severity::Warning);
    assert!((finding.measure.unwrap().found - 12.0).abs() < 1e-9);
    let spec = spec("left", "", &centres);
    let place = finding.place.clone().unwrap();
    assert_eq!(place.span, spec.container.unwrap().survey.unwrap().centres[4].span);
    assert!((fit(&wall).pitch - 278.0).abs() < 1e-9);
    assert!(fit(&wall).readings[4].outlier);
    assert_eq!(fit(&wall).readings.iter().filter(|r| r.outlier).count(), 1);
}

#[test]
fn scatter_of_a_millimetre_is_no_outlier() {
    let noise = [0.8, -0.6, 0.3, -1.0, 0.5, 0.9, -0.7, 0.1, -0.4, 1.0, -0.9];
    let centres: Vec<f64> =
        noise.iter().enumerate().map(|(i, e)| 87.0 + 556.0 * i as f64 + e).collect();
    let (wall, notes) = surveyed("left", "", &centres);
    assert!(notes.is_empty(), "{notes:#?}");
    assert!((fit(&wall.unwrap()).pitch - 278.0).abs() < 0.1);
}

#[test]
fn readings_that_are_no_wall_are_refused() {
    for (centres, code) in [
        (vec![], "survey.few"),
        (vec![87.0, 95.0, 365.0], "survey.same-flat"),
        (vec![87.0, 365.0, 5800.0], "survey.off-wall"),
        // A pitch of 250: an end wall's.
        ((0..10).map(|k| 87.0 + 250.0 * f64::from(k)).collect(), "survey.pitch"),
        // Half of them measured to inner flats.
        (vec![87.0, 504.0, 643.0, 1060.0, 1199.0, 1616.0, 1755.0, 2172.0], "survey.scatter"),
    ] {
        let (wall, notes) = surveyed("left", "", &centres);
        assert!(wall.is_none(), "{centres:?}");
        assert!(notes.has_errors());
        assert!(codes(&notes).contains(&code), "{centres:?}: {notes:#?}");
        assert!(notes.all().iter().all(|f| f.place.is_some()));
    }
}

#[test]
fn few_readings_warn_of_the_far_end() {
    // One reading sets the phase alone; two neighbours carry the pitch over twenty flats.
    let (wall, notes) = surveyed("left", "", &[90.0]);
    assert_eq!(wall.unwrap().outer_flat_centres[1], 368.0);
    assert_eq!(codes(&notes), ["survey.few"]);
    let (wall, notes) = surveyed("left", "", &[90.0, 369.0]);
    assert!((fit(&wall.unwrap()).pitch - 279.0).abs() < 1e-9);
    assert_eq!(codes(&notes), ["survey.reach"]);
}

#[test]
fn a_flat_half_on_a_post_is_not_counted() {
    // First reading at 20: its flat would begin at -16.
    let centres: Vec<f64> = (0..20).map(|k| 20.0 + 278.0 * f64::from(k)).collect();
    let (wall, notes) = surveyed("left", "", &centres);
    assert!(notes.is_empty(), "{notes:#?}");
    let wall = wall.unwrap();
    assert_eq!(wall.outer_flat_centres[0], 298.0);
    assert_eq!(fit(&wall).readings[0].flat, None);
    assert_eq!(fit(&wall).readings[1].flat, Some(0));
    let last = wall.outer_flat_centres.last().unwrap();
    assert!(last + 36.0 <= wall.length && wall.length < last + 36.0 + 278.0);
}

proptest! {
    #[test]
    fn noise_and_one_bad_reading_do_not_move_the_wall(
        pitch in 272.0f64..284.0,
        first in 40.0f64..110.0,
        noise in proptest::collection::vec(-0.6f64..0.6, 10),
        bad in 0usize..10,
        off in prop_oneof![-60.0f64..-8.0, 8.0f64..60.0],
    ) {
        let mut centres: Vec<f64> = noise.iter().enumerate()
            .map(|(i, e)| first + 2.0 * pitch * i as f64 + e)
            .collect();
        centres[bad] += off;
        prop_assume!(centres.iter().all(|c| 0.0 < *c && *c < 5734.0));
        let (wall, notes) = surveyed("left", "", &centres);
        prop_assert_eq!(codes(&notes), vec!["survey.outlier"]);
        let wall = wall.unwrap();
        // Least squares over 9 readings good to 0.6 mm: well under a millimetre anywhere between
        // them.
        for (i, _) in noise.iter().enumerate() {
            let true_centre = first + 2.0 * pitch * i as f64;
            let near = wall.outer_flat_centres.iter().map(|c| (c - true_centre).abs());
            prop_assert!(near.fold(f64::MAX, f64::min) < 1.2);
        }
        prop_assert!(fit(&wall).readings[bad].outlier);
        prop_assert!((fit(&wall).readings[bad].residual - off).abs() < 2.0);
    }
}
