//! The trade's rules as the template states them.

use super::{Rule, Subject};
use crate::kit::Desk;
use crate::note::{Finding, Notes};
use crate::template::{Gravity, Requirement};

pub(super) const RULE: Rule = Rule {
    id: "require",
    asks: "every requirement of the template holds",
    limit: "what each requirement states",
    source: "named by each requirement",
    remedy: "as the requirement says",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(asked) = subject.asked else { return };
    let template = asked.template;
    let scope = asked.resolved.scope.clone();
    let mut desk = Desk { file: template.file.clone(), scope, notes };
    for requirement in &template.requirements {
        if desk.holds(requirement.when.as_ref()) {
            ask(&mut desk, requirement);
        }
    }
}

/// Holds one requirement against its limits. `None` when a formula failed, which is told.
fn ask(desk: &mut Desk, requirement: &Requirement) -> Option<()> {
    let found = desk.number(&requirement.found)?;
    let least = match &requirement.at_least {
        Some(formula) => Some(desk.number(formula)?),
        None => None,
    };
    let most = match &requirement.at_most {
        Some(formula) => Some(desk.number(formula)?),
        None => None,
    };
    let low = least.filter(|least| found + 1e-9 < *least);
    let high = most.filter(|most| *most < found - 1e-9);
    let limit = low.or(high)?;
    let (message, help) = (desk.text(&requirement.message)?, desk.text(&requirement.help)?);
    let check = "require";
    let finding = match requirement.severity {
        Gravity::Error => Finding::error(check, message),
        Gravity::Warning => Finding::warning(check, message),
        Gravity::Note => Finding::note(check, message),
    };
    let unit = match requirement.unit.as_str() {
        "mm" => "mm",
        "deg" => "deg",
        "kg" => "kg",
        _ => "",
    };
    let finding = finding
        .about(requirement.id.get_ref().clone())
        .measured(found, limit, unit)
        .source(requirement.source.clone())
        .help(help);
    desk.notes.add(finding);
    Some(())
}
