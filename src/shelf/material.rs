//! Sheet materials and their gauge tables.

use std::sync::Arc;

/// A sheet material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Key in the data file: `galvanized-dx51d`.
    pub id: String,
    /// As it is ordered and printed.
    pub title: String,
    /// kg/m3.
    pub density: f64,
    /// Lowest tensile strength, N/mm2: chooses the class of least bend radii.
    pub tensile: f64,
    /// Highest tensile strength, N/mm2: for the brake's force.
    pub tensile_max: f64,
    /// Lowest yield strength, N/mm2, where the standard names one.
    pub yield_strength: Option<f64>,
    /// Usual yield strength, N/mm2, for springback alone: an estimate where the standard names
    /// none.
    pub usual_yield: Option<f64>,
    /// Young's modulus, N/mm2.
    pub modulus: f64,
    /// Inside radius of an air bend as a share of the die's opening.
    pub radius_per_opening: f64,
    /// Least inside radius as a multiple of the thickness; none where DIN 6935 rules.
    pub least_radius: Option<f64>,
    /// Whether its sheets have a grain along their longer side, which parts keep to.
    pub grain: bool,
    /// What a kilogram costs, in the shop's money; none where it is not known.
    pub price_per_kg: Option<f64>,
    /// The gauge table this material is bought by.
    pub gauges: Arc<GaugeTable>,
    /// Where the values come from.
    pub source: String,
}

/// A gauge system: number to thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeTable {
    /// Key in the data file.
    pub id: String,
    /// As it is printed.
    pub title: String,
    /// Gauge numbers, ascending, with the thickness in mm.
    pub rows: Vec<(u32, f64)>,
    /// Where the values come from.
    pub source: String,
}

impl Material {
    /// Thickness in mm of a gauge in this material's own system.
    pub fn gauge_mm(&self, gauge: u32) -> Option<f64> {
        self.gauges.rows.iter().find(|(number, _)| *number == gauge).map(|(_, mm)| *mm)
    }
}
