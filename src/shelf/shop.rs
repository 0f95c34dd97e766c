//! The shop: its brake, laser, sheets and habits.

use super::{CuttingSpeeds, Rates, Remnant, SheetWork, SpeedRow, StockSheet, Tolerance};

/// The shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// Legal owner of the drawings.
    pub owner: String,
    /// Press brake.
    pub brake: Brake,
    /// Where neutral factors come from when no measured entry fits.
    pub bend_source: BendSource,
    /// Measured bends, in the order of the file.
    pub bends: Vec<BendEntry>,
    /// Laser.
    pub laser: Laser,
    /// What laser and brake hold.
    pub tolerance: Tolerance,
    /// Layers of the DXF files.
    pub layers: Layers,
    /// Sheets in stock.
    pub sheets: Vec<StockSheet>,
    /// What is left of others.
    pub remnants: Vec<Remnant>,
    /// How many faults were told of entries of the rack; such entries are left out.
    pub rack_faults: usize,
    /// Gaps of a nest.
    pub gaps: Gaps,
    /// How sheets are cut.
    pub sheet_work: SheetWork,
    /// Defaults for drawings.
    pub drawing: Drawing,
    /// What the shop charges; none where its file does not say.
    pub rates: Option<Rates>,
}

impl Shop {
    /// Width and length of the longest blank that a stock sheet and the laser's bed leave room for,
    /// margins kept, mm; none where no such sheet is in stock.
    pub fn largest_blank(&self, material: &str, thickness: f64) -> Option<[f64; 2]> {
        let margin = 2.0 * self.gaps.edge;
        let stocked = self.sheets.iter().filter(|sheet| {
            let of = &sheet.materials;
            (of.is_empty() || of.iter().any(|own| own == material))
                && (sheet.thicknesses.is_empty()
                    || sheet.thicknesses.iter().any(|t| (t - thickness).abs() < 0.05))
        });
        let rooms = stocked.map(|sheet| {
            [
                sheet.width.min(self.laser.bed[0]) - margin,
                sheet.length.min(self.laser.bed[1]) - margin,
            ]
        });
        rooms.max_by(|a, b| a[1].total_cmp(&b[1]).then(a[0].total_cmp(&b[0])))
    }
}

/// Press brake and its tools.
#[derive(Debug, Clone, PartialEq)]
pub struct Brake {
    /// Longest bend, mm.
    pub length: f64,
    /// Distance between ram and bed without tools, mm.
    pub open_height: f64,
    /// From the bending line back to the frame, mm.
    pub throat: f64,
    /// Greatest force, N.
    pub force: f64,
    /// Least and greatest distance of the back gauge from the bending line, mm.
    pub gauge: [f64; 2],
    /// Greatest bend angle (deviation from flat) by air bending, degrees.
    pub angle: f64,
    /// Dies by ascending opening.
    pub dies: Vec<Die>,
    /// Punches in the order in which the shop prefers them.
    pub punches: Vec<Punch>,
    /// Opening of the die in thicknesses that the shop aims at.
    pub opening_per_thickness: f64,
    /// Shortest leg in openings of the die, outside size.
    pub leg_per_opening: f64,
    /// Factor in `force = factor * tensile * t^2 * length / opening`.
    pub force_factor: f64,
    /// What a part keeps from tools, ram and bed, mm.
    pub clearance: f64,
    /// How far a bend may reach past its tools at each end, mm.
    pub uncovered: f64,
    /// Height of the gauge's fingers above the die, mm.
    pub stop_height: f64,
    /// Least length of edge that lies against them, mm.
    pub stop_width: f64,
    /// Closed outline of the ram across the bending line; y = 0 where the punch hangs.
    pub ram: Vec<[f64; 2]>,
    /// Closed outline of the bed; y = 0 where the die stands.
    pub bed: Vec<[f64; 2]>,
    /// Where these come from.
    pub source: String,
}

/// A die with one opening.
#[derive(Debug, Clone, PartialEq)]
pub struct Die {
    /// As the shop calls it.
    pub name: String,
    /// Opening V, mm.
    pub opening: f64,
    /// Included angle, degrees.
    pub angle: f64,
    /// Its shape.
    pub tool: ToolShape,
}

/// A punch.
#[derive(Debug, Clone, PartialEq)]
pub struct Punch {
    /// As the shop calls it.
    pub name: String,
    /// Radius of the nose, mm.
    pub radius: f64,
    /// Included angle of the nose, degrees.
    pub angle: f64,
    /// Its shape.
    pub tool: ToolShape,
}

/// What dies and punches have in common.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolShape {
    /// Closed outline across the bending line, [x, y]: x to the back, y up; [0, 0] is the tip of a
    /// punch's nose, or the middle of a die's opening, level with its shoulders.
    pub outline: Vec<[f64; 2]>,
    /// Lengths of the pieces it is cut into, mm.
    pub segments: Vec<f64>,
    /// What a metre of it bears, N.
    pub force_per_metre: f64,
}

impl ToolShape {
    /// From its origin to the far end, mm: above a punch's tip, below a die's shoulders.
    pub fn height(&self) -> f64 {
        self.outline.iter().map(|[_, y]| y.abs()).fold(0.0, f64::max)
    }
}

/// Where neutral factors come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BendSource {
    /// DIN 6935's formula.
    Din6935,
    /// One factor for all bends.
    Fixed(f64),
}

/// A bend measured on this shop's brake.
#[derive(Debug, Clone, PartialEq)]
pub struct BendEntry {
    /// Id of the material.
    pub material: String,
    /// Sheet thickness, mm.
    pub thickness: f64,
    /// Die opening, mm.
    pub opening: f64,
    /// Inside radius measured, mm.
    pub radius: f64,
    /// Neutral factor.
    pub k: f64,
    /// Springback measured at 90 degrees, degrees; none where only the factor was.
    pub springback: Option<f64>,
    /// Where and when it was measured.
    pub note: String,
}

/// How one bend is made.
#[derive(Debug, Clone, PartialEq)]
pub struct BendRule {
    /// Inside radius, mm.
    pub radius: f64,
    /// Neutral factor: depth of the neutral line over the thickness.
    pub k: f64,
    /// "DIN 6935", "shop table ...", "fixed".
    pub k_source: String,
    /// Opening of the die, mm.
    pub opening: f64,
    /// Least inside radius for the material, mm.
    pub least_radius: f64,
    /// Where the least radius comes from.
    pub least_radius_source: String,
    /// Shortest leg over this die, outside size, mm.
    pub least_leg: f64,
}

/// Laser and its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Laser {
    /// Bed, mm: shorter and longer side.
    pub bed: [f64; 2],
    /// Thickest sheet, mm.
    pub thickest: f64,
    /// Smallest hole in thicknesses.
    pub least_hole: f64,
    /// Narrowest web between two cuts in thicknesses.
    pub least_web: f64,
    /// Width of the cut, mm.
    pub kerf: f64,
    /// Cutting speed for time estimates where no table of speeds serves, mm/s.
    pub speed: f64,
    /// Time for one pierce there, s.
    pub pierce: f64,
    /// Cutting speeds by material and thickness, in the order of the file.
    pub speeds: Vec<CuttingSpeeds>,
}

impl Laser {
    /// Speed and pierce for a material and thickness, and where they come from.
    pub fn cutting(&self, material: &str, thickness: f64) -> (SpeedRow, &str) {
        let serves = |table: &&CuttingSpeeds| {
            table.materials.is_empty() || table.materials.iter().any(|id| id == material)
        };
        let table = self.speeds.iter().find(serves);
        let row = table.and_then(|table| Some((table.at(thickness)?, table.source.as_str())));
        let plain = SpeedRow { thickness, speed: self.speed, pierce: self.pierce };
        row.unwrap_or((plain, "one speed for all (shop file)"))
    }
}

/// Name and colour of one DXF layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayerStyle {
    /// Layer name.
    pub name: String,
    /// DXF colour index, 1 to 255.
    pub colour: u8,
}

/// How bend lines are shown to the laser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BendLines {
    /// From end to end.
    Whole,
    /// As ticks of this length at the two ends, mm.
    Ticks(f64),
    /// Not at all.
    Off,
}

/// The layers of the DXF files.
#[derive(Debug, Clone, PartialEq)]
pub struct Layers {
    /// Outline.
    pub cut_outside: LayerStyle,
    /// Holes and cut-outs.
    pub cut_inside: LayerStyle,
    /// Bends towards the viewer.
    pub bend_up: LayerStyle,
    /// Bends away from the viewer.
    pub bend_down: LayerStyle,
    /// Lettering.
    pub etch: LayerStyle,
    /// The sheet, in nests.
    pub sheet: LayerStyle,
    /// What is neither cut nor etched.
    pub info: LayerStyle,
    /// How bend lines are shown.
    pub bend_lines: BendLines,
}

/// Gaps of a nest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gaps {
    /// Part to part, mm; never less than one thickness.
    pub part: f64,
    /// Part to the sheet's edge, mm.
    pub edge: f64,
}

/// Defaults for drawings.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// General tolerance as printed: `ISO 2768-m`.
    pub tolerance: String,
    /// Whether views are arranged in first-angle projection; third-angle otherwise.
    pub first_angle: bool,
    /// Spare fasteners packed for every hundred needed.
    pub spare_percent: f64,
}

impl Layers {
    /// The names of all layers: cut outside, cut inside, bend up, bend down, etch, sheet, info.
    pub fn names(&self) -> [&str; 7] {
        [
            &self.cut_outside.name,
            &self.cut_inside.name,
            &self.bend_up.name,
            &self.bend_down.name,
            &self.etch.name,
            &self.sheet.name,
            &self.info.name,
        ]
    }
}
