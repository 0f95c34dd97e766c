//! The piece of wall that comes out: developed, weighed, balanced.

use super::basis::{PAINT, PERSON_KG, STEEL};
use super::{Carried, Lines, Panel, SheetRun, wall_line};
use crate::kit::Wall;
use crate::units;

/// Thickness of the sheet at an X; sheets stand from left to right.
pub(super) fn thickness_at(sheets: &[SheetRun], x: f64) -> f64 {
    let here = sheets.iter().find(|sheet| x < sheet.x[1]).or(sheets.last());
    here.map_or(0.0, |sheet| sheet.thickness)
}

/// The panel between the cut lines, made of the given sheets.
pub(super) fn panel(wall: &Wall, sheets: &[SheetRun], lines: &Lines) -> Panel {
    let mut sum = Sum::default();
    for SheetRun { x: [from, to], thickness } in sheets {
        sum.sheet(&wall_line(wall, *from, *to), *thickness);
    }
    let area = sum.length * lines.height * 1e-6;
    let steel_kg = sum.section * lines.height * STEEL * 1e-9;
    let mass_kg = steel_kg + area * PAINT;
    let two = 2.0 * PERSON_KG;
    Panel {
        developed: sum.length,
        area,
        steel_kg,
        mass_kg,
        centre: [
            sum.moment[0] / sum.section,
            sum.moment[1] / sum.section,
            (lines.z[0] + lines.z[1]) / 2.0,
        ],
        size: [lines.width, sum.deepest, lines.height],
        carried: match mass_kg {
            kg if kg <= PERSON_KG => Carried::TwoEasily,
            kg if kg <= two => Carried::Two,
            _ => Carried::Lift,
        },
        strips: (mass_kg / two).ceil().max(1.0) as usize,
    }
}

/// Sums over the developed sheet in plan.
#[derive(Debug, Default)]
struct Sum {
    /// Developed length, mm.
    length: f64,
    /// Area of the section, mm2.
    section: f64,
    /// Section by its middle's X and Y, mm3.
    moment: [f64; 2],
    /// Farthest Y of the sheet, mm.
    deepest: f64,
}

impl Sum {
    /// Adds a run of one thickness. The middle line of a corrugation is as long as its outer face,
    /// corners taken as sharp: what one corner adds the next takes away.
    fn sheet(&mut self, run: &[[f64; 2]], thickness: f64) {
        for pair in run.windows(2) {
            let ([x0, y0], [x1, y1]) = (pair[0], pair[1]);
            let length = units::hypot(x1 - x0, y1 - y0);
            let section = length * thickness;
            self.length += length;
            self.section += section;
            self.moment[0] += section * (x0 + x1) / 2.0;
            self.moment[1] += section * ((y0 + y1) / 2.0 + thickness / 2.0);
            self.deepest = self.deepest.max(y0.max(y1) + thickness);
        }
    }
}
