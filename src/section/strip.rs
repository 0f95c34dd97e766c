//! A strip of a flat part on two edges: plain elastic bending of a rectangle.

use super::judge::{DEFLECTION, Load, MOMENT, figure};
use super::report::{Figure, LoadCase};

/// A strip in its place; mm, N/mm2.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strip {
    /// Between the two edges.
    pub(super) span: f64,
    /// How wide it bears.
    pub(super) width: f64,
    pub(super) thickness: f64,
    /// Greatest deflection.
    pub(super) limit: f64,
    pub(super) yield_strength: f64,
    pub(super) modulus: f64,
}

impl Strip {
    /// Second moment, mm4.
    fn inertia(&self) -> f64 {
        self.section_modulus() * self.thickness / 2.0
    }

    /// Elastic section modulus, mm3.
    fn section_modulus(&self) -> f64 {
        self.width * self.thickness * self.thickness / 6.0
    }

    /// What is so whatever the load.
    pub(super) fn figures(&self) -> Vec<Figure> {
        vec![
            figure(("width", "width that bears"), self.width, "mm", "as declared"),
            figure(("thickness", "thickness"), self.thickness, "mm", "of the sheet"),
            figure(("inertia", "second moment"), self.inertia(), "mm4", "b t³ / 12"),
            figure(("modulus", "section modulus"), self.section_modulus(), "mm3", "b t² / 6"),
        ]
    }

    pub(super) fn load(&self, load: &Load) -> LoadCase {
        let beam = load.on(self.span, 1.0);
        let moment = beam.moment() * load.factor;
        let stress = moment / self.section_modulus();
        let deflection = beam.deflection(self.modulus, self.inertia());
        let mut figures = load.figures();
        figures.extend([
            figure(("moment", "moment"), moment, "N mm", MOMENT),
            figure(("stress", "stress"), stress, "N/mm2", "moment over section modulus"),
            figure(("deflection", "deflection"), deflection, "mm", DEFLECTION),
        ]);
        LoadCase {
            name: load.name.clone(),
            basis: load.basis.clone(),
            figures,
            share: stress / self.yield_strength,
            deflection: Some([deflection, self.limit]),
        }
    }
}
