//! What the trade takes for granted on site, each number with where it comes from.

/// Density of the wall's steel, kg/m3: handbook value.
pub(super) const STEEL: f64 = 7850.0;

/// Dry paint on both sides together, kg for each m2 of sheet: about 0.1 mm on each side at 1500
/// kg/m3. From memory.
pub(super) const PAINT: f64 = 0.3;

/// What one person may lift, kg: reference mass of ISO 11228-1, from memory.
pub const PERSON_KG: f64 = 25.0;

/// Acceleration of gravity, m/s2.
pub(super) const GRAVITY: f64 = 9.81;

/// Yield strength that a wall's sheet has at least, N/mm2. Weathering sheet has 343; a repaired
/// panel may be plain steel, S235 of EN 10025-2.
pub(super) const YIELD: f64 = 235.0;

/// Width of a holding tab to begin with, mm: common practice, two strokes of a disc.
pub(super) const TAB_WIDTH: f64 = 25.0;

/// Step by which a tab is widened where it would be too weak, mm.
pub(super) const TAB_STEP: f64 = 5.0;

/// Widest tab, mm: beyond, the panel needs another way to be held.
pub(super) const TAB_MOST: f64 = 60.0;

/// The last two tabs hold the panel so many times over: 2 for the jerk when it settles, 2 for
/// safety. Common practice.
pub(super) const HANGING: f64 = 4.0;

/// All tabs together hold weight and wind so many times over. Common practice.
pub(super) const STANDING: f64 = 2.0;

/// Thickest layer of foam sprayed at once, mm: common practice; the maker's data sheet rules.
pub(super) const FOAM_LIFT: f64 = 50.0;

/// Foam beyond what stays: trimmed off, blown past, left in the hose. Common practice.
pub const FOAM_MORE: f64 = 0.15;

/// Diameter of the stop hole in each corner of the cut, mm: lets a saw blade in and ends its kerf.
/// Common practice.
pub const STOP_HOLE: f64 = 10.0;

/// Length of cut that one disc of 125 x 1 mm makes in the wall's sheet, mm. From memory; common
/// practice.
pub(super) const DISC_CUT: f64 = 3000.0;

/// Sealant, tape and paint beyond what stays. Common practice.
pub const BEAD_MORE: f64 = 0.1;

/// What a cartridge of sealant holds, ml: trade size.
pub const CARTRIDGE_ML: f64 = 310.0;

/// Sealant for a hole through the skin, ml. Common practice.
pub(super) const HOLE_ML: f64 = 1.0;

/// Width that is primed along a cut edge on each face, mm. Common practice.
pub(super) const PRIMED: f64 = 50.0;

/// Primer for two coats, l for each m2. Common practice; the maker's data sheet rules.
pub(super) const TWO_COATS: f64 = 0.2;

/// Wind on the panel while it stands cut round, N/mm2 (0.5 kN/m2): the wind in which work stops.
/// Common practice.
pub(super) const WIND: f64 = 0.5e-3;

/// Farthest distance between two tabs along the upper cut, mm. Common practice.
pub(super) const TAB_PITCH: f64 = 1000.0;

/// Farthest distance between two tabs along an upright cut, mm. Common practice.
pub(super) const TAB_RISE: f64 = 1200.0;

/// A cut keeps this from a vertical seam, mm: the weld, its heat zone and the saw's guard. Common
/// practice.
pub const SEAM_CLEAR: f64 = 50.0;

/// A cut keeps this from a corner post, mm: one corrugation, so that post, fitting and their welds
/// keep a whole fold of wall. Common practice, from memory.
pub const POST_CLEAR: f64 = 278.0;

/// More of a wall's length than this taken out is worth a warning: common practice, no standard.
pub const WALL_SHARE: f64 = 0.5;

/// A screw keeps this from the edge of a fork pocket's opening, mm: edge distance of a 5.5 mm
/// screw, 1.5 diameters (EN 1993-1-3 table 8.2, from memory).
pub const POCKET_CLEAR: f64 = 8.25;

/// What the numbers rest on, for people; `{person}` stands for [`PERSON_KG`] in the kit's units.
pub const BASES: [&str; 4] = [
    "Mass: developed sheet at 7850 kg/m3; paint about 0.1 mm a side (from memory). Weigh it if in doubt.",
    "One person lifts {person} at most (ISO 11228-1 reference mass, from memory); more than two people: a lift.",
    "Tabs: a screening, not a proof. Sheet × width at 235 N/mm2: the last two upper tabs carry the mass 4 times, all tabs mass and 0.5 kN/m2 of wind twice.",
    "Places of seams, posts and pockets follow the container's data or survey: find them on the box before marking.",
];
