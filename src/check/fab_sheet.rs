//! A blank larger than every stock sheet, or than the laser's bed, cannot be cut in one piece.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fab.sheet",
    asks: "every blank fits a stock sheet of its material and thickness, margins kept, and the laser's bed",
    limit: "stock sizes less the margin; the laser's bed",
    source: "the shop's data",
    remedy: "make the opening smaller, stock a longer sheet, or split the part",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let shop = &subject.shelf.shop;
    for (part, blank) in subject.kit.parts.iter().zip(subject.blanks) {
        let (short, long) = (blank.width.min(blank.height), blank.width.max(blank.height));
        let best = shop.largest_blank(&part.material.id, part.thickness);
        let Some(room) = best else {
            notes.add(
                Finding::error(
                    RULE.id,
                    format!(
                        "{} ({}): no sheet of {}, {} mm, is in stock",
                        part.number, part.name, part.material.title, part.thickness
                    ),
                )
                .about(part.number.clone())
                .source(RULE.source)
                .help("choose a material and thickness that the shop stocks"),
            );
            continue;
        };
        if short <= room[0] + 1e-6 && long <= room[1] + 1e-6 {
            continue;
        }
        let (found, limit) = if room[1] < long { (long, room[1]) } else { (short, room[0]) };
        notes.add(
            Finding::error(
                RULE.id,
                format!(
                    "{} ({}): blank of {short:.1} × {long:.1} mm; the largest sheet gives {:.1} × {:.1} mm",
                    part.number, part.name, room[0], room[1]
                ),
            )
            .about(part.number.clone())
            .measured(found, limit, "mm")
            .source(RULE.source)
            .help(RULE.remedy),
        );
    }
}
