//! The vent family: rain must find no level way in, air the area that is promised.

use crate::family::{drawn, faults, spec};

fn vent(wall: &str, rest: &str) -> String {
    let rest = format!(
        "[container]\ntype = \"40ft-high-cube\"\nwall = \"{wall}\"\n\n[opening]\n\
         clear_width = 620\nsill_height = 1500\n\n[foam]\nthickness = 50\n\n{rest}"
    );
    spec("vent", &rest)
}

/// Z range of a face of one blade.
fn height(kit: &crate::family::Drawn, face: &str, blade: usize) -> [f64; 2] {
    let heights = kit.corners("blade", face, blade).into_iter().map(|corner| corner[2]);
    heights.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], z| [low.min(z), high.max(z)])
}

#[test]
fn no_level_way_leads_between_two_blades() {
    for wall in ["left", "front-end"] {
        let kit = drawn(&vent(wall, "[blade]\ncount = 6\n"));
        assert_eq!(kit.quantity("blade"), 6);
        for blade in 0..5 {
            let back = height(&kit, "back", blade)[1];
            let next = height(&kit, "nose", blade + 1)[0];
            assert!(next + 5.0 <= back, "blade {blade}: back to {back}, next nose from {next}");
        }
    }
}

#[test]
fn the_blades_fill_the_opening_from_sill_to_head() {
    let kit = drawn(&vent("left", "[blade]\ncount = 4\n"));
    let sill = kit.extent("sill", "slope", 2);
    let first = height(&kit, "nose", 0)[0];
    assert!(sill[0] < first && first - sill[0] < 8.0, "{sill:?} {first}");
    let head = kit.extent("head", "soffit", 2)[0];
    let last = height(&kit, "back", 3)[1];
    assert!(last < head && head - last < 8.0, "{last} {head}");
}

/// Gap square to two slats at 45 degrees and 60 apart: 60 / sqrt(2) less one sheet of 1.5.
#[test]
fn the_free_area_is_what_stands_open_between_the_slats() {
    let kit = drawn(&vent("left", "[blade]\ncount = 6\npitch = 60\nangle = 45\n"));
    let between = kit.extent("jamb-right", "web", 0)[0] - kit.extent("jamb-left", "web", 0)[1];
    let area = 5.0 * (60.0 / std::f64::consts::SQRT_2 - 1.5) * (between - 1.0);
    assert!((kit.value("blade.free_area") - area).abs() < 1.0);
}

#[test]
fn blades_too_far_apart_let_rain_in_and_a_small_vent_is_told() {
    let wide = faults(&vent("left", "[blade]\npitch = 75\n"));
    assert!(wide.iter().any(|fault| fault.starts_with("require rain")), "{wide:#?}");
    let small = faults(&vent("left", "[vent]\nfree_area = 5000\n"));
    assert!(small.iter().any(|fault| fault.starts_with("require free-area")), "{small:#?}");
}
