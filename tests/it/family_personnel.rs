//! The hinged door's family against what stands outside it: the leaf, the accessible threshold
//! (2010 ADA Standards 404.2.5 and 303: 13 mm, bevelled 1:2 at most), the corrugation.

use blankwright::units::cos_deg;
use serde_json::Value;

use crate::family::{Drawn, drawn, faults, spec, told};

const SITES: [(&str, &str); 4] =
    [("20ft", "left"), ("40ft", "right"), ("40ft-high-cube", "front-end"), ("20ft", "front-end")];

fn door((container, wall): (&str, &str), rest: &str) -> String {
    let rest = format!("[container]\ntype = \"{container}\"\nwall = \"{wall}\"\n\n{rest}");
    spec("personnel-door", &rest)
}

/// Least and greatest site coordinate of a part's face among all its corners.
fn between(kit: &Drawn, left: &str, right: &str) -> [f64; 2] {
    [kit.extent(left, "web", 0)[1], kit.extent(right, "web", 0)[0]]
}

#[test]
fn the_leaf_goes_in_with_its_gaps_and_the_rough_opening_is_larger() {
    for site in SITES {
        let kit = drawn(&door(site, "[leaf]\nwidth = 915\nheight = 2032\n"));
        let [left, right] = between(&kit, "hinge-jamb", "strike-jamb");
        assert!((right - left - 915.0 - 5.0 - 3.5).abs() < 1e-6, "{left} to {right}");
        let soffit = kit.extent("head", "soffit", 2)[0];
        let ridge = kit.value("threshold.ridge");
        assert!((soffit - ridge - 5.0 - 2032.0 - 3.0).abs() < 1e-6);
        // The cut lets web, play and the bend's inside radius in on each side.
        assert!(kit.value("cut.width") >= right - left + 2.0 * (2.0 + 2.5));
        let cut = kit.value("cut.width") / 2.0;
        assert!(-cut < left && right < cut && soffit < kit.value("cut.top"));
    }
}

#[test]
fn the_threshold_is_accessible_and_falls_outward() {
    for site in SITES {
        let kit = drawn(&door(site, ""));
        for face in ["foot", "ramp", "slope"] {
            let top = kit.extent("threshold", face, 2)[1];
            assert!(top <= 13.0, "{face}: {top}");
        }
        let fall = kit.fall("threshold", "slope");
        assert!(fall > 0.0, "{fall}");
        let rise = -kit.fall("threshold", "ramp");
        assert!(0.0 < rise && rise <= 0.5, "{rise}");
        // The edge on the room side: the sheet alone, under 6.4 mm.
        assert!(kit.extent("threshold", "foot", 2)[1] <= 6.4);
        // It passes over what is left of the wall on the rail.
        let over = kit.corners("threshold", "slope", 0).into_iter().filter(|c| c[1] > 0.0);
        let lowest = over.map(|c| c[2]).fold(f64::INFINITY, f64::min);
        assert!(lowest > kit.value("cut.bottom") + 1.5, "{lowest}");
    }
}

#[test]
fn a_stub_of_wall_makes_the_threshold_too_high() {
    let told = faults(&door(SITES[0], "[threshold]\nstub = 6\n"));
    assert!(told.iter().any(|fault| fault.starts_with("require threshold")), "{told:#?}");
}

#[test]
fn the_hinges_stand_on_the_side_that_is_asked_for() {
    for (side, sign) in [("left", -1.0), ("right", 1.0)] {
        let kit = drawn(&door(SITES[1], &format!("[door]\nhinge = \"{side}\"\n")));
        assert_eq!(kit.quantity("hinge-plate"), 3);
        for part in ["hinge-jamb", "hinge-stop"] {
            let face = if part == "hinge-jamb" { "web" } else { "foot" };
            let [low, high] = kit.extent(part, face, 0);
            assert!(sign * low > 400.0 && sign * high > 400.0, "{part} at {side}: {low} {high}");
        }
        let strike = kit.extent("strike-plate", "plate", 0);
        assert!(sign * strike[1] < -400.0, "{strike:?}");
    }
}

#[test]
fn plates_lie_on_the_backs_of_the_webs_where_the_leaf_is() {
    let kit = drawn(&door(SITES[2], ""));
    for (plate, jamb) in [("hinge-plate", "hinge-jamb"), ("strike-plate", "strike-jamb")] {
        let back = kit.extent(jamb, "web", 0).map(f64::abs);
        let on = kit.extent(plate, "plate", 0).map(f64::abs);
        let (web, plate_near) = (back[0].max(back[1]), on[0].min(on[1]));
        assert!((web - plate_near).abs() < 1e-6, "{web} {plate_near}");
        let deep = kit.extent(plate, "plate", 1);
        assert!(0.0 < deep[0] && deep[1] < kit.value("stop.y") + 1.0, "{deep:?}");
    }
    // The middle of the strike lies in the middle of the leaf's edge: 2 + 45 / 2 behind the flats.
    let strike = kit.extent("strike-plate", "plate", 2);
    assert!((f64::midpoint(strike[0], strike[1]) - 1000.0).abs() < 1e-6);
}

/// The end wall's corrugation is deeper and nearly square: 45.6 over 18 against 36 over 68.
#[test]
fn the_head_drips_teeth_are_deeper_and_squarer_in_the_end_wall() {
    let tooth = |site| {
        let kit = drawn(&door(site, ""));
        let x = kit.extent("head-drip", "tooth_1", 0);
        let y = kit.extent("head-drip", "tooth_1", 1);
        let inner = kit.corners("head-drip", "tooth_1", 0);
        let tip = inner.iter().filter(|c| c[1] > y[1] - 1.0).map(|c| c[0]);
        let [low, high] = tip
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)]);
        (y[1], (high - low) / (x[1] - x[0]))
    };
    let (side, end) = (tooth(SITES[0]), tooth(SITES[3]));
    assert!((side.0 - 34.0).abs() < 0.5 && (end.0 - 43.6).abs() < 0.5, "{side:?} {end:?}");
    assert!(side.1 < 0.5 && 0.7 < end.1, "{side:?} {end:?}");
}

/// The leaf turns outward about pins in its outside, at its hinged edge: the way of its middle is
/// an arc about them, as wide as the leaf, and through the angle that is asked for.
#[test]
fn the_leaf_swings_outward_about_its_hinges() {
    for (hinge, swing) in [("left", 90.0), ("left", 110.0), ("right", 110.0), ("right", 130.0)] {
        let door = door(SITES[0], &format!("[door]\nhinge = \"{hinge}\"\nswing = {swing}\n"));
        let kit = drawn(&door);
        let keep_out = |name: &str| {
            let all = kit.keep_outs();
            all.iter().find(|k| k["name"].as_str().unwrap().starts_with(name)).unwrap()
        };
        let leaf = keep_out("leaf, closed");
        let number = |value: &Value| value.as_f64().unwrap();
        let pin = [number(&leaf[if hinge == "left" { "low" } else { "high" }][0]), 2.0];
        let width = number(&leaf["high"][0]) - number(&leaf["low"][0]);
        let way = keep_out("swing");
        let path: Vec<[f64; 2]> =
            (0..3).map(|i| [0, 1].map(|axis| number(&way["path"][i][axis]))).collect();
        let leg = |i: usize| [path[i + 1][0] - path[i][0], path[i + 1][1] - path[i][1]];
        let long = |[x, y]: [f64; 2]| (x * x + y * y).sqrt();
        for (start, [x, y]) in [(path[0], leg(0)), (path[1], leg(1))] {
            let off = [pin[0] - start[0], pin[1] - start[1]];
            let aside = (x * off[1] - y * off[0]).abs() / long([x, y]);
            assert!((aside - width / 2.0 - 1.0).abs() < 1e-6, "{hinge} {swing}: {aside}");
        }
        let [[ax, ay], [bx, by]] = [leg(0), leg(1)];
        let cosine = (ax * bx + ay * by) / long([ax, ay]) / long([bx, by]);
        assert!((cosine - cos_deg(swing)).abs() < 1e-9 && ay < 0.0, "{hinge} {swing}: {cosine}");
        assert_eq!(number(&way["size"][1]), width);
    }
}

/// What is walked and rolled over has no head that stands more than 2.5 mm proud: a third of the
/// 6.4 mm that may stand upright in an accessible way (2010 ADA Standards 303.2), rounded up.
#[test]
fn heads_on_what_is_walked_over_are_low() {
    let shelf = &crate::law_stock::STOCK.shelf;
    for family in ["personnel-door", "overhead-door", "curtain-door", "doorway-stop", "end-joint"] {
        let end = ["doorway-stop", "end-joint"].contains(&family);
        let wall = match family {
            "doorway-stop" => "wall = \"door-end\"\n\n[floor]\nthickness = 40\n",
            _ if end => "",
            _ => "wall = \"left\"\n",
        };
        let (notes, kit) =
            told(&spec(family, &format!("[container]\ntype = \"40ft-high-cube\"\n{wall}")));
        let kit = kit.unwrap_or_else(|| panic!("{family}: {notes:#?}"));
        let crossed = ["threshold", "sill", "floor-stop"];
        let parts = kit["parts"].as_array().unwrap().iter();
        let crossed: Vec<&Value> =
            parts.filter(|part| crossed.contains(&part["name"].as_str().unwrap())).collect();
        assert!(!crossed.is_empty(), "{family}");
        let holes = crossed.iter().flat_map(|part| part["holes"].as_array().unwrap());
        let screws: Vec<&str> = holes
            .map(|hole| hole["for"].as_str().unwrap())
            .filter(|purpose| purpose.starts_with("wood-screw"))
            .collect();
        assert!(!screws.is_empty(), "{family}");
        for screw in screws {
            let height = shelf.fastener(screw).unwrap().head_height;
            assert!(height <= 2.5, "{family}: {screw} stands {height} mm proud");
        }
    }
}
