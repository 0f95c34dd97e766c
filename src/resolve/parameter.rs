//! The template's parameters with what the spec gives for them.

use std::sync::Arc;

use crate::note::{Finding, Notes, Place};
use crate::spec::{Given, Spec, nearest, show_length};
use crate::template::{Formula, Parameter, ParameterKind, Scope, Template, Value};
use crate::units;

/// Every parameter of a template by its full name, in the order of the file.
pub(super) fn ordered(template: &Template) -> Vec<(String, &Parameter)> {
    let mut all: Vec<(usize, String, &Parameter)> = Vec::new();
    for (group, names) in &template.parameters {
        for (name, parameter) in names {
            all.push((parameter.span().start, format!("{group}.{name}"), parameter.get_ref()));
        }
    }
    all.sort_by_key(|(start, _, _)| *start);
    all.into_iter().map(|(_, name, parameter)| (name, parameter)).collect()
}

/// Binds every parameter into the scope, in order; findings about unknown, missing, unfit and
/// out-of-range values, all at once.
pub(super) fn bind(template: &Template, spec: &Spec, scope: &mut Scope, notes: &mut Notes) {
    let parameters = ordered(template);
    for given in &spec.given {
        if !parameters.iter().any(|(name, _)| *name == given.path) {
            notes.add(unknown(given, &parameters, template, spec));
        }
    }
    for (name, parameter) in &parameters {
        let binding = Binding { name, parameter, template, spec };
        if let Some(value) = binding.value(scope, notes) {
            binding.within(&value, scope, notes);
            scope.set(name.clone(), value);
        }
    }
}

fn unknown(
    given: &Given,
    parameters: &[(String, &Parameter)],
    template: &Template,
    spec: &Spec,
) -> Finding {
    let family = &template.template.name;
    let finding = Finding::error(
        "spec.unknown-key",
        format!("`{}` is not a parameter of `{family}`", given.path),
    )
    .about(given.path.clone())
    .at(spec.place(&given.key_span));
    let names: Vec<&str> = parameters.iter().map(|(name, _)| name.as_str()).collect();
    match meant(&given.path, &names) {
        Some(meant) => finding.help(format!("did you mean {meant}?")),
        None => finding.help(format!("`blankwright describe {family}` lists the parameters")),
    }
}

/// Tables that a spec may have beside those of its family.
const TABLES: [&str; 6] = ["container", "sheet", "quote", "survey", "sweep", "catalogue"];

/// Most parameters offered for one that is not known.
const OFFERED: usize = 3;

/// What a name that is not known may stand for: a slip of a parameter, a slip of a table, or
/// parameters of another group that end in the same word.
fn meant(path: &str, names: &[&str]) -> Option<String> {
    let (group, name) = path.split_once('.').unwrap_or(("", path));
    let in_group = |own: &&str| own.split_once('.').is_some_and(|(other, _)| other == group);
    let table = || {
        let meant = nearest(group, TABLES)?;
        (!names.iter().any(in_group)).then(|| format!("the table `[{meant}]`"))
    };
    let last = |name: &str| name.rsplit(['.', '_']).next().map(str::to_owned);
    let alike = || {
        let own = names.iter().filter(|own| last(own) == last(name)).take(OFFERED);
        let all: Vec<String> = own.map(|own| format!("`{own}`")).collect();
        (!all.is_empty()).then(|| all.join(" or "))
    };
    let slip = nearest(path, names.iter().copied()).map(|meant| format!("`{meant}`"));
    slip.or_else(table).or_else(alike)
}

/// One parameter while it is bound.
struct Binding<'a> {
    name: &'a str,
    parameter: &'a Parameter,
    template: &'a Template,
    spec: &'a Spec,
}

impl Binding<'_> {
    fn value(&self, scope: &Scope, notes: &mut Notes) -> Option<Value> {
        if let Some(given) = self.spec.given(self.name) {
            return self.given(given, notes);
        }
        if let Some(word) = &self.parameter.word {
            return Some(Value::Text(word.clone()));
        }
        if let Some(formula) = &self.parameter.default {
            return self.work_out(formula, scope, notes);
        }
        let (group, key) = self.name.split_once('.').unwrap_or(("", self.name));
        notes.add(
            Finding::error(
                "spec.missing-key",
                format!("`{}` is missing: {}", self.name, self.parameter.help),
            )
            .about(self.name)
            .at(Some(Place { file: Arc::clone(&self.spec.file), span: 0..0 }))
            .help(format!("write `{key} = …` under `[{group}]`")),
        );
        None
    }

    fn work_out(&self, formula: &Formula, scope: &Scope, notes: &mut Notes) -> Option<Value> {
        match formula.value(scope) {
            Ok(value) => Some(value),
            Err(message) => {
                let place = self.template.place(formula.span());
                notes.add(Finding::error("template.formula", message).at(place));
                None
            }
        }
    }

    fn given(&self, given: &Given, notes: &mut Notes) -> Option<Value> {
        let number = match self.parameter.kind {
            ParameterKind::Length => self.spec.length(given, notes),
            ParameterKind::Angle => self.spec.angle(given, notes),
            ParameterKind::Number => self.spec.number(given, notes),
            ParameterKind::Count => self.count(given, notes),
            ParameterKind::Flag => return self.spec.flag(given, notes).map(Value::Flag),
            ParameterKind::Text => return self.spec.text(given, notes).map(Value::Text),
            ParameterKind::Choice => return self.choice(given, notes),
        };
        number.map(Value::Number)
    }

    fn count(&self, given: &Given, notes: &mut Notes) -> Option<f64> {
        let number = self.spec.number(given, notes)?;
        if number.fract() == 0.0 {
            return Some(number);
        }
        notes.add(
            Finding::error("spec.wrong-type", format!("`{}` is {number}; it counts", self.name))
                .about(self.name)
                .at(self.spec.place(&given.span))
                .help("give a whole number"),
        );
        None
    }

    fn choice(&self, given: &Given, notes: &mut Notes) -> Option<Value> {
        let word = self.spec.text(given, notes)?;
        let choices = &self.parameter.choices;
        if choices.contains(&word) {
            return Some(Value::Text(word));
        }
        let allowed = choices.join(", ");
        let help = match nearest(&word, choices.iter().map(String::as_str)) {
            Some(meant) => format!("did you mean \"{meant}\"? Allowed: {allowed}"),
            None => format!("allowed: {allowed}"),
        };
        notes.add(
            Finding::error("spec.choice", format!("`{}` is \"{word}\"", self.name))
                .about(self.name)
                .at(self.spec.place(&given.span))
                .help(help),
        );
        None
    }

    /// Holds a number against the parameter's limits.
    fn within(&self, value: &Value, scope: &Scope, notes: &mut Notes) {
        let Value::Number(number) = value else { return };
        let limits = [&self.parameter.min, &self.parameter.max].map(|limit| {
            let worked = self.work_out(limit.as_ref()?, scope, notes)?;
            if let Value::Number(limit) = worked { Some(limit) } else { None }
        });
        let low = limits[0].is_some_and(|least| *number < least);
        let high = limits[1].is_some_and(|most| most < *number);
        let broken = if low { limits[0] } else { limits[1] };
        let Some(limit) = broken.filter(|_| low || high) else { return };
        let given = self.spec.given(self.name);
        let place = given.and_then(|given| self.spec.place(&given.span));
        let (word, way) = if low { ("under", "least") } else { ("over", "most") };
        notes.add(
            Finding::error(
                "spec.range",
                format!(
                    "`{}` is {}, {word} the {way} allowed, {}",
                    self.name,
                    self.show(*number),
                    self.show(limit)
                ),
            )
            .about(self.name)
            .at(place.or_else(|| {
                let default = self.parameter.default.as_ref();
                self.template.place(default.map_or(0..0, Formula::span))
            }))
            .measured(*number, limit, self.unit())
            .source(format!("template {}", self.template.template.name))
            .help(self.range(limits)),
        );
    }

    fn range(&self, limits: [Option<f64>; 2]) -> String {
        match limits.map(|limit| limit.map(|limit| self.show(limit))) {
            [Some(low), Some(high)] => format!("give {low} to {high}"),
            [Some(low), None] => format!("give {low} or more"),
            [None, Some(high)] => format!("give {high} or less"),
            [None, None] => String::new(),
        }
    }

    fn unit(&self) -> &'static str {
        match self.parameter.kind {
            ParameterKind::Length => "mm",
            ParameterKind::Angle => "deg",
            _ => "",
        }
    }

    fn show(&self, number: f64) -> String {
        match self.parameter.kind {
            ParameterKind::Length => show_length(number, self.spec.units),
            ParameterKind::Angle => format!("{}°", units::number(number, 3)),
            _ => units::number(number, 6),
        }
    }
}
