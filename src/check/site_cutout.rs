//! Someone stands before the panel when it comes out: its mass, who carries it, what holds it.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::{Carried, Cut};
use crate::units::in_kilograms;

pub(super) const RULE: Rule = Rule {
    id: "site.cutout",
    asks: "the cut-out's mass is told, and its holding tabs carry it",
    limit: "25 kg a person (note); tabs 4 times the mass, 2 times mass and wind (warning)",
    source: "ISO 11228-1 reference mass (from memory); common practice for the tabs: a screening",
    remedy: "carry it with a lift, or cut it down in strips while it stands",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    // A kit that is refused is not cut: what stands in its way comes first.
    let Some(cut) = subject.cut().filter(|_| !notes.has_errors()) else { return };
    let panel = &cut.panel;
    let strips = match (panel.carried, panel.strips) {
        (Carried::Lift, n) => format!(", or cut down into {n} strips"),
        _ => String::new(),
    };
    let message = format!(
        "the cut-out weighs {}, paint included: {}{strips}",
        in_kilograms(panel.mass_kg, subject.kit.inches),
        panel.carried.words()
    );
    let limit = 2.0 * crate::site::PERSON_KG;
    let finding = Finding::note(RULE.id, message).about("cut-out");
    notes.add(finding.measured(panel.mass_kg, limit, "kg").source(RULE.source).help(RULE.remedy));
    weak_tabs(cut, notes);
}

fn weak_tabs(cut: &Cut, notes: &mut Notes) {
    let held = [("the last two tabs", cut.holding.hanging), ("all tabs", cut.holding.standing)];
    for (which, [found, limit]) in held {
        if found < limit {
            let message =
                format!("{which} carry the cut-out {found:.1} times over; {limit} is asked");
            notes.add(
                Finding::warning(RULE.id, message)
                    .about("tabs")
                    .measured(found, limit, "")
                    .source(RULE.source)
                    .help("hold the panel by a lift and props before any cut; more tabs"),
            );
        }
    }
}
