//! The kit families listed, and one described for people.

use super::exit::Trouble;
use crate::spec::nearest;
use crate::template::{self, Parameter, ParameterKind, SheetGroup, Template, Thickness};
use crate::units;

/// The family of that name, or what there is instead.
pub(crate) fn family<'f>(families: &'f [Template], name: &str) -> Result<&'f Template, Trouble> {
    let names = || families.iter().map(|family| family.template.name.as_str());
    let found = families.iter().find(|family| family.template.name == name);
    found.ok_or_else(|| {
        let all = names().collect::<Vec<_>>().join(", ");
        let meant = nearest(name, names()).map(|meant| format!("did you mean {meant}? "));
        let help = format!("{}there are: {all}", meant.unwrap_or_default());
        Trouble::unusable("args.no-family", format!("there is no family {name}")).help(help)
    })
}

/// What a family's kit looks like, as lines of text; none where its defaults make no kit.
pub(crate) type Portrait<'a> = dyn Fn(&Template) -> Option<Vec<String>> + 'a;

/// Every family on a line of its own, then a picture of each.
pub(crate) fn list(families: &[Template], portrait: &Portrait) -> String {
    let head = ["family", "title"].map(str::to_owned);
    let rows = families.iter().map(|f| [f.template.name.clone(), f.template.title.clone()]);
    let mut text = table(std::iter::once(head).chain(rows).collect());
    for family in families {
        if let Some(lines) = portrait(family) {
            text += &format!("\n{}\n{}\n", family.template.name, lines.join("\n"));
        }
    }
    text
}

/// A family's purpose, its picture, its parameters and sheets.
pub(crate) fn describe(family: &Template, portrait: &Portrait) -> String {
    let head = &family.template;
    let mut text = format!("{}: {}\n{}\n\n", head.name, head.title, head.about);
    if let Some(lines) = portrait(family) {
        text += &format!("{}\n\n", lines.join("\n"));
    }
    text += &parameters(family);
    text += "\n";
    text += &sheets(family);
    text
}

fn parameters(family: &Template) -> String {
    let head = ["parameter", "kind", "default", "allowed", "help"].map(str::to_owned);
    let rows =
        in_order(family).into_iter().map(|(path, parameter)| parameter_row(&path, parameter));
    table(std::iter::once(head).chain(rows).collect())
}

/// Every parameter by its path, in the order of the family's file.
pub(crate) fn in_order(family: &Template) -> Vec<(String, &Parameter)> {
    let mut all = Vec::new();
    for (group, parameters) in &family.parameters {
        let paths = parameters.iter().map(|(name, said)| (format!("{group}.{name}"), said));
        all.extend(paths);
    }
    all.sort_by_key(|(_, said)| said.span().start);
    all.into_iter().map(|(path, said)| (path, said.get_ref())).collect()
}

fn parameter_row(path: &str, parameter: &Parameter) -> [String; 5] {
    let formula = parameter.default.as_ref().map(|formula| formula.text().to_owned());
    let default = formula.or_else(|| parameter.word.clone());
    [
        path.to_owned(),
        kind(parameter.kind).to_owned(),
        default.unwrap_or_else(|| "(must be given)".to_owned()),
        allowed(parameter),
        parameter.help.clone(),
    ]
}

/// The word for a kind, with the unit of a bare number.
fn kind(kind: ParameterKind) -> &'static str {
    match kind {
        ParameterKind::Length => "length, mm",
        ParameterKind::Angle => "angle, deg",
        ParameterKind::Number => "number",
        ParameterKind::Count => "count",
        ParameterKind::Choice => "choice",
        ParameterKind::Flag => "yes or no",
        ParameterKind::Text => "text",
    }
}

fn allowed(parameter: &Parameter) -> String {
    let limit = |formula: &Option<template::Formula>| formula.as_ref().map(|f| f.text().to_owned());
    match (limit(&parameter.min), limit(&parameter.max)) {
        (Some(min), Some(max)) => format!("{min} to {max}"),
        (Some(min), None) => format!("at least {min}"),
        (None, Some(max)) => format!("at most {max}"),
        (None, None) if parameter.kind == ParameterKind::Flag => "true, false".to_owned(),
        (None, None) => parameter.choices.join(", "),
    }
}

fn sheets(family: &Template) -> String {
    let head = ["sheet", "thickness", "material", "help"].map(str::to_owned);
    let rows = family.sheets.iter().map(|(name, group)| sheet_row(name, group));
    table(std::iter::once(head).chain(rows).collect())
}

fn sheet_row(name: &str, group: &SheetGroup) -> [String; 4] {
    let thickness = match group.thickness.get_ref() {
        Thickness::Number(mm) => format!("{} mm", units::number(*mm, 3)),
        Thickness::Text(text) => text.clone(),
    };
    [name.to_owned(), thickness, group.material.get_ref().clone(), group.help.clone()]
}

/// Rows in columns two spaces apart; the last column runs free.
fn table<const N: usize>(rows: Vec<[String; N]>) -> String {
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max();
    let widths: Vec<usize> = (0..N).map(|column| width(column).unwrap_or(0)).collect();
    let line = |row: &[String; N]| {
        let cells = row.iter().zip(&widths).map(|(cell, &width)| format!("{cell:width$}"));
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned() + "\n"
    };
    rows.iter().map(line).collect()
}
