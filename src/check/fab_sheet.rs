//! A blank larger than every stock sheet, or than the laser's bed, cannot be cut in one piece.

use super::{Rule, Subject};
use crate::kit::Part;
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
    let mut larger: Vec<Larger> = Vec::new();
    for (part, blank) in subject.kit.parts.iter().zip(subject.blanks) {
        let Some(room) = shop.largest_blank(&part.material.id, part.thickness) else {
            notes.add(out_of_stock(part));
            continue;
        };
        let size = [blank.width.min(blank.height), blank.width.max(blank.height)];
        if (0..2).any(|i| size[i] > room[i] + 1e-6) {
            larger.push(Larger { part, size, room });
        }
    }
    // Parts that one opening makes too long for one sheet have one cause, and are told together.
    while let Some(first) = larger.first() {
        let (own, room) = (|it: &Larger| it.room == first.room, first.room);
        let (told, rest): (Vec<Larger>, Vec<Larger>) = larger.iter().partition(|it| own(it));
        notes.add(too_large(&told, room));
        larger = rest;
    }
}

fn out_of_stock(part: &Part) -> Finding {
    let message = format!(
        "{} ({}): no sheet of {}, {} mm, is in stock",
        part.number, part.name, part.material.title, part.thickness
    );
    Finding::error(RULE.id, message)
        .about(part.number.clone())
        .source(RULE.source)
        .help("choose a material and thickness that the shop stocks")
}

/// A blank that fits no sheet: its shorter and longer side, and the most that there is room for.
#[derive(Clone, Copy)]
struct Larger<'a> {
    part: &'a Part,
    size: [f64; 2],
    room: [f64; 2],
}

/// Says of all parts for which there is the same room that they are larger; the one that is most
/// so is measured.
fn too_large(told: &[Larger], room: [f64; 2]) -> Finding {
    let over = |it: &Larger| (it.size[1] - room[1]).max(it.size[0] - room[0]);
    let most = told.iter().copied().max_by(|a, b| over(a).total_cmp(&over(b)));
    let named = |it: &Larger| {
        let Larger { part, size: [short, long], .. } = it;
        format!("{} ({}): blank of {short:.1} × {long:.1} mm", part.number, part.name)
    };
    let blanks: Vec<String> = told.iter().map(named).collect();
    let message = format!(
        "{}; the largest sheet gives {:.1} × {:.1} mm",
        blanks.join("; "),
        room[0],
        room[1]
    );
    let finding = Finding::error(RULE.id, message).source(RULE.source).help(RULE.remedy);
    let Some(Larger { part, size, .. }) = most else { return finding };
    let side = if room[1] < size[1] { 1 } else { 0 };
    finding.about(part.number.clone()).measured(size[side], room[side], "mm")
}
