//! Every tolerance of the geometry, each with its reason. Millimetres.

/// Two points nearer than this are one: far below what a laser resolves (0.01 mm), far above the
/// rounding of doubles at container size (12 000 mm: about 2e-12).
pub const SAME_POINT: f64 = 1e-7;

/// Greatest sag of a chord that stands for an arc where points are asked for (kit.json's contract).
pub const SAG: f64 = 0.01;

/// Greatest distance between the axes of one joint's holes (contract).
pub const COAXIAL: f64 = 0.05;

/// Greatest difference from the stated gap between two joined faces.
pub const CONTACT: f64 = 0.05;

/// How far the two descriptions of a bend's end, by its parent and by its child, may differ: they
/// are worked out along different chains of sums.
pub const SIDE_MATCH: f64 = 1e-6;

/// Two faces are parallel when the sine of the angle between their normals is less: 0.05 degrees,
/// which over a joint's 100 mm comes to less than 0.1 mm.
pub const PARALLEL: f64 = 8.7e-4;

/// Grid on which parts shared by the kits of a catalogue are drawn: far below [`SAME_POINT`], so
/// that what touches goes on touching, and far above the rounding of doubles.
pub const EXACT: f64 = 1e-8;

/// The same for holes and marks, which touch nothing: coarser, since a hole is carried through
/// space from one part to another; far below what is lasered (0.01 mm) and [`COAXIAL`].
pub const EXACT_HOLE: f64 = 1e-5;
