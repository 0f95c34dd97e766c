//! How this shop bends: the die for a thickness, the radius that die makes, the neutral factor.

use super::bending::{DIN_6935, least_radius, neutral_factor, preferred_radius};
use super::{BendEntry, BendRule, BendSource, Die, Material, Shop};

/// How far a sheet may differ from a measured one and still count as the same, mm: half of what
/// separates a 14 ga galvanized sheet (1.994 mm) from a 2.1 mm one, and under any rolling
/// tolerance.
const SAME_THICKNESS: f64 = 0.05;

/// How far a radius may differ from a measured one, mm.
const SAME_RADIUS: f64 = 0.05;

impl Shop {
    /// How a bend is made when nothing but the angle (deviation from flat, degrees) is asked for.
    ///
    /// The die is the narrowest whose opening reaches the shop's share of the thickness. An air
    /// bend over it takes a radius that is a share of the opening (common practice, by material);
    /// the preferred radius of DIN 6935 nearest to that is asked for, and never one under the
    /// least.
    pub fn bend(&self, material: &Material, thickness: f64, angle: f64) -> BendRule {
        let opening = self.opening(thickness);
        let (least, _) = least(material, thickness, angle);
        if let Some(entry) = self.measured(material, thickness, |e| e.opening == opening) {
            return self.rule(material, (thickness, angle), entry.radius, opening);
        }
        let radius = preferred_radius(material.radius_per_opening * opening, least);
        self.rule(material, (thickness, angle), radius, opening)
    }

    /// How a bend with a given inside radius is made: over the die whose air bend comes nearest.
    pub fn bend_to(&self, material: &Material, bend: (f64, f64), radius: f64) -> BendRule {
        let far = |die: &&Die| (die.opening * material.radius_per_opening - radius).abs();
        let fitting = self.brake.dies.iter().filter(|d| 4.0 * bend.0 <= d.opening);
        let nearest = fitting.min_by(|a, b| far(a).total_cmp(&far(b)));
        let opening = nearest.map_or_else(|| self.opening(bend.0), |die| die.opening);
        self.rule(material, bend, radius, opening)
    }

    /// The opening of the narrowest die that reaches the shop's share of the thickness, else of the
    /// widest, mm.
    pub fn opening(&self, thickness: f64) -> f64 {
        let wanted = self.brake.opening_per_thickness * thickness;
        let reaches = |die: &&Die| wanted <= die.opening + SAME_THICKNESS;
        let dies = &self.brake.dies;
        dies.iter().find(reaches).or(dies.last()).map_or(wanted, |die| die.opening)
    }

    /// Springback measured on this shop's brake at 90 degrees, in degrees, with the note of the
    /// measurement.
    pub fn measured_springback(
        &self,
        material: &Material,
        thickness: f64,
        radius: f64,
    ) -> Option<(f64, &str)> {
        let near =
            |e: &BendEntry| (e.radius - radius).abs() <= SAME_RADIUS && e.springback.is_some();
        let entry = self.measured(material, thickness, near)?;
        Some((entry.springback?, &entry.note))
    }

    fn rule(&self, material: &Material, bend: (f64, f64), radius: f64, opening: f64) -> BendRule {
        let (thickness, angle) = bend;
        let (least_radius, least_radius_source) = least(material, thickness, angle);
        let near = |entry: &BendEntry| (entry.radius - radius).abs() <= SAME_RADIUS;
        let (k, k_source) = match (self.measured(material, thickness, near), self.bend_source) {
            (Some(entry), _) => (entry.k, format!("shop table: {}", entry.note)),
            (None, BendSource::Din6935) => (neutral_factor(radius, thickness), DIN_6935.to_owned()),
            (None, BendSource::Fixed(k)) => (k, "fixed".to_owned()),
        };
        BendRule {
            radius,
            k,
            k_source,
            opening,
            least_radius,
            least_radius_source,
            least_leg: self.brake.leg_per_opening * opening,
        }
    }

    fn measured(
        &self,
        material: &Material,
        thickness: f64,
        fits: impl Fn(&BendEntry) -> bool,
    ) -> Option<&BendEntry> {
        self.bends.iter().find(|entry| {
            entry.material == material.id
                && (entry.thickness - thickness).abs() <= SAME_THICKNESS
                && fits(entry)
        })
    }
}

/// Least inside radius of a material, mm, and where it comes from.
fn least(material: &Material, thickness: f64, angle: f64) -> (f64, String) {
    if let Some(share) = material.least_radius {
        return (share * thickness, format!("{} thicknesses, {}", share, material.source));
    }
    match least_radius(material.tensile, thickness, angle) {
        Some(radius) => {
            (radius, format!("{DIN_6935}, across rolling, tensile {} N/mm2", material.tensile))
        }
        None => (2.5 * thickness, "2.5 thicknesses, common practice beyond DIN 6935".to_owned()),
    }
}
