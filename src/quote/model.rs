//! A quote, worked out.

/// A quote for one kit.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// What the price is made of, for the shop alone; empty where the shop has no rates.
    pub rows: Vec<Row>,
    /// The price, cents; none where the shop has no rates, or none for a material.
    pub price: Option<i64>,
    /// Ids of materials that have no rate.
    pub unpriced: Vec<String>,
    /// The currency as it is printed; empty where the shop has no rates.
    pub currency: String,
    /// How many days the quote holds.
    pub valid_days: usize,
    /// The last day it holds, ISO 8601.
    pub valid_until: String,
    /// The customer's address, line by line.
    pub customer: Vec<String>,
    /// What may be ordered besides.
    pub options: Vec<String>,
    /// Mass of all parts, kg.
    pub mass_kg: f64,
    /// Length, width, height of the package, mm: an estimate.
    pub package: [f64; 3],
}

/// What a row of the price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Sheet.
    Material,
    /// The laser's time.
    Cutting,
    /// Bends.
    Bending,
    /// Fasteners with their spares.
    Fasteners,
    /// Handling and packing.
    Handling,
    /// The margin on all rows before it.
    Margin,
    /// Up to the next whole multiple.
    Rounding,
}

/// One row of the price.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is for.
    pub kind: Kind,
    /// Part number, fastener, or words.
    pub item: String,
    /// Ten-thousandths of the unit.
    pub quantity: i64,
    /// `kg`, `h`, `pieces`, `order`, `%` of what stands before.
    pub unit: &'static str,
    /// Ten-thousandths of the currency for one unit.
    pub rate: i64,
    /// Cents.
    pub amount: i64,
    /// What the quantity rests on, in words; empty where it is a count.
    pub basis: String,
}

impl Kind {
    /// The word used in `quote.csv`.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Material => "material",
            Kind::Cutting => "cutting",
            Kind::Bending => "bending",
            Kind::Fasteners => "fasteners",
            Kind::Handling => "handling",
            Kind::Margin => "margin",
            Kind::Rounding => "rounding",
        }
    }
}
