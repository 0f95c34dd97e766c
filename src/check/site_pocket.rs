//! A fork pocket pierces the bottom rail: nothing may be screwed into its opening.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::{POCKET_CLEAR, Pocket};

pub(super) const RULE: Rule = Rule {
    id: "site.pocket",
    asks: "fasteners into the bottom rail keep clear of the fork pockets under the opening",
    limit: "8.25 mm, 1.5 diameters of a 5.5 mm screw (warning); told where a pocket reaches under the opening (note)",
    source: "EN 1993-1-3 table 8.2, edge distance (from memory); pockets of ISO 1496-1 (from memory)",
    remedy: "leave that fastener out and add one on each side of the pocket",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(cut) = subject.cut() else { return };
    let Some(first) = cut.pockets.first() else { return };
    let distance = |pocket: &Pocket| pocket.fastener.unwrap_or(f64::INFINITY);
    let nearest = cut.pockets.iter().map(distance).fold(f64::INFINITY, f64::min);
    let places: Vec<String> = cut
        .pockets
        .iter()
        .map(|pocket| pocket.x.map(|x| subject.length(x - cut.lines.x[0] + cut.lines.from_left[0])))
        .map(|[from, to]| format!("{from} to {to}"))
        .collect();
    let where_ = format!(
        "{} from the left post, its top {} under the floor",
        places.join(" and "),
        subject.length(-first.z[1])
    );
    let finding = if nearest < POCKET_CLEAR {
        let by = subject.length(nearest);
        let message =
            format!("a fastener into the bottom rail stands {by} from a fork pocket ({where_})");
        Finding::warning(RULE.id, message).measured(nearest, POCKET_CLEAR, "mm").help(RULE.remedy)
    } else {
        let message = format!("the opening stands over a fork pocket ({where_})");
        let help =
            "no forks in the pocket once the opening is cut: the rail over it has lost its wall";
        Finding::note(RULE.id, message).help(help)
    };
    notes.add(finding.about("opening").source(RULE.source));
}
