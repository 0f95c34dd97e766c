//! The order in which a kit is built in, from the template.

use super::desk::Desk;
use super::{Part, Step};
use crate::template::{StepItem, Template};

/// The template's steps with their numbers in them and the parts by their numbers.
pub(super) fn steps(desk: &mut Desk, template: &Template, parts: &[Part]) -> Vec<Step> {
    let mut steps = Vec::new();
    for item in &template.steps {
        if desk.holds(item.when.as_ref()) {
            steps.extend(step(desk, template, item, parts));
        }
    }
    steps
}

fn step(desk: &mut Desk, template: &Template, item: &StepItem, parts: &[Part]) -> Option<Step> {
    let mut numbers = Vec::new();
    for name in &item.parts {
        let known = template.parts.iter().any(|part| part.name.get_ref() == name.get_ref());
        if !known {
            let message = format!("there is no part `{}` in this family", name.get_ref());
            desk.wrong("template.step", name.span(), message);
        }
        let mine = parts.iter().filter(|part| is_named(part, name.get_ref()));
        numbers.extend(mine.map(|part| part.number.clone()));
    }
    Some(Step {
        title: desk.text(&item.title)?,
        text: desk.text(&item.text)?,
        parts: numbers,
        cautions: desk.texts(&item.cautions),
    })
}

/// Whether a part is the one of that name in the template, either hand.
fn is_named(part: &Part, name: &str) -> bool {
    match part.hand {
        Some(hand) => {
            part.name.strip_suffix(hand.word()).and_then(|n| n.strip_suffix('-')) == Some(name)
        }
        None => part.name == name,
    }
}
