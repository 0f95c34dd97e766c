//! Force and springback of an air bend.

use crate::shelf::{Brake, Material, Shop};

/// Where [`air_bending_force`] comes from.
pub const FORCE_SOURCE: &str =
    "F = C Rm t² L / V, common handbook form of the air-bending force; C from the shop's data";

/// Force of an air bend in N: `C Rm t² L / V` with the shop's factor C and the material's highest
/// tensile strength Rm; `length` and `opening` in mm.
pub fn air_bending_force(
    brake: &Brake,
    material: &Material,
    thickness: f64,
    length: f64,
    opening: f64,
) -> f64 {
    brake.force_factor * material.tensile_max * thickness * thickness * length / opening
}

/// A sheet springs back from the inside radius `loaded` to a larger one: textbook formula
/// `Ri / Rf = 4 x³ - 3 x + 1` with `x = Ri Y / (E t)`, plane-strain approximation. Past x = 1/2,
/// where the formula ends, the sheet springs back wholly.
pub fn radius_after(loaded: f64, thickness: f64, yield_strength: f64, modulus: f64) -> f64 {
    let x = loaded * yield_strength / (modulus * thickness);
    if 0.5 <= x { f64::INFINITY } else { loaded / (4.0 * x * x * x - 3.0 * x + 1.0) }
}

/// By how many degrees a bend springs back, and where that comes from: what the shop has measured
/// at 90 degrees, in proportion to the angle, else the textbook formula for the radius with the
/// length of the neutral line kept.
pub fn springback(
    shop: &Shop,
    material: &Material,
    thickness: f64,
    (angle, radius): (f64, f64),
) -> (f64, String) {
    if let Some((at_90, note)) = shop.measured_springback(material, thickness, radius) {
        return (at_90 * angle / 90.0, format!("shop table: {note}"));
    }
    let (strength, which) = match (material.yield_strength, material.usual_yield) {
        (Some(given), _) => (given, "lowest yield strength"),
        (None, Some(usual)) => (usual, "usual yield strength"),
        (None, None) => (material.tensile, "tensile strength, for want of a yield strength"),
    };
    let loaded = radius_before(radius, thickness, strength, material.modulus);
    let middle = |radius: f64| radius + thickness / 2.0;
    let degrees = angle * (middle(radius) / middle(loaded) - 1.0);
    (
        degrees,
        format!("Ri/Rf = 4x³ - 3x + 1, x = Ri Y/(E t), textbook; Y = {strength} N/mm², {which}"),
    )
}

/// The radius under load that springs back to `radius`: [`radius_after`] grows with it, so the
/// interval is halved.
fn radius_before(radius: f64, thickness: f64, yield_strength: f64, modulus: f64) -> f64 {
    let (mut low, mut high) = (0.0, radius);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if radius < radius_after(middle, thickness, yield_strength, modulus) {
            high = middle;
        } else {
            low = middle;
        }
    }
    (low + high) / 2.0
}
