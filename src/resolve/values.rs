//! Derived values, each worked out when it is first needed, so that their order in the template
//! does not matter; a value that needs itself is a finding.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::note::{Finding, Notes};
use crate::spec::{Given, Spec, nearest};
use crate::template::{Formula, Scope, Template, Value};

/// The derived values of a template while they are worked out.
pub(super) struct Derived<'a> {
    template: &'a Template,
    formulas: BTreeMap<String, &'a Formula>,
    /// Names on the way from the value asked for to the one being worked out.
    trail: Vec<String>,
    /// Names that failed, so that each failure is told once.
    failed: Vec<String>,
}

/// Derived values, the values known so far, and where findings go, while a container is cut.
pub(super) struct Bench<'b, 'a> {
    pub(super) derived: &'b mut Derived<'a>,
    pub(super) scope: &'b mut Scope,
    pub(super) notes: &'b mut Notes,
}

impl Bench<'_, '_> {
    /// Works a formula out to a number, and first what it names.
    pub(super) fn number(&mut self, formula: &Formula) -> Option<f64> {
        self.derived.number(formula, self.scope, self.notes)
    }

    /// Works a formula out to any value, and first what it names.
    pub(super) fn value(&mut self, formula: &Formula) -> Option<Value> {
        self.derived.value(formula, self.scope, self.notes)
    }

    /// Tells of a mistake at a formula.
    pub(super) fn tell(&mut self, check: &'static str, formula: &Formula, message: String) {
        self.derived.tell(check, formula, message, self.notes);
    }
}

impl<'a> Derived<'a> {
    pub(super) fn new(template: &'a Template) -> Self {
        let mut formulas = BTreeMap::new();
        for (group, names) in &template.values {
            for (name, formula) in names {
                formulas.insert(format!("{group}.{name}"), formula);
            }
        }
        Self { template, formulas, trail: Vec::new(), failed: Vec::new() }
    }

    /// Takes the values that the spec overrides as given.
    pub(super) fn override_with(&mut self, spec: &Spec, scope: &mut Scope, notes: &mut Notes) {
        for given in &spec.overrides {
            if !self.formulas.contains_key(&given.path) {
                notes.add(self.unknown_override(given, spec));
                continue;
            }
            if let Some(value) = spec.length(given, notes) {
                scope.set_number(&given.path, value);
            }
        }
    }

    fn unknown_override(&self, given: &Given, spec: &Spec) -> Finding {
        let names = self.formulas.keys().map(String::as_str);
        let finding = Finding::error(
            "spec.unknown-key",
            format!("`{}` is not a derived value of `{}`", given.path, self.template.template.name),
        )
        .about(given.path.clone())
        .at(spec.place(&given.key_span));
        match nearest(&given.path, names) {
            Some(meant) => finding.help(format!("did you mean `{meant}`?")),
            None => finding.help("only derived values of the template can be overridden"),
        }
    }

    /// All names in the order of the template.
    pub(super) fn names(&self) -> Vec<String> {
        let mut names: Vec<(usize, &String)> =
            self.formulas.iter().map(|(name, formula)| (formula.span().start, name)).collect();
        names.sort();
        names.into_iter().map(|(_, name)| name.clone()).collect()
    }

    /// Works a formula out, and first every derived value it names.
    pub(super) fn number(
        &mut self,
        formula: &Formula,
        scope: &mut Scope,
        notes: &mut Notes,
    ) -> Option<f64> {
        self.prepare(formula, scope, notes)?;
        match formula.work_out(scope) {
            Ok(number) => Some(number),
            Err(message) => {
                self.tell("template.formula", formula, message, notes);
                None
            }
        }
    }

    /// Works out a derived value by name and puts it into the scope.
    pub(super) fn work_out(
        &mut self,
        name: &str,
        scope: &mut Scope,
        notes: &mut Notes,
    ) -> Option<()> {
        if scope.get(name).is_some() {
            return Some(());
        }
        let formula = *self.formulas.get(name)?;
        if self.failed.iter().any(|failed| failed == name) {
            return None;
        }
        if self.trail.iter().any(|before| before == name) {
            let ring = format!("{} → {name}", self.trail.join(" → "));
            self.tell("template.loop", formula, format!("`{name}` needs itself: {ring}"), notes);
            self.failed.push(name.to_string());
            return None;
        }
        self.trail.push(name.to_string());
        let value = self.value(formula, scope, notes);
        self.trail.pop();
        if let Some(value) = value {
            scope.set(name, value);
            return Some(());
        }
        self.failed.push(name.to_string());
        None
    }

    fn value(&mut self, formula: &Formula, scope: &mut Scope, notes: &mut Notes) -> Option<Value> {
        self.prepare(formula, scope, notes)?;
        match formula.value(scope) {
            Ok(value) => Some(value),
            Err(message) => {
                self.tell("template.formula", formula, message, notes);
                None
            }
        }
    }

    /// Works out what a formula names; a name that is nothing is a finding.
    fn prepare(&mut self, formula: &Formula, scope: &mut Scope, notes: &mut Notes) -> Option<()> {
        for name in formula.names() {
            if scope.get(&name).is_some() || !name.contains('.') {
                continue;
            }
            if self.formulas.contains_key(&name) {
                self.work_out(&name, scope, notes)?;
                continue;
            }
            let known = self.formulas.keys().map(String::as_str).chain(scope.names());
            let meant = nearest(&name, known).map(|meant| format!("; did you mean `{meant}`?"));
            let message = format!("`{name}` is nothing{}", meant.unwrap_or_default());
            self.tell("template.name", formula, message, notes);
            return None;
        }
        Some(())
    }

    fn tell(&self, check: &'static str, formula: &Formula, message: String, notes: &mut Notes) {
        let place = Some(crate::note::Place {
            file: Arc::clone(&self.template.file),
            span: formula.span(),
        });
        let help = "correct the template, or the value in the spec it follows from";
        notes.add(Finding::error(check, message).at(place).help(help));
    }
}
