//! A corner post needs the fold of wall beside it: it braces the post and carries its welds.

use super::{Rule, Subject};
use crate::note::{Finding, Notes};
use crate::site::{NearKind, POST_CLEAR};

pub(super) const RULE: Rule = Rule {
    id: "site.post",
    asks: "every upright cut leaves a fold of the wall beside the corner posts",
    limit: "278 mm, one corrugation (warning)",
    source: "common practice, from memory: nothing is cut in the zone of post and fitting without an engineer",
    remedy: "move the opening away from the post, or have an engineer release it",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(cut) = subject.cut() else { return };
    let posts = cut.near.iter().filter(|near| near.kind == NearKind::Post);
    for post in posts.filter(|post| post.clear < POST_CLEAR) {
        let by = subject.length(post.clear);
        let message = format!("the {} cut stands {by} from the {}", post.edge.word(), post.name);
        notes.add(
            Finding::warning(RULE.id, message)
                .about("opening")
                .measured(post.clear, POST_CLEAR, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
        );
    }
}
