//! The window family against what stands outside it: the corrugation, the trade's falls, and the
//! size of the unit that must pass.

use crate::family::{drawn, faults, spec};

/// A window in a wall; `foam` in mm.
fn window(container: &str, wall: &str, foam: f64) -> String {
    let rest = format!(
        "[container]\ntype = \"{container}\"\nwall = \"{wall}\"\n\n[opening]\nclear_width = 800\n\
         clear_height = 900\nsill_height = 1000\n\n[foam]\nthickness = {foam:?}\n\n\
         [unit]\ndepth = 50\nset_back = 5\n"
    );
    spec("window", &rest)
}

#[test]
fn the_unit_passes_between_the_jambs_and_the_sill_and_the_head() {
    for (container, wall) in [("20ft", "left"), ("40ft-high-cube", "right"), ("40ft", "front-end")]
    {
        let kit = drawn(&window(container, wall, 50.0));
        let left = kit.extent("jamb-left", "web", 0)[1];
        let right = kit.extent("jamb-right", "web", 0)[0];
        assert!(800.0 <= right - left, "{left} to {right}");
        let ridge = kit.extent("sill", "slope", 2)[1];
        let head = kit.extent("head", "soffit", 2)[0];
        // The bend at the ridge stands a little higher than the flat of the slope.
        assert!(head - ridge >= 900.0 && head - ridge < 901.0, "{ridge} to {head}");
        assert!((head - 1900.0).abs() < 1e-6);
    }
}

/// Common practice for sills: a fall of 1:20 at least (from memory).
#[test]
fn the_sill_falls_outward_and_the_teeth_with_it() {
    let kit = drawn(&window("20ft", "left", 50.0));
    for (part, face) in [("sill", "slope"), ("head-drip", "tooth_1"), ("pocket-closer", "tooth_1")]
    {
        let fall = kit.fall(part, face);
        assert!(1.0 / 20.0 < fall && fall < 1.0 / 5.0, "{part}: {fall}");
    }
}

/// Side wall: 72 + 68 + 70 + 68 = 278, depth 36; sheet 1.6 (generic dry-freight values).
#[test]
fn the_foam_passes_behind_the_inner_legs() {
    let with = drawn(&window("20ft", "left", 50.0));
    let inner_flats = 36.0 + 1.6;
    assert!((with.extent("jamb-left", "inner", 1)[0] - inner_flats - 50.0).abs() < 1e-6);
    assert!((with.extent("head", "inner", 1)[0] - inner_flats - 50.0).abs() < 1e-6);
    assert!((with.extent("sill", "inner", 1)[0] - inner_flats - 50.0).abs() < 1e-6);
    let without = drawn(&window("20ft", "left", 0.0));
    assert!(without.extent("jamb-left", "inner", 1)[0] > inner_flats + 1.0);
}

/// A tooth stands between the outer flats, in a pocket as deep as the corrugation.
#[test]
fn the_teeth_reach_the_bottom_of_the_pockets_but_for_the_clearance() {
    for (wall, depth) in [("left", 36.0), ("front-end", 45.6)] {
        let kit = drawn(&window("20ft", wall, 50.0));
        for part in ["head-drip", "pocket-closer"] {
            let reach = kit.extent(part, "tooth_1", 1)[1];
            assert!(depth - 2.5 < reach && reach < depth - 1.5, "{part} in {wall}: {reach}");
        }
    }
}

#[test]
fn the_aprons_ends_cover_the_lower_corners_of_the_cut() {
    let kit = drawn(&window("40ft", "left", 50.0));
    let apron = kit.extent("sill", "apron", 0);
    assert!(apron[0] < -kit.value("cut.width") / 2.0 - 25.0);
    let [low, high] = kit.extent("sill", "apron", 2);
    assert!(low < kit.value("cut.bottom") - 30.0 && kit.value("cut.bottom") < high);
}

#[test]
fn a_unit_deeper_than_the_frame_is_refused() {
    let deep = window("20ft", "left", 0.0).replace("depth = 50", "depth = 90");
    let faults = faults(&deep);
    assert!(faults.iter().any(|fault| fault.starts_with("require unit-depth")), "{faults:#?}");
}
