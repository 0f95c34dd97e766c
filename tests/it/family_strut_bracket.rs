//! Strut brackets against the trade: every fourth corrugation is 1112 mm, two struts side by side
//! in the middle of a wall with an even number of inner flats, the same on both sides.

use blankwright::note::Severity;
use serde_json::Value;

use crate::family::told;
use crate::law_joints::all_coaxial;

fn spec(container: &str, wall: &str, more: &str) -> String {
    format!(
        "kit = \"OTS-0820\"\ntemplate = \"strut-bracket\"\nrevision = \"A\"\ndate = \"2026-11-20\"\n\
         title = \"Struts\"\n\n[container]\ntype = \"{container}\"\nwall = \"{wall}\"\n{more}\n"
    )
}

fn drawn(spec: &str) -> Value {
    let (notes, kit) = told(spec);
    kit.unwrap_or_else(|| panic!("{spec}\n{notes:#?}"))
}

/// Middles of the brackets' columns, X in the site, ascending.
fn columns(kit: &Value) -> Vec<f64> {
    let places = kit["parts"][0]["places"].as_array().unwrap();
    let width = kit["values"]["hat.width"].as_f64().unwrap();
    let mut all: Vec<f64> =
        places.iter().map(|p| p[0][3].as_f64().unwrap() + width / 2.0).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|b, a| *b - *a < 1e-6);
    all
}

/// A 20 ft wall has 21 outer and so 20 inner flats: struts stand in the two beside the middle and
/// on every fourth to both sides, 4 x 278 = 1112 mm apart (for 4 ft light fittings).
#[test]
fn struts_stand_on_every_fourth_corrugation_two_in_the_middle() {
    let kit = drawn(&spec("20ft", "left", ""));
    let columns = columns(&kit);
    let wanted = [-2363.0, -1251.0, -139.0, 139.0, 1251.0, 2363.0];
    assert_eq!(columns.len(), wanted.len(), "{columns:?}");
    columns.iter().zip(wanted).for_each(|(x, w)| assert!((x - w).abs() < 1e-6, "{columns:?}"));
    let all = kit["parts"][0]["quantity"].as_u64().unwrap();
    assert_eq!(all, 6 * kit["values"]["layout.rows"].as_f64().unwrap() as u64);
}

/// An end wall has 9 outer and so 8 inner flats, 250 mm apart.
#[test]
fn an_end_wall_takes_them_too() {
    let kit = drawn(&spec("40ft", "front-end", "[layout]\nevery = 2\n[foam]\nthickness = 60"));
    assert_eq!(columns(&kit), [-625.0, -125.0, 125.0, 625.0]);
}

/// With an odd number of inner flats one strut stands in the middle. The survey gives 20 outer
/// flats where 21 would be: the wall's own count decides.
#[test]
fn an_odd_wall_has_one_in_the_middle() {
    let centres: Vec<String> = (0..18).map(|i| format!("{}", 226 + 278 * i)).collect();
    let survey = format!(
        "[container.survey]\nfrom = \"left\"\nlength = 5734\ncentres = [{}]\n\
         [foam]\nthickness = 50",
        centres.join(", ")
    );
    let kit = drawn(&spec("20ft", "left", &survey));
    let inner = kit["values"]["wall.inner_flats"].as_f64().unwrap();
    let columns = columns(&kit);
    assert_eq!(inner % 2.0, 1.0, "{inner}");
    assert_eq!(columns.len() as f64, kit["values"]["layout.columns"].as_f64().unwrap());
    assert_eq!(columns.len() % 2, 1);
    let middle = columns[columns.len() / 2];
    for (a, b) in columns.iter().zip(columns.iter().rev()) {
        assert!((a + b - 2.0 * middle).abs() < 1e-6, "{columns:?}");
    }
}

/// The count in the template's own words agrees with what stands, for any spacing.
#[test]
fn counts_agree_with_what_stands() {
    for container in ["20ft", "40ft-high-cube"] {
        for every in 1..=9 {
            for first in [0, 1, 3] {
                let more = format!("[layout]\nevery = {every}\nfirst = {first}");
                let kit = drawn(&spec(container, "right", &more));
                all_coaxial(&kit);
                let count = kit["values"]["layout.columns"].as_f64().unwrap();
                assert_eq!(columns(&kit).len() as f64, count, "{more}");
            }
        }
    }
}

/// The strut's back stands the foam's thickness off the inner flats, whose room side lies at
/// 36 + 1.6 mm; flush brackets lie on them.
#[test]
fn brackets_stand_off_by_the_foam_or_lie_flush() {
    for (foam, part, deepest) in [(75.0, "bracket-stand", 112.6), (0.0, "bracket", 39.6)] {
        let kit = drawn(&spec("40ft", "left", &format!("[foam]\nthickness = {foam}")));
        assert_eq!(kit["parts"].as_array().unwrap().len(), 1);
        assert_eq!(kit["parts"][0]["name"], part);
        let place = &kit["parts"][0]["places"][0];
        let thickness = kit["parts"][0]["thickness"].as_f64().unwrap();
        let room_side = place[1][3].as_f64().unwrap() + thickness;
        assert!((room_side - deepest).abs() < 1e-6, "{room_side}");
    }
}

/// What goes through the wall's skin is closed at its end, as the notes say; the notes count the
/// fixings of rails, two each, that the kit does not hold.
#[test]
fn rivets_through_the_wall_are_closed_and_rails_have_their_fixings() {
    for foam in [0, 50] {
        let kit = drawn(&spec(
            "20ft",
            "left",
            &format!("[light]\nrails = 2\n[foam]\nthickness = {foam}"),
        ));
        let fasteners = kit["fasteners"].as_array().unwrap();
        let ids: Vec<&str> = fasteners.iter().map(|f| f["id"].as_str().unwrap()).collect();
        assert_eq!(ids, ["rivet-4.8-closed"]);
        assert!(fasteners[0]["title"].as_str().unwrap().contains("closed end"));
        let notes: Vec<&str> =
            kit["notes"].as_array().unwrap().iter().map(|n| n.as_str().unwrap()).collect();
        let rails = kit["lengths"][0]["pieces"][1]["count"].as_u64().unwrap();
        let bolts = format!("{} bolts M8 with channel nuts for the rails", 2 * rails);
        assert!(notes.iter().any(|note| note.contains(&bolts)), "{bolts}: {notes:#?}");
    }
}

/// Uprights and rails are all in the cutting list, once each.
#[test]
fn the_cutting_list_has_every_strut_and_rail() {
    let kit = drawn(&spec("20ft", "left", "[light]\nrails = 2"));
    let list = &kit["lengths"][0];
    let pieces = list["pieces"].as_array().unwrap();
    let count = |i: usize| pieces[i]["count"].as_u64().unwrap();
    // Six uprights of 2395 - 80; four gaps of four corrugations, two rails in each.
    assert_eq!((count(0), count(1)), (6, 8));
    assert_eq!(pieces[0]["length"].as_f64().unwrap(), 2315.0);
    assert!((pieces[1]["length"].as_f64().unwrap() - 1153.3).abs() < 1e-9);
    for (i, _) in pieces.iter().enumerate() {
        let bars = list["bars"].as_array().unwrap().iter();
        assert_eq!(bars.map(|bar| bar["cuts"][i].as_u64().unwrap()).sum::<u64>(), count(i));
    }
    assert!(list["bound"].as_f64().unwrap() <= list["total"].as_f64().unwrap());
}

#[test]
fn wide_spacing_short_stands_and_heavy_loads_are_told() {
    let find = |more: &str, rule: &str, severity: Severity| {
        let (notes, _) = told(&spec("20ft", "left", more));
        let hit = notes.iter().any(|f| f.subject == rule && f.severity == severity);
        assert!(hit, "{more}: {notes:#?}");
    };
    find("[layout]\nevery = 5", "light-spacing", Severity::Warning);
    // Struts stand 4 x 278 = 1112 mm apart; a fitting has its fixings 25 mm from its ends.
    find("[light]\nlength = 1161.9", "light-spacing", Severity::Warning);
    let (notes, _) = told(&spec("20ft", "left", "[light]\nlength = 1162.1"));
    assert!(notes.iter().all(|f| f.subject != "light-spacing"), "{notes:#?}");
    find("[bracket]\nstand = 12", "stand", Severity::Error);
    find("[bracket]\nstand = 30", "foam-stand", Severity::Warning);
    find("[strut]\nload = 1000", "bracket-load", Severity::Error);
    find("[layout]\nfirst = 10", "columns", Severity::Error);
}
