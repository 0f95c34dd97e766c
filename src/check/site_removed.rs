//! What an opening takes from wall, rails and roof is told, for the engineer who answers for it.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::{Removed, WALL_SHARE};

pub(super) const RULE: Rule = Rule {
    id: "site.removed",
    asks: "it is told what the opening takes from the wall; no rail is cut and half of the wall stays",
    limit: "half of the length between the posts, no rail cut (warning)",
    source: "common practice, no standard",
    remedy: "have a licensed engineer check racking, rails and roof before the cut",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    // A kit that is refused is not cut: what stands in its way comes first.
    let Some(cut) = subject.cut().filter(|_| !notes.has_errors()) else { return };
    let Removed { flats, of, share, above, below, .. } = cut.removed;
    let percent = share * 100.0;
    let rails = match (above < 0.0, below < 0.0) {
        (false, false) => "no rail is cut",
        (true, false) => "the top rail is cut",
        (false, true) => "the bottom rail is cut",
        (true, true) => "both rails are cut",
    };
    let message = format!(
        "the opening takes {percent:.0} % of the wall between the posts, {flats} of {of} outer flats; \
         {rails}"
    );
    let grave = share > WALL_SHARE || above < 0.0 || below < 0.0;
    let finding =
        if grave { Finding::warning(RULE.id, message) } else { Finding::note(RULE.id, message) };
    notes.add(
        finding
            .about("opening")
            .measured(percent, WALL_SHARE * 100.0, "%")
            .source(RULE.source)
            .help(RULE.remedy),
    );
}
