//! The order in which a kit is built in, from the template.

use toml::Spanned;

use super::desk::Desk;
use super::{Draft, Part, Shape, Step};
use crate::geom::{Point3, SiteFrame};
use crate::template::{StepItem, Template};

/// The template's steps with their numbers in them and the parts by their numbers. Parts, keep-outs
/// and bodies of the draft stand already.
pub(super) fn steps(desk: &mut Desk, template: &Template, draft: &Draft) -> Vec<Step> {
    let mut steps = Vec::new();
    for item in &template.steps {
        if desk.holds(item.when.as_ref()) {
            steps.extend(step(desk, template, item, draft));
        }
    }
    steps
}

fn step(desk: &mut Desk, template: &Template, item: &StepItem, draft: &Draft) -> Option<Step> {
    let parts = numbers(desk, template, &item.parts, &draft.parts);
    let on = numbers(desk, template, &item.on, &draft.parts);
    for name in &item.joints {
        if !template.joints.iter().any(|joint| joint.name.get_ref() == name.get_ref()) {
            unknown(desk, name, "joint");
        }
    }
    Some(Step {
        title: desk.text(&item.title)?,
        text: desk.text(&item.text)?,
        parts,
        cautions: desk.texts(&item.cautions),
        on,
        joints: item.joints.iter().map(|name| name.get_ref().clone()).collect(),
        shows: item.shows.iter().flat_map(|name| shown(desk, template, name, draft)).collect(),
        apart: desk.number_or(item.apart.as_ref(), 0.0)?,
    })
}

/// Numbers of the parts of these names, either hand.
fn numbers(
    desk: &mut Desk,
    template: &Template,
    names: &[Spanned<String>],
    parts: &[Part],
) -> Vec<String> {
    let mut numbers = Vec::new();
    for name in names {
        if !template.parts.iter().any(|part| part.name.get_ref() == name.get_ref()) {
            unknown(desk, name, "part");
        }
        let mine = parts.iter().filter(|part| is_named(part, name.get_ref()));
        numbers.extend(mine.map(|part| part.number.clone()));
    }
    numbers
}

/// The boxes whose names begin so.
fn shown(
    desk: &mut Desk,
    template: &Template,
    name: &Spanned<String>,
    draft: &Draft,
) -> Vec<[Point3<SiteFrame>; 2]> {
    let start = name.get_ref().as_str();
    let mut items = template.keep_outs.iter().chain(&template.bodies);
    if !items.any(|item| item.name.get_ref().starts_with(start)) {
        unknown(desk, name, "body or keep-out");
    }
    let all = draft.keep_outs.iter().chain(&draft.on_site.bodies);
    let boxes = all.filter(|it| it.name.starts_with(start)).filter_map(|it| match it.shape {
        Shape::Box { low, high } => Some([low, high]),
        Shape::Cylinder { .. } | Shape::Swept { .. } => None,
    });
    boxes.collect()
}

fn unknown(desk: &mut Desk, name: &Spanned<String>, what: &str) {
    let message = format!("there is no {what} `{}` in this family", name.get_ref());
    desk.wrong("template.step", name.span(), message);
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
