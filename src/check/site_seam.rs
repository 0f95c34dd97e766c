//! A cut beside a vertical seam opens the weld, and its heat spoils the next one.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::{NearKind, SEAM_CLEAR};

pub(super) const RULE: Rule = Rule {
    id: "site.seam",
    asks: "every upright cut keeps clear of the vertical seams of the wall",
    limit: "50 mm (warning)",
    source: "common practice: weld, heat zone and the saw's guard",
    remedy: "move the opening by a corrugation, or have the seam made good after the cut",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(cut) = subject.cut() else { return };
    let seams = cut.near.iter().filter(|near| near.kind == NearKind::Seam);
    for seam in seams.filter(|seam| seam.clear < SEAM_CLEAR) {
        let edge = seam.edge.word();
        let by = subject.length(seam.clear);
        let message = format!("the {edge} cut stands {by} from a vertical seam of the wall");
        notes.add(
            Finding::warning(RULE.id, message)
                .about("opening")
                .measured(seam.clear, SEAM_CLEAR, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
        );
    }
}
