//! Fasteners with their holes, grips, distances and the tool that sets them.

/// How a fastener works.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FastenerKind {
    /// Set from one side through a hole in both parts.
    BlindRivet,
    /// Drills its own hole into the part behind.
    SelfDrilling,
    /// Cuts its thread into a pilot hole of the part behind.
    ThreadCutting,
    /// Into wood.
    WoodScrew,
    /// With a nut, through clearance holes.
    Bolt,
}

/// A fastener.
#[derive(Debug, Clone, PartialEq)]
pub struct Fastener {
    /// Key in the data file: `rivet-4.8`.
    pub id: String,
    /// As it is ordered and printed, without the length.
    pub title: String,
    /// How it works.
    pub kind: FastenerKind,
    /// Nominal diameter, mm.
    pub diameter: f64,
    /// Holes it needs.
    pub holes: Holes,
    /// Diameter of the head on the side it is set from, mm.
    pub head_diameter: f64,
    /// Height of that head, mm.
    pub head_height: f64,
    /// Diameter, mm, and angle, degrees, of the countersink that the head lies in; none where it
    /// stands on the sheet.
    pub countersink: Option<[f64; 2]>,
    /// Body lengths and what each clamps, ascending.
    pub grips: Vec<GripRange>,
    /// Least distance from the hole's centre to the edge, in diameters.
    pub edge: f64,
    /// Least distance between centres, in diameters.
    pub spacing: f64,
    /// Envelope of the tool that sets it.
    pub tool: Tool,
    /// Where the holes come from.
    pub hole_source: String,
    /// Where the grips come from.
    pub grip_source: String,
    /// Where edge and spacing come from.
    pub edge_source: String,
}

/// Hole diameters, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holes {
    /// Clearance hole as a rule.
    pub normal: f64,
    /// Clearance hole where position matters.
    pub close: f64,
    /// Hole of the sheet under the head where the sheet behind has the fastener's own hole: wide
    /// enough that a row of them passes; none where the clearance hole is.
    pub head: Option<f64>,
    /// Hole in the part that takes the thread, or in which the fastener bites; none where it drills
    /// its own or where both holes are clearance holes.
    pub pilot: Option<f64>,
}

/// What one body length clamps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GripRange {
    /// Body length, mm.
    pub length: f64,
    /// Least thickness, mm.
    pub least: f64,
    /// Greatest thickness, mm.
    pub most: f64,
}

/// The space a fastener needs to be set: cylinders, each a diameter and a length, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tool {
    /// What stands on the fastener's axis, from the surface under its head outward.
    pub nose: [f64; 2],
    /// The body behind the nose.
    pub body: [f64; 2],
    /// How far the body may lean from the axis, degrees; 0 for a tool that works in line only.
    pub tilt: f64,
    /// On the far side: the diameter, and the length beyond the end of the fastener's own body.
    pub far: [f64; 2],
}

impl Fastener {
    /// Least and greatest thickness that any of its lengths clamps, mm.
    pub fn grip(&self) -> [f64; 2] {
        let least = self.grips.iter().map(|g| g.least).fold(f64::INFINITY, f64::min);
        let most = self.grips.iter().map(|g| g.most).fold(0.0, f64::max);
        [least, most]
    }

    /// The shortest body that clamps this thickness.
    pub fn for_grip(&self, grip: f64) -> Option<&GripRange> {
        self.grips.iter().find(|g| g.least <= grip && grip <= g.most)
    }
}
