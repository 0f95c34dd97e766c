//! What stands in the rack, and what the laser does with it: sheets, remnants, cutting speeds.

/// A rectangle of a sheet where nothing may lie: a clamp, a damaged place. [x0, y0, x1, y1] in mm
/// from the sheet's lower left corner, x along the first side.
pub type Blocked = [f64; 4];

/// A size of sheet in stock. On the laser x runs along the longer side, and so does the grain.
#[derive(Debug, Clone, PartialEq)]
pub struct StockSheet {
    /// Ids of the materials it is stocked in.
    pub materials: Vec<String>,
    /// Thicknesses it is stocked in, mm; empty for all.
    pub thicknesses: Vec<f64>,
    /// Shorter side, mm.
    pub width: f64,
    /// Longer side, mm.
    pub length: f64,
    /// What a kilogram costs, in the shop's money; none where it is not known.
    pub price_per_kg: Option<f64>,
    /// How many there are of each thickness; none for as many as are needed.
    pub count: Option<u32>,
    /// Where nothing may lie; x along the longer side.
    pub blocked: Vec<Blocked>,
}

impl StockSheet {
    /// Whether it is stocked in this material and thickness.
    pub fn serves(&self, material: &str, thickness: f64) -> bool {
        (self.materials.is_empty() || self.materials.iter().any(|id| id == material))
            && (self.thicknesses.is_empty()
                || self.thicknesses.iter().any(|t| same_thickness(*t, thickness)))
    }
}

/// What is left of a sheet, kept to be used before whole ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Remnant {
    /// As it is marked in the rack.
    pub name: String,
    /// Id of its material.
    pub material: String,
    /// Thickness, mm.
    pub thickness: f64,
    /// Sides along x and y, mm; the grain runs along x.
    pub size: [f64; 2],
    /// Where nothing may lie.
    pub blocked: Vec<Blocked>,
}

/// Whether two thicknesses are of one sheet: mills roll within more than this.
pub fn same_thickness(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.05
}

/// How fast the laser cuts some materials.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingSpeeds {
    /// Ids of the materials; empty for all.
    pub materials: Vec<String>,
    /// Rows by ascending thickness.
    pub rows: Vec<SpeedRow>,
    /// Where they come from.
    pub source: String,
}

/// The laser in one thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedRow {
    /// Thickness, mm.
    pub thickness: f64,
    /// Cutting speed, mm/s.
    pub speed: f64,
    /// Time for one pierce, s.
    pub pierce: f64,
}

impl CuttingSpeeds {
    /// The row of a thickness, straight between two rows, and the nearest one beyond the table.
    pub fn at(&self, thickness: f64) -> Option<SpeedRow> {
        let after = self.rows.iter().position(|row| thickness <= row.thickness);
        match after {
            None => self.rows.last().copied(),
            Some(0) => self.rows.first().copied(),
            Some(i) => {
                let (low, high) = (self.rows[i - 1], self.rows[i]);
                let share = (thickness - low.thickness) / (high.thickness - low.thickness);
                let between = |a: f64, b: f64| a + (b - a) * share;
                Some(SpeedRow {
                    thickness,
                    speed: between(low.speed, high.speed),
                    pierce: between(low.pierce, high.pierce),
                })
            }
        }
    }
}

/// How sheets are laid out and cut.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetWork {
    /// Moves between cuts, mm/s.
    pub rapid: f64,
    /// Etching, mm/s.
    pub etch: f64,
    /// Loading and unloading one sheet, s.
    pub handling: f64,
    /// Contours nearer than this are not cut one after the other where it can be helped, mm.
    pub heat_distance: f64,
    /// How long the laser waits between two such contours where it cannot be helped, s.
    pub heat_pause: f64,
    /// What one person lifts, kg.
    pub lift: f64,
    /// Shortest side of a remnant worth keeping, mm.
    pub keep: f64,
    /// Where these come from.
    pub source: String,
    /// Lines from the pierce in the waste to the contour; none: not drawn.
    pub lead_in: Option<Extra>,
    /// Marks where the outline stays whole to hold the part; none: not drawn.
    pub tab: Option<Extra>,
    /// Cuts that divide what is left of the sheet; none: not drawn.
    pub skeleton: Option<Extra>,
}

/// Something drawn for the laser on a layer of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct Extra {
    /// Its layer.
    pub layer: super::LayerStyle,
    /// Length of a lead-in, width of a tab, or distance of a skeleton's cut from parts, mm.
    pub size: f64,
    /// Distance from one to the next, mm; 0 for lead-ins.
    pub every: f64,
}
