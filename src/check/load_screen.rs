//! Loads on the parts that frame an opening: a screen, told with its basis; it approves nothing.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::section::{ADVICE, LoadCase, Screen};

const ID: &str = "load.screen";

pub(super) const RULE: Rule = Rule {
    id: ID,
    asks: "what the family screens stays under yield, buckling and deflection: advice, never approval",
    limit: "yield strength or buckling resistance; span / 200 unless the family says otherwise",
    source: "EN 1993-1-3 with EN 1993-1-5 4.4, or AISI S100; loads are the family's assumptions",
    remedy: "a licensed engineer decides: a thicker sheet, a deeper section or another support",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    // A kit that is refused will be another one.
    if notes.has_errors() {
        return;
    }
    for screen in &subject.strength.screens {
        match screen.worst() {
            Some(load) => notes.add(told(screen, load)),
            None => notes.add(silent(screen)),
        }
    }
}

/// The load that takes most, as a note, or as a warning where it goes beyond a limit.
fn told(screen: &Screen, load: &LoadCase) -> Finding {
    let percent = load.share * 100.0;
    let bent = load.deflection.map_or(String::new(), |[found, limit]| {
        format!(", deflection {found:.1} mm of {limit:.1} mm")
    });
    let outside: String = screen.outside.iter().map(|wide| format!("; {wide}")).collect();
    let message = format!(
        "{} under {}: screened: {percent:.0} % of {}{bent}{outside}. {ADVICE}",
        screen.name,
        load.name,
        screen.share_of(),
    );
    let beyond_strength = 1.0 < load.share;
    let is_beyond = 1.0 < load.worst();
    let finding =
        if is_beyond { Finding::warning(ID, message) } else { Finding::note(ID, message) };
    let measured = match load.deflection {
        Some([found, limit]) if is_beyond && !beyond_strength => {
            finding.measured(found, limit, "mm")
        }
        _ => finding.measured(percent, 100.0, "%"),
    };
    let source = format!("{}; load: {}", screen.rule, load.basis);
    let told = measured.about(screen.part.clone()).source(source);
    if is_beyond { told.help(RULE.remedy) } else { told }
}

/// A screen that could not be made.
fn silent(screen: &Screen) -> Finding {
    let message = format!(
        "{} is not screened: {} names no yield strength, or no load is declared. {ADVICE}",
        screen.name, screen.material
    );
    Finding::note(ID, message)
        .about(screen.part.clone())
        .source(screen.material.clone())
        .help("name a structural grade for this sheet, or have it worked out")
}
