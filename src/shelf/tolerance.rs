//! What the shop's laser and brake hold: limits of laser cuts by ISO 9013, of bends by the shop's
//! own word.
//!
//! A class's limits grow with the size measured. They are carried as two independent errors: each
//! hole stands off its place by itself (`hole_position`), and the whole blank is a little too long
//! or too short (`stretch`: heat of cutting and the machine's scale). Two holes a distance L apart
//! then differ by `sqrt(2 position^2 + (stretch L)^2)`, which meets the class's row at 35 to 125 mm
//! and at 2 to 4 m exactly, and between within 0.07 mm.

/// Upper ends of the ranges of size, mm (ISO 9013:2017, basic dimensions).
const RANGES: [f64; 10] = [3.0, 10.0, 35.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0, 6000.0, 8000.0];

/// Limits +- in mm for the two classes, sheets over 1 to 3.15 mm (common practice reads the row so;
/// the edition of 2002 rounds to tenths). The row is taken for every sheet.
const CLASSES: [[f64; 10]; 2] = [
    [0.1, 0.15, 0.2, 0.25, 0.25, 0.35, 0.4, 0.65, 1.0, 1.75],
    [0.6, 0.6, 0.7, 0.7, 0.8, 0.9, 1.0, 1.1, 1.4, 1.4],
];

/// The limit of a laser cut by ISO 9013:2017, +- mm, for a size in mm and a class of 1 or 2.
/// Beyond 8 m the last range goes on.
pub fn laser_limit(class: u8, size: f64) -> f64 {
    let column = RANGES.iter().position(|most| size <= *most).unwrap_or(RANGES.len() - 1);
    CLASSES[usize::from(class != 1)][column]
}

/// How errors lie within their limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// Normally, the limit at three standard deviations.
    Normal,
    /// Evenly, none beyond the limit.
    Uniform,
}

impl Spread {
    /// The standard deviation of an error with this limit.
    pub fn deviation(self, limit: f64) -> f64 {
        match self {
            Spread::Normal => limit / 3.0,
            Spread::Uniform => limit / 3f64.sqrt(),
        }
    }

    /// The word for it in the shop's file.
    pub fn word(self) -> &'static str {
        match self {
            Spread::Normal => "normal",
            Spread::Uniform => "uniform",
        }
    }
}

/// What the shop holds. Limits are +-.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// Class of the laser's cuts by ISO 9013, 1 or 2.
    pub laser_class: u8,
    /// A hole's centre along either axis, mm.
    pub hole_position: f64,
    /// Length of a blank, mm a metre.
    pub stretch: f64,
    /// A hole's diameter, mm; by the class and the hole's own size where the shop says nothing.
    pub hole_size: Option<f64>,
    /// A bend's angle, degrees.
    pub bend_angle: f64,
    /// A bend line's place on the blank, across the line, mm.
    pub bend_line: f64,
    /// How far a fitter opens or closes a bend by hand to bring holes together, degrees.
    pub give: f64,
    /// How errors lie within their limits.
    pub spread: Spread,
    /// Where these come from.
    pub source: String,
}

impl Tolerance {
    /// The limit of a hole's centre against its neighbours that a class stands for, mm.
    pub fn class_position(class: u8) -> f64 {
        laser_limit(class, 125.0) / 2f64.sqrt()
    }

    /// The limit of a blank's stretch that a class stands for, mm a metre.
    pub fn class_stretch(class: u8) -> f64 {
        let (near, far) = (laser_limit(class, 125.0), laser_limit(class, 3000.0));
        (far * far - near * near).sqrt() / 3.0
    }

    /// The limit of a hole's diameter, mm.
    pub fn size_of(&self, diameter: f64) -> f64 {
        self.hole_size.unwrap_or_else(|| laser_limit(self.laser_class, diameter))
    }
}
