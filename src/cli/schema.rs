//! The JSON schema of specs, with one family's parameters, for editors.

use serde_json::{Value, json};

use super::families::in_order;
use crate::spec;
use crate::template::{Formula, Parameter, ParameterKind, Template};

/// The schema of every spec; of one family's alone when that is given: then its parameters are
/// known and no other group is allowed.
pub(crate) fn schema(family: Option<&Template>) -> String {
    let mut schema = spec::schema();
    if let Some(family) = family {
        narrow(&mut schema, family);
    }
    format!("{:#}\n", spec::with_several(schema))
}

fn narrow(schema: &mut Value, family: &Template) {
    schema["title"] = json!(format!("Spec of the kit family {}", family.template.name));
    schema["description"] = json!(family.template.about);
    schema["properties"]["template"] = json!({ "const": family.template.name });
    schema["additionalProperties"] = json!(false);
    for (path, parameter) in in_order(family) {
        let Some((group, name)) = path.split_once('.') else { continue };
        let known = &mut schema["properties"][group];
        if known.is_null() {
            *known = json!({ "type": "object", "properties": {}, "additionalProperties": false });
        }
        known["properties"][name] = value_of(parameter);
        if must_be_given(parameter) {
            require(known, name);
            require(schema, group);
        }
    }
}

fn must_be_given(parameter: &Parameter) -> bool {
    parameter.default.is_none() && parameter.word.is_none()
}

/// Adds a name to the list of those that must be there.
fn require(object: &mut Value, name: &str) {
    let mut names = object["required"].as_array().cloned().unwrap_or_default();
    if !names.iter().any(|known| known == name) {
        names.push(json!(name));
    }
    object["required"] = Value::Array(names);
}

fn value_of(parameter: &Parameter) -> Value {
    let mut value = match parameter.kind {
        ParameterKind::Length => json!({ "$ref": "#/$defs/length" }),
        ParameterKind::Angle => json!({ "$ref": "#/$defs/angle" }),
        ParameterKind::Number => limited("number", parameter),
        ParameterKind::Count => limited("integer", parameter),
        ParameterKind::Choice => json!({ "enum": parameter.choices }),
        ParameterKind::Flag => json!({ "type": "boolean" }),
        ParameterKind::Text => json!({ "type": "string" }),
    };
    value["description"] = json!(parameter.help);
    if let Some(default) = default(parameter) {
        value["default"] = default;
    }
    value
}

/// A number within those limits that are numbers themselves; others depend on what else is given.
fn limited(kind: &str, parameter: &Parameter) -> Value {
    let mut value = json!({ "type": kind });
    for (key, limit) in [("minimum", &parameter.min), ("maximum", &parameter.max)] {
        if let Some(number) = limit.as_ref().and_then(number) {
            value[key] = number;
        }
    }
    value
}

fn default(parameter: &Parameter) -> Option<Value> {
    match (&parameter.word, &parameter.default) {
        (Some(word), _) => Some(json!(word)),
        (None, Some(formula)) if parameter.kind == ParameterKind::Flag => {
            formula.text().parse().ok().map(Value::Bool)
        }
        (None, formula) => formula.as_ref().and_then(number),
    }
}

/// The number a formula is, when it is nothing but one; whole numbers without a point.
fn number(formula: &Formula) -> Option<Value> {
    serde_json::from_str(formula.text()).ok().filter(Value::is_number)
}
