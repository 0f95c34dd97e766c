//! What the shop charges.

use super::row::Row;

/// The shop's rates, in its currency.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    /// The currency as it is printed: `EUR`.
    pub currency: String,
    /// Sheet by material: id, and price of a kilogram.
    pub materials: Vec<(String, f64)>,
    /// An hour of the laser.
    pub laser_hour: f64,
    /// One bend.
    pub bend: f64,
    /// One fastener, whatever its kind.
    pub fastener: f64,
    /// Handling and packing of one order.
    pub handling: f64,
    /// On top of all of these, percent.
    pub margin_percent: f64,
    /// The price is a whole multiple of this; 0 for cents.
    pub rounding: f64,
    /// How many days a quote holds where the spec does not say.
    pub valid_days: usize,
}

/// Greatest rate; more is a slip.
const MOST: f64 = 1e6;

pub(super) fn rates(row: &mut Row<'_, '_>) -> Rates {
    Rates {
        currency: row.text("currency"),
        materials: row.each("material", |row| (row.text("id"), row.number_in("per_kg", 0.0, MOST))),
        laser_hour: row.number_in("laser_hour", 0.0, MOST),
        bend: row.number_in("bend", 0.0, MOST),
        fastener: row.number_in("fastener", 0.0, MOST),
        handling: row.number_in("handling", 0.0, MOST),
        margin_percent: row.number_in("margin_percent", 0.0, 1000.0),
        rounding: row.number_in("rounding", 0.0, MOST),
        valid_days: row.count("valid_days"),
    }
}

impl Rates {
    /// Price of a kilogram of a material.
    pub fn per_kg(&self, material: &str) -> Option<f64> {
        self.materials.iter().find(|(id, _)| id == material).map(|(_, rate)| *rate)
    }
}
