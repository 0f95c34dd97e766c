//! What a sheet takes: lengths, pierces, time.

use super::{Figures, Group, Lying, Request};
use crate::cutpath::Tour;
use crate::units;

pub(super) fn figures(request: &Request, group: &Group, lying: &[Lying], tour: &Tour) -> Figures {
    let shop = &request.shelf.shop;
    let blanks = || lying.iter().map(|own| request.wanted[own.wanted].blank);
    let cut_length: f64 = blanks().map(|blank| blank.cut_length).sum();
    let pierces: usize = blanks().map(|blank| blank.pierces).sum();
    let etched: f64 = lying.iter().map(|own| request.wanted[own.wanted].etched).sum();
    let (row, source) = shop.laser.cutting(&group.material.id, group.thickness);
    let work = &shop.sheet_work;
    let seconds = cut_length / row.speed
        + pierces as f64 * row.pierce
        + tour.travel / work.rapid
        + tour.pauses
        + etched / work.etch
        + work.handling;
    let basis = format!(
        "cut at {} mm/s and {} s a pierce ({source}); moves at {} mm/s, etching at {} mm/s, {} s to load and unload ({})",
        units::number(row.speed, 1),
        units::number(row.pierce, 2),
        units::number(work.rapid, 0),
        units::number(work.etch, 0),
        units::number(work.handling, 0),
        work.source
    );
    Figures {
        cut_length,
        pierces,
        travel: tour.travel,
        pauses: tour.pauses,
        etched,
        seconds,
        basis,
        area: blanks().map(|blank| blank.area).sum(),
    }
}
