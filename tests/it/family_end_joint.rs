//! The end joint against figures from outside: ISO 668's lengths, the trade's gap, four bolts a
//! cover, crossed slots, a strip in bending worked by hand, shims by hand.

use blankwright::kit::{HoleShape, JointMember};
use blankwright::note::Severity;
use blankwright::units::{cos_deg, sin_deg};
use serde_json::Value;

use crate::family::told;
use crate::law_joints::all_coaxial;
use crate::law_stock::{Made, make_spec};

/// A joint of two boxes; `more` comes after the container.
fn spec(container: &str, more: &str) -> String {
    format!(
        "kit = \"OTS-0810\"\ntemplate = \"end-joint\"\nrevision = \"A\"\ndate = \"2026-11-20\"\n\
         title = \"Joint\"\n\n[container]\ntype = \"{container}\"\n{more}\n"
    )
}

fn drawn(spec: &str) -> Value {
    let (notes, kit) = told(spec);
    kit.unwrap_or_else(|| panic!("{spec}\n{notes:#?}"))
}

fn value(kit: &Value, name: &str) -> f64 {
    kit["values"][name].as_f64().unwrap_or_else(|| panic!("no value {name}"))
}

/// Findings that refuse, by check and subject.
fn errors(spec: &str) -> Vec<(String, String)> {
    let (notes, _) = told(spec);
    let bad = notes.into_iter().filter(|f| f.severity == Severity::Error);
    bad.map(|f| (f.check.to_string(), f.subject)).collect()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

/// 2 x 6058 + 76 = 12192: two 20 ft boxes on joining fittings stand where a 40 ft one does (ISO 668
/// lengths); 2 x 12192 + 76 = 24460. The lengths' tolerances, 0/-6 and 0/-10, add to the gap.
#[test]
fn gap_and_lengths_add_up_to_the_standard() {
    for (container, whole, most) in [("20ft", 12192.0, 88.0), ("40ft", 24460.0, 96.0)] {
        let kit = drawn(&spec(container, ""));
        near(
            value(&kit, "near.length") + value(&kit, "ends.gap") + value(&kit, "far.length"),
            whole,
        );
        near(value(&kit, "ends.gap_most"), most);
    }
}

/// Aperture centre to aperture centre across the gap: 76 + 2 x 101.5 = 279 = 11985 - 2 x 5853
/// (ISO 668 annex A). The keep-outs over the top apertures stand there.
#[test]
fn the_fittings_apertures_are_kept_free_where_the_standard_has_them() {
    let kit = drawn(&spec("20ft", ""));
    let middle = |name: &str| {
        let all = kit["keep_outs"].as_array().unwrap();
        let found = all.iter().find(|k| k["name"] == name).expect(name);
        (found["low"][0].as_f64().unwrap() + found["high"][0].as_f64().unwrap()) / 2.0
    };
    let [far, near_box] =
        ["far", "near"].map(|b| middle(&format!("top aperture, left fitting of the {b} box")));
    near(far - near_box, 279.0);
}

/// Every pair of ends, every box, foam or none: drawn without an error.
#[test]
fn all_pairs_of_ends_fit_in_all_boxes() {
    let ends = ["door-end", "front-end"];
    let pairs: Vec<_> = ends.iter().flat_map(|near| ends.map(|far| (near, far))).collect();
    for container in ["20ft", "40ft", "40ft-high-cube"] {
        for (near, far) in &pairs {
            for foam in [0, 100] {
                let more = format!(
                    "[joint]\nnear = \"{near}\"\nfar = \"{far}\"\n[foam]\nthickness = {foam}"
                );
                all_coaxial(&drawn(&spec(container, &more)));
            }
        }
    }
}

/// The site's axes that a slot of a hole runs along, in the place of its pair.
fn slot_axis(made: &Made, member: &JointMember) -> [f64; 3] {
    let JointMember::Hole { part, place, hole } = member else { panic!("a hole") };
    let it = &made.kit.parts[*part];
    let (face, hole) = it
        .faces
        .iter()
        .enumerate()
        .find_map(|(i, f)| Some((i, f.holes.iter().find(|h| h.id == *hole)?)))
        .unwrap();
    let HoleShape::Slot(width, _, direction) = hole.shape else { panic!("a slot") };
    assert!((width - 25.4 * 9.0 / 32.0).abs() < 1e-9, "9/32 in: slides 1/4 in, pilot of 5/16 in");
    let pose = made.folded[*part].faces[face].then(&it.places[*place]);
    let along = pose.x_axis * cos_deg(direction) + pose.y_axis * sin_deg(direction);
    [along.x.abs(), along.y.abs(), along.z.abs()]
}

/// One half is slotted along the joint, upright, the other across it; both slots of a bolt lie in
/// the seam's plane, square to the containers.
#[test]
fn the_slots_of_the_two_halves_cross() {
    let made = make_spec(&spec("40ft", ""));
    let joints = made.kit.joints.iter().filter(|joint| joint.name.starts_with("halves"));
    let mut count = 0;
    for pair in joints.flat_map(|joint| &joint.pairs) {
        let axes = [slot_axis(&made, &pair[0]), slot_axis(&made, &pair[1])];
        for (axis, wanted) in axes.iter().zip([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0]]) {
            axis.iter().zip(wanted).for_each(|(a, w)| near(*a, w));
        }
        count += 1;
    }
    assert!(count >= 16, "{count} bolts in two seams");
}

/// A cover comes off with four bolts, as the trade has it: two into each half.
#[test]
fn every_corner_cover_has_four_bolts() {
    let made = make_spec(&spec("20ft", ""));
    for name in ["cover-top", "cover-bottom"] {
        let cover = made.kit.parts.iter().position(|part| part.name == name).unwrap();
        assert_eq!(made.kit.parts[cover].places.len(), 2);
        for standing in 0..2 {
            let is_here = |member: &JointMember| match member {
                JointMember::Hole { part, place, .. } => [*part, *place] == [cover, standing],
                JointMember::Into(_) => false,
            };
            let pairs = made.kit.joints.iter().flat_map(|joint| &joint.pairs);
            assert_eq!(pairs.filter(|pair| pair.iter().any(is_here)).count(), 4, "{name}");
        }
    }
}

/// By hand, 20 ft: edges 2 x 41 + 12 = 94 apart at the widest; 500 kg: M = 4905 x 94 / 4 =
/// 115 267.5 N mm; strip 80 + 47 = 127; sigma = 6 M / (127 x 8 x 8) = 85.088 N/mm2;
/// sag = 4905 x 94^3 / (48 x 210000 x 127 x 512 / 12).
#[test]
fn the_threshold_bends_as_worked_by_hand() {
    let kit = drawn(&spec("20ft", "[wheel]\nload = 500"));
    near(value(&kit, "plate.span"), 94.0);
    near(value(&kit, "plate.stress"), 6.0 * 115_267.5 / (127.0 * 64.0));
    near(
        value(&kit, "plate.sag"),
        4905.0 * 94.0_f64.powi(3) / (48.0 * 210_000.0 * 127.0 * 512.0 / 12.0),
    );
}

#[test]
fn too_heavy_a_wheel_and_too_short_slots_are_refused() {
    let refused = |more: &str, rule: &str| {
        let errors = errors(&spec("20ft", more));
        assert!(errors.contains(&("require".into(), rule.into())), "{more}: {errors:?}");
    };
    refused("[wheel]\nload = 2000", "wheel-stress");
    refused("[side]\nslot = 14", "slot-adjustment");
    refused("[survey]\nside_step = 9", "slot-adjustment");
    refused("[survey]\nnear_top_left = 30\nfar_top_left = 30", "post-edge");
    refused("[joint]\nnear = \"front-end\"\nstub = 30\nstand = 20", "stand-off");
}

/// Boxes of other heights cannot be joined; a 20 ft and a 40 ft box of one height can.
#[test]
fn only_boxes_of_one_height_are_joined() {
    let unlike = errors(&spec("20ft", "other = \"40ft-high-cube\""));
    assert_eq!(unlike, [("ends.unlike".to_string(), "container.other".to_string())]);
    let kit = drawn(&spec("20ft", "other = \"40ft\""));
    near(value(&kit, "far.length"), 12192.0);
    near(value(&kit, "ends.gap_most"), 76.0 + 6.0 + 10.0);
}

/// Ends out of square, set together until the first corner meets: top left stands back 3 + 1 = 4,
/// top right 2, bottom left 0, bottom right 2. Bottom left meets first, the others are packed with
/// one plate of 3 mm and five of 1 mm.
#[test]
fn shims_make_up_for_ends_out_of_square() {
    let survey =
        "[survey]\nnear_top_left = 3\nnear_top_right = 2\nfar_top_left = 1\nfar_bottom_right = 2";
    let kit = drawn(&spec("40ft", survey));
    let shims = ["top_left", "top_right", "bottom_left", "bottom_right"];
    assert_eq!(shims.map(|corner| value(&kit, &format!("shim.{corner}"))), [4.0, 2.0, 0.0, 2.0]);
    assert_eq!([value(&kit, "shim.threes"), value(&kit, "shim.ones")], [1.0, 5.0]);
}

/// The nearest fork pocket of a 20 ft box begins 3029 - 1025 - 177.5 = 1826.5 mm from its end; the
/// threshold keeps away from it. A 40 ft box has none.
#[test]
fn the_threshold_leaves_room_for_pocket_plugs() {
    let kit = drawn(&spec("20ft", ""));
    near(value(&kit, "near.pocket"), 1826.5);
    near(value(&drawn(&spec("40ft", "")), "near.pocket"), 6096.0);
}

/// Both boxes come into kit.json as members, mirrored in the gap where they are alike; no wall is
/// cut.
#[test]
fn the_boxes_stand_alike_on_both_sides_of_the_gap() {
    let kit = drawn(&spec("40ft", ""));
    assert!(kit["wall"].is_null());
    let members = kit["container"]["members"].as_array().unwrap();
    let x = |box_name: &str, key: &str| -> Vec<f64> {
        let mine = members.iter().filter(|m| m["name"].as_str().unwrap().ends_with(box_name));
        let mut all: Vec<f64> = mine.map(|m| m[key][0].as_f64().unwrap()).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let mut mirrored: Vec<f64> = x("far box", "low").iter().map(|x| -x).collect();
    mirrored.sort_by(f64::total_cmp);
    assert_eq!(x("near box", "high"), mirrored);
    assert!(x("near box", "high").iter().all(|x| *x <= -38.0));
}

/// The threshold's screws lie in it: a cone of 82 degrees from 12.9 mm, seen on the blank's own
/// side, the gutter under it plain. A plate of 2 mm cannot take it and is refused.
#[test]
fn screws_under_wheels_are_countersunk() {
    let kit = drawn(&spec("20ft", ""));
    let part = |name: &str| {
        let parts = kit["parts"].as_array().unwrap();
        parts.iter().find(|part| part["name"] == name).unwrap()
    };
    let holes = |name: &str| {
        let all = part(name)["holes"].as_array().unwrap().iter();
        all.filter(|hole| hole["for"] == "wood-screw-14-sunk").collect::<Vec<_>>()
    };
    assert!(!holes("threshold").is_empty());
    for hole in holes("threshold") {
        let sunk = &hole["countersink"];
        near(sunk["diameter"].as_f64().unwrap(), 0.507 * 25.4);
        near(sunk["angle"].as_f64().unwrap(), 82.0);
        assert_eq!(sunk["side"], "upper");
    }
    assert!(holes("inside-floor").iter().all(|hole| hole.get("countersink").is_none()));
    let words = part("threshold")["remarks"].to_string();
    assert!(words.contains("by 82° on the side that the blank shows"), "{words}");
    let thin = errors(&spec("20ft", "[sheet.parts.plate]\nthickness = 2.0"));
    assert!(thin.iter().any(|(check, _)| check == "fit.countersink"), "{thin:?}");
}
