//! The roll-up door against trade facts: a frame without insulation rests on the top rail, a 60 mm
//! square tube; a self-storage door needs 16 in of head room for its coil (common practice).

use crate::family::{drawn, faults, spec};

fn door(container: &str, rest: &str) -> String {
    // The sill of a 20 ft box covers the top of its fork pockets.
    let accept = "\n[[accept]]\ncheck = \"fit.keep-out\"\nreason = \"pockets are closed\"\n";
    let accept = if container == "20ft" { accept } else { "" };
    let rest = format!(
        "[container]\ntype = \"{container}\"\nwall = \"left\"\n\n[opening]\nclear_width = 2000\n\
         {rest}{accept}"
    );
    spec("curtain-door", &rest)
}

#[test]
fn the_inner_legs_lie_on_the_rail() {
    for container in ["20ft", "40ft", "40ft-high-cube"] {
        let kit = drawn(&door(container, "clear_height = 1900\n"));
        for (part, face) in [("side-frame-left", "inner"), ("header", "inner")] {
            let wall_side = kit.extent(part, face, 1)[0];
            assert!((wall_side - 60.0).abs() < 1e-6, "{part} in {container}: {wall_side}");
            assert!(kit.extent(part, face, 2)[1] > kit.value("wall.top") + 30.0);
        }
    }
}

#[test]
fn the_coil_has_head_room_or_the_door_is_refused() {
    // Inside height of the 20 ft box: 2395.
    let kit = drawn(&door("20ft", "clear_height = 1985\n"));
    let soffit = kit.extent("header", "soffit", 2)[0];
    assert!(2395.0 - soffit >= 16.0 * 25.4);
    let faults = faults(&door("20ft", "clear_height = 1990\n"));
    assert!(faults.iter().any(|fault| fault.starts_with("require head-room")), "{faults:#?}");
}

#[test]
fn the_bracket_plates_stand_above_the_opening_on_the_side_frames() {
    let kit = drawn(&door("40ft-high-cube", "clear_height = 2200\n"));
    let plate = kit.extent("bracket-plate-left", "plate", 2);
    assert!(2200.0 <= plate[0], "{plate:?}");
    let across = kit.extent("bracket-plate-left", "plate", 0);
    let leg = kit.extent("side-frame-left", "inner", 0);
    assert!(leg[0] < across[0] && across[1] < leg[1], "{across:?} in {leg:?}");
    // The plate lies on the leg, its back on the leg's room side.
    let (back, room) = (
        kit.extent("bracket-plate-left", "plate", 1)[0],
        kit.extent("side-frame-left", "inner", 1)[1],
    );
    assert!((back - room).abs() < 1e-6);
}

/// Common practice for sills: a fall of 1:20 at least (from memory).
#[test]
fn the_sill_falls_outward_over_what_is_left_of_the_wall() {
    let kit = drawn(&door("20ft", "clear_height = 1900\n"));
    assert!(kit.fall("sill", "slope") > 1.0 / 20.0);
    let over_the_cut = kit
        .corners("sill", "slope", 0)
        .into_iter()
        .filter(|corner| corner[1] > -1.0)
        .map(|corner| corner[2]);
    let lowest = over_the_cut.fold(f64::INFINITY, f64::min);
    assert!(lowest > kit.value("cut.bottom") + 1.5, "{lowest}");
}
