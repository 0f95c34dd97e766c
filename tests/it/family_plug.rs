//! The fork pocket closure against ISO 1496-1's annex (from memory): pockets of 355 by 115 at
//! least, their centres 2050 within 50 apart.

use crate::family::{drawn, faults, spec};

fn plug(container: &str, rest: &str) -> String {
    spec("pocket-plug", &format!("[container]\ntype = \"{container}\"\nwall = \"left\"\n\n{rest}"))
}

/// Least and greatest coordinate of a face of one instance.
fn along(kit: &crate::family::Drawn, part: &str, face: &str, at: (usize, usize)) -> [f64; 2] {
    let corners = kit.corners(part, face, at.0).into_iter().map(|corner| corner[at.1]);
    corners.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
}

#[test]
fn plugs_and_clips_stand_within_the_pockets_of_the_standard() {
    let kit = drawn(&plug("20ft", ""));
    for (instance, centre) in [(0, -1025.0), (1, 1025.0)] {
        let x = along(&kit, "plug", "front", (instance, 0));
        assert!(centre - 177.5 < x[0] && x[1] < centre + 177.5, "{x:?} about {centre}");
        assert!((f64::midpoint(x[0], x[1]) - centre).abs() < 1e-6);
        let cheek = along(&kit, "retaining-clip-left", "cheek", (instance, 0));
        assert!(centre - 177.5 < cheek[0] && cheek[1] < x[0], "{cheek:?} beside {x:?}");
    }
    let z = along(&kit, "plug", "front", (0, 2));
    assert!(z[1] - z[0] < 115.0 - 6.0 && z[1] - z[0] > 115.0 - 10.0);
}

/// Bottom rail: 162 high from the base, which stands 12.5 above the fittings' underside; under the
/// pocket is a strap of 20 at least.
#[test]
fn the_plug_lies_in_the_rail_behind_its_face() {
    let kit = drawn(&plug("20ft", ""));
    let [low, high] = along(&kit, "plug", "front", (0, 2));
    let top = kit.value("wall.bottom");
    assert!(top - 162.0 + 20.0 < low && high < top - 4.0);
    assert!(along(&kit, "plug", "front", (0, 1))[0] >= 16.0);
}

#[test]
fn the_clips_keep_out_of_a_sills_apron() {
    let kit = drawn(&plug("20ft", "[apron]\ndepth = 40\n"));
    let foot = kit.extent("retaining-clip-left", "foot", 2);
    assert!(foot[1] < kit.value("wall.bottom") - 40.0);
    let without = drawn(&plug("20ft", "[apron]\ndepth = 0\n"));
    assert!(without.extent("retaining-clip-left", "foot", 2)[1] > foot[1]);
}

#[test]
fn a_box_without_pockets_asks_for_their_measures() {
    let told = faults(&plug("40ft", ""));
    assert!(!told.is_empty());
    let measured = "[pocket]\nwidth = 360\nheight = 115\ncentres = 2050\nbottom = -136\n";
    drawn(&plug("40ft", measured));
}

/// A screw needs rail round it; over the pocket there is none.
#[test]
fn a_screw_into_the_rail_where_the_pocket_is_open_is_told() {
    let beside = plug("20ft", "");
    assert!(faults(&beside).is_empty());
    // The pocket of the container is 355 wide; clips for one of 300 would be screwed to air.
    let narrow = faults(&plug("20ft", "[pocket]\nwidth = 300\n"));
    assert!(narrow.iter().any(|fault| fault.starts_with("fit.into")), "{narrow:#?}");
}
