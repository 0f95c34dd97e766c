//! Over the gooseneck tunnel the floor stands on other members than elsewhere.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::NearKind;

pub(super) const RULE: Rule = Rule {
    id: "site.gooseneck",
    asks: "it is told when the opening stands beside the gooseneck tunnel",
    limit: "none (note)",
    source: "ISO 1496-1, annex on the tunnel (from memory)",
    remedy: "look under the floor before screwing into it, and keep heavy wheels off the tunnel's plate unless an engineer agrees",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(cut) = subject.cut() else { return };
    let tunnel = cut.near.iter().find(|near| near.kind == NearKind::Gooseneck);
    let Some(tunnel) = tunnel.filter(|tunnel| tunnel.clear < 0.0) else { return };
    let over = subject.length(-tunnel.clear);
    let message = format!(
        "over {over} of its width the opening stands beside the gooseneck tunnel: the middle of the \
         floor behind it lies on the tunnel's plate, not on full cross members"
    );
    notes.add(
        Finding::note(RULE.id, message).about("opening").source(RULE.source).help(RULE.remedy),
    );
}
