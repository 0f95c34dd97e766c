//! A countersink deeper than its sheet opens the hole behind: the head then sits in a knife's
//! edge, or stands proud.

use super::{Rule, Subject};
use crate::kit::HoleShape;
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.countersink",
    asks: "the cone of every countersink ends within its sheet",
    limit: "the sheet's thickness",
    source: "geometry; head and angle from the shop's data",
    remedy: "take a thicker sheet, or a fastener with a low head",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for part in &subject.kit.parts {
        let holes = part.faces.iter().flat_map(|face| &face.holes);
        let depths = holes.filter_map(|hole| match (&hole.shape, hole.sunk) {
            (HoleShape::Round(d), Some(sunk)) => Some((sunk.depth(*d), hole)),
            _ => None,
        });
        let Some((depth, hole)) = depths.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        if depth <= part.thickness {
            continue;
        }
        let message = format!(
            "{} ({}): the countersink for {} is {depth:.1} mm deep in a sheet of {} mm",
            part.number, part.name, hole.purpose, part.thickness
        );
        let found = Finding::error(RULE.id, message).about(part.number.clone());
        let measured = found.measured(depth, part.thickness, "mm").source(RULE.source);
        notes.add(measured.help(RULE.remedy));
    }
}
