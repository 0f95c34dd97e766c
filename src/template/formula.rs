//! Formulas: compiled once, worked out over named values.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::{Arc, LazyLock};

use minijinja::value::{Object, Value as Dynamic};
use minijinja::{Environment, Error, ErrorKind, Expression, State, UndefinedBehavior};

use super::Value;
use crate::units;

static LANGUAGE: LazyLock<Environment<'static>> = LazyLock::new(language);

/// The functions a formula may use: angles in degrees, lengths in millimetres.
fn language() -> Environment<'static> {
    let mut language = Environment::empty();
    language.set_undefined_behavior(UndefinedBehavior::Strict);
    language.add_function("sin", |a: f64| units::sin_deg(a));
    language.add_function("cos", |a: f64| units::cos_deg(a));
    language.add_function("tan", |a: f64| units::tan_deg(a));
    language.add_function("atan", |r: f64| units::atan_deg(r));
    language.add_function("sqrt", |v: f64| v.sqrt());
    language.add_function("abs", |v: f64| v.abs());
    language.add_function("floor", |v: f64| v.floor());
    language.add_function("ceil", |v: f64| v.ceil());
    language.add_function("round", |v: f64| v.round());
    language.add_function("inch", |v: f64| v * units::INCH);
    language.add_function("min", |v: minijinja::value::Rest<f64>| {
        v.iter().copied().fold(f64::INFINITY, f64::min)
    });
    language.add_function("max", |v: minijinja::value::Rest<f64>| {
        v.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    });
    language.add_filter("len", length);
    language.add_filter("mass", mass);
    language.add_filter("whole", |v: f64| trimmed(v, 0));
    language
}

/// Name of the flag in a scope that says whether people read inches.
pub(crate) const IN_INCHES: &str = "units.inches";

/// Whether the spec's readers read inches.
fn in_inches(state: &State) -> bool {
    let units = state.lookup("units").and_then(|units| units.get_attr("inches").ok());
    units.is_some_and(|inches| inches.is_true())
}

/// A length for a sentence, with its unit as the spec's readers read it.
fn length(state: &State, mm: f64) -> String {
    if in_inches(state) {
        format!("{} in ({} mm)", trimmed(mm / units::INCH, 2), trimmed(mm, 1))
    } else {
        format!("{} mm", trimmed(mm, 1))
    }
}

/// A mass for a sentence, with its unit as the spec's readers read it.
fn mass(state: &State, kg: f64) -> String {
    units::in_kilograms(kg, in_inches(state))
}

/// A number for a sentence: at most `decimals`, no trailing zeros.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_string() } else { text.to_string() }
}

/// A formula as it stands in a template.
#[derive(Debug, Clone)]
pub struct Formula {
    text: String,
    span: Range<usize>,
    kind: Kind,
}

#[derive(Clone)]
enum Kind {
    Constant(f64),
    Flag(bool),
    Expression(Arc<Expression<'static, 'static>>),
}

impl std::fmt::Debug for Kind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Kind::Constant(number) => write!(f, "{number}"),
            Kind::Flag(flag) => write!(f, "{flag}"),
            Kind::Expression(_) => write!(f, "expression"),
        }
    }
}

impl Formula {
    /// A plain number.
    pub fn number(value: f64, span: Range<usize>) -> Self {
        Self { text: value.to_string(), span, kind: Kind::Constant(value) }
    }

    /// A plain yes or no.
    pub fn flag(value: bool, span: Range<usize>) -> Self {
        Self { text: value.to_string(), span, kind: Kind::Flag(value) }
    }

    /// Compiles a text; the error says what is wrong with it.
    pub fn compile(text: &str, span: Range<usize>) -> Result<Self, String> {
        let expression = LANGUAGE
            .compile_expression_owned(text.to_string())
            .map_err(|error| explain(&error, text))?;
        Ok(Self { text: text.to_string(), span, kind: Kind::Expression(Arc::new(expression)) })
    }

    /// The formula as written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where it stands in the template.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// The names it uses.
    pub fn names(&self) -> Vec<String> {
        let Kind::Expression(expression) = &self.kind else { return Vec::new() };
        let mut names: Vec<String> = expression.undeclared_variables(true).into_iter().collect();
        names.sort();
        names
    }

    /// Works it out to any value.
    pub fn value(&self, scope: &Scope) -> Result<Value, String> {
        match &self.kind {
            Kind::Constant(number) => Ok(Value::Number(*number)),
            Kind::Flag(flag) => Ok(Value::Flag(*flag)),
            Kind::Expression(expression) => {
                let context = Dynamic::from_object(scope.clone());
                let value = expression.eval(context).map_err(|e| explain(&e, &self.text))?;
                self.plain(&value)
            }
        }
    }

    fn plain(&self, value: &Dynamic) -> Result<Value, String> {
        if let Ok(flag) = bool::try_from(value.clone()) {
            return Ok(Value::Flag(flag));
        }
        if let Some(text) = value.as_str() {
            return Ok(Value::Text(text.to_string()));
        }
        match f64::try_from(value.clone()) {
            Ok(number) if number.is_finite() => Ok(Value::Number(number)),
            Ok(number) => Err(format!("`{}` comes to {number}: a division by zero?", self.text)),
            Err(_) => Err(format!("`{}` gives neither a number, a text nor yes or no", self.text)),
        }
    }

    /// Works it out to a number.
    pub fn work_out(&self, scope: &Scope) -> Result<f64, String> {
        match self.value(scope)? {
            Value::Number(number) => Ok(number),
            Value::Flag(flag) => Err(format!("`{}` is {flag}; it must be a number", self.text)),
            Value::Text(text) => Err(format!("`{}` is \"{text}\"; it must be a number", self.text)),
        }
    }

    /// Works it out to yes or no.
    pub fn holds(&self, scope: &Scope) -> Result<bool, String> {
        match self.value(scope)? {
            Value::Flag(flag) => Ok(flag),
            Value::Number(number) => {
                Err(format!("`{}` is {number}; it must be true or false", self.text))
            }
            Value::Text(text) => {
                Err(format!("`{}` is \"{text}\"; it must be true or false", self.text))
            }
        }
    }
}

/// A text of a template with `{{ formulas }}` in it, worked out.
pub(crate) fn render(text: &str, scope: &Scope) -> Result<String, String> {
    if !text.contains("{{") {
        return Ok(text.to_string());
    }
    LANGUAGE
        .render_str(text, Dynamic::from_object(scope.clone()))
        .map_err(|error| explain(&error, text))
}

/// An error of the formula language in one sentence.
fn explain(error: &Error, text: &str) -> String {
    match error.kind() {
        ErrorKind::UndefinedError => format!("`{text}` names a value that does not exist"),
        ErrorKind::SyntaxError => {
            let detail = error.detail().unwrap_or("it cannot be read");
            format!("`{text}` is not a formula: {detail}")
        }
        _ => {
            let detail = error.detail().map_or_else(|| error.to_string(), str::to_string);
            format!("`{text}` cannot be worked out: {detail}")
        }
    }
}

/// Named values: `group.name` or a plain name.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    values: Arc<BTreeMap<String, Value>>,
    prefix: String,
}

impl Scope {
    /// Names a value, or gives a name another value.
    pub fn set(&mut self, name: impl Into<String>, value: Value) {
        Arc::make_mut(&mut self.values).insert(name.into(), value);
    }

    /// Names a number.
    pub fn set_number(&mut self, name: &str, value: f64) {
        self.set(name, Value::Number(value));
    }

    /// The value of a full name.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.values.get(name)
    }

    /// The number behind a full name.
    pub fn number(&self, name: &str) -> Option<f64> {
        match self.get(name) {
            Some(Value::Number(number)) => Some(*number),
            _ => None,
        }
    }

    /// All full names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.values.keys().map(String::as_str)
    }
}

impl Object for Scope {
    fn get_value(self: &Arc<Self>, key: &Dynamic) -> Option<Dynamic> {
        let name = format!("{}{}", self.prefix, key.as_str()?);
        match self.values.get(&name) {
            Some(Value::Number(number)) => Some(Dynamic::from(*number)),
            Some(Value::Text(text)) => Some(Dynamic::from(text.clone())),
            Some(Value::Flag(flag)) => Some(Dynamic::from(*flag)),
            None => {
                let prefix = format!("{name}.");
                let (first, _) = self.values.range(prefix.clone()..).next()?;
                first
                    .starts_with(&prefix)
                    .then(|| Dynamic::from_object(Scope { values: self.values.clone(), prefix }))
            }
        }
    }
}
