//! What a shop may want on layers of its own: lead-ins in the waste, the places where an outline
//! stays whole to hold its part, and cuts that divide what is left of the sheet.

use super::rings::Rings;
use super::skeleton::skeleton;
use super::tabs::tabs;
use super::{CutSheet, Extras, Request};

/// The lines of the layers that the shop asks for.
pub(super) fn extras(request: &Request, sheet: &CutSheet) -> Extras {
    let work = &request.shelf.shop.sheet_work;
    let rings = Rings::of(&request.wanted, &sheet.lying, sheet.board.size);
    let mut extras = Extras::default();
    if let Some(lead) = &work.lead_in {
        let found = sheet
            .cuts
            .iter()
            .map(|cut| rings.lead_in(rings.index(cut.lying, cut.hole), cut.start, lead.size));
        extras.lead_ins = found.collect();
    }
    if let Some(tab) = &work.tab {
        let blanks = sheet.lying.iter().enumerate();
        let found = blanks.flat_map(|(index, own)| {
            tabs(&request.wanted, (own, rings.of_blank(index)), (tab.size, tab.every))
        });
        extras.tabs = found.collect();
    }
    if let Some(own) = &work.skeleton {
        extras.skeleton = skeleton(sheet, &rings, (own.size, own.every));
    }
    extras
}
